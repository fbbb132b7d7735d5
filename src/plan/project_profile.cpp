#include "plan/project_profile.hpp"

#include <algorithm>
#include <bit>

namespace rollwright::plan {
namespace {

struct Field {
  std::size_t word = 0;
  int shift = 0;
  int width = 0;  // without the guard bit
};

/// Fields in resource order; one that would straddle two words starts the next word.
std::vector<Field> lay_out(const Project& project) {
  std::vector<Field> fields;
  Field next;
  for (int k = 0; k < project.resources(); ++k) {
    next.width = std::bit_width(static_cast<unsigned>(project.capacity(k)));
    if (next.shift + next.width + 1 > 64) {
      ++next.word;
      next.shift = 0;
    }
    fields.push_back(next);
    next.shift += next.width + 1;
  }
  return fields;
}

}  // namespace

ProjectProfile::ProjectProfile(const Project& project)
    : needs_(static_cast<std::size_t>(project.size())) {
  const std::vector<Field> fields = lay_out(project);
  words_ = fields.empty() ? 1 : fields.back().word + 1;
  guard_.assign(words_, 0);
  full_.assign(words_, 0);
  demand_.assign(words_ * needs_.size(), 0);
  for (int k = 0; k < project.resources(); ++k) {
    const Field& field = fields[static_cast<std::size_t>(k)];
    const std::uint64_t bit = std::uint64_t{1} << (field.shift + field.width);
    guard_[field.word] |= bit;
    full_[field.word] |= bit | static_cast<std::uint64_t>(project.capacity(k)) << field.shift;
    for (int i = 0; i < project.size(); ++i) {
      demand_[static_cast<std::size_t>(i) * words_ + field.word] |=
          static_cast<std::uint64_t>(project.demand(i, k)) << field.shift;
    }
  }
  for (int i = 0; i < project.size(); ++i) {
    Need& need = needs_[static_cast<std::size_t>(i)];
    need.duration = project.duration(i);
    for (int k = 0; k < project.resources(); ++k) need.any |= project.demand(i, k) > 0;
    need.any &= need.duration > 0;
  }
  free_.resize(static_cast<std::size_t>(project.total_duration()) * words_);
  used_ = static_cast<std::size_t>(project.total_duration());
  clear();
}

void ProjectProfile::clear() {
  if (words_ == 1) {
    std::fill_n(free_.begin(), used_, full_[0]);
  } else {
    for (std::size_t unit = 0; unit < used_; ++unit) {
      std::copy(full_.begin(), full_.end(),
                free_.begin() + static_cast<std::ptrdiff_t>(unit * words_));
    }
  }
  used_ = 0;
}

int ProjectProfile::place(int activity, int earliest) {
  const auto index = static_cast<std::size_t>(activity);
  const Need need = needs_[index];
  if (!need.any) return earliest;
  const int start = words_ == 1
                        ? place_in_one_word(demand_[index], need.duration, earliest)
                        : place_in_many_words(&demand_[index * words_], need.duration, earliest);
  used_ = std::max(used_, static_cast<std::size_t>(start + need.duration));
  return start;
}

// Looking from the last unit back: the first unit that refuses rules out every start up to itself.
int ProjectProfile::place_in_one_word(std::uint64_t demand, int duration, int earliest) {
  const std::uint64_t guard = guard_[0];
  int start = earliest;
  int unit = start + duration - 1;
  int checked = start;  // units from `start` to below this are still to be looked at
  while (unit >= checked) {
    if (((free_[static_cast<std::size_t>(unit)] - demand) & guard) == guard) {
      --unit;
      continue;
    }
    checked = start + duration;  // units between the refusing one and this are known to be free
    start = unit + 1;
    unit = start + duration - 1;
  }
  for (int t = start; t < start + duration; ++t) free_[static_cast<std::size_t>(t)] -= demand;
  return start;
}

int ProjectProfile::place_in_many_words(const std::uint64_t* demand, int duration, int earliest) {
  const auto fits = [&](int unit) {
    const std::uint64_t* free = &free_[static_cast<std::size_t>(unit) * words_];
    std::uint64_t borrowed = 0;
    for (std::size_t w = 0; w < words_; ++w) borrowed |= ~(free[w] - demand[w]) & guard_[w];
    return borrowed == 0;
  };
  int start = earliest;
  for (int unit = start; unit < start + duration; ++unit) {
    if (!fits(unit)) start = unit + 1;
  }
  for (int unit = start; unit < start + duration; ++unit) {
    std::uint64_t* free = &free_[static_cast<std::size_t>(unit) * words_];
    for (std::size_t w = 0; w < words_; ++w) free[w] -= demand[w];
  }
  return start;
}

}  // namespace rollwright::plan
