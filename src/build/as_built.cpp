#include "build/as_built.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/result.hpp"
#include "base/text.hpp"

namespace rollwright::build {
namespace {

using trade::MakerLine;
using Lines = std::vector<MakerLine>;

/// Whether the list states an option of the order otherwise, rather than one beside it.
bool contradicts(const MakerLine& ordered, const MakerLine& listed) {
  const auto wanted = trade::options_of(ordered.options);
  return std::ranges::any_of(trade::options_of(listed.options), [&wanted](const auto& given) {
    const auto asked = wanted.find(given.first);
    return asked != wanted.end() && asked->second != given.second;
  });
}

bool same_thing(const MakerLine& a, const MakerLine& b) {
  if (!a.part.empty() && !b.part.empty()) return a.part == b.part;
  const std::string article = trade::plain_words(a.article);
  if (a.part.empty() && b.part.empty() && article.empty()) {
    return trade::plain_words(b.article).empty();  // settings
  }
  return !article.empty() && article == trade::plain_words(b.article);
}

std::string shown_value(const std::string& value) { return value.empty() ? "yes" : value; }

/// A setting is its whole value; leaving it out is no answer.
std::vector<std::string> setting_details(const MakerLine& ordered, const MakerLine& listed) {
  if (trade::plain_words(ordered.options) == trade::plain_words(listed.options)) return {};
  return {fmt::format("{} instead of {}", shown_value(listed.options), ordered.options)};
}

std::vector<std::string> option_details(const MakerLine& ordered, const MakerLine& listed) {
  if (trade::is_setting(ordered.position)) return setting_details(ordered, listed);
  const auto wanted = trade::options_of(ordered.options);
  const auto given = trade::options_of(listed.options);
  std::vector<std::string> details;
  for (const auto& [name, value] : given) {
    const auto asked = wanted.find(name);
    if (asked == wanted.end()) {
      details.push_back(fmt::format("{}: {}, which was not ordered", name, shown_value(value)));
    } else if (asked->second != value) {
      details.push_back(fmt::format("{}: {} instead of {}", name, shown_value(value),
                                    shown_value(asked->second)));
    }
  }
  return details;
}

std::string pieces(int count) { return count == 1 ? "1 piece" : fmt::format("{} pieces", count); }

/// Lines of one position, equal ones made one.
Lines at_position(const Lines& lines, const std::string& position) {
  Lines found;
  for (const MakerLine& line : lines) {
    if (line.position != position) continue;
    const auto like = std::ranges::find_if(found, [&line](const MakerLine& other) {
      return same_thing(line, other) &&
             trade::options_of(line.options) == trade::options_of(other.options);
    });
    if (like == found.end()) {
      found.push_back(line);
    } else {
      like->quantity += line.quantity;
    }
  }
  return found;
}

std::vector<std::string> positions_of(const Lines& ordered, const Lines& listed) {
  std::vector<std::string> positions;
  for (const Lines* lines : {&ordered, &listed}) {
    for (const MakerLine& line : *lines) {
      if (std::ranges::count(positions, line.position) == 0) positions.push_back(line.position);
    }
  }
  return positions;
}

ComparedLine paired(const MakerLine& ordered, const MakerLine& listed) {
  ComparedLine line{.position = ordered.position, .ordered = ordered, .listed = listed,
                    .contradicts = false, .details = option_details(ordered, listed)};
  if (!line.details.empty()) line.differs = Differs::kOtherOption;
  line.contradicts = !trade::is_setting(ordered.position) && contradicts(ordered, listed);
  if (!same_thing(ordered, listed)) line.differs = Differs::kOtherPart;
  if (ordered.quantity != listed.quantity) {
    line.details.push_back(fmt::format("{} instead of {}", pieces(listed.quantity),
                                       ordered.quantity));
    if (line.differs == Differs::kSame) line.differs = Differs::kOtherQuantity;
  }
  return line;
}

class Position {
 public:
  Position(Lines ordered, Lines listed)
      : ordered_(std::move(ordered)), listed_(std::move(listed)) {}

  std::vector<ComparedLine> compared() {
    pair([](const MakerLine& ordered, const MakerLine& listed) {
      return same_thing(ordered, listed) &&
             trade::options_of(ordered.options) == trade::options_of(listed.options);
    });
    pair([](const MakerLine& ordered, const MakerLine& listed) {
      return same_thing(ordered, listed) && option_details(ordered, listed).empty();
    });
    pair(same_thing);
    pair([](const MakerLine&, const MakerLine&) { return true; });
    for (const MakerLine& line : ordered_) {
      found_.push_back({.position = line.position, .differs = Differs::kMissing, .ordered = line,
                        .listed = {}, .contradicts = false, .details = {}});
    }
    for (const MakerLine& line : listed_) {
      found_.push_back({.position = line.position, .differs = Differs::kExtra, .ordered = {},
                        .listed = line, .contradicts = false, .details = {}});
    }
    return std::move(found_);
  }

 private:
  template <class Alike>
  void pair(Alike alike) {
    for (auto ordered = ordered_.begin(); ordered != ordered_.end();) {
      const auto listed = std::ranges::find_if(
          listed_, [&](const MakerLine& line) { return alike(*ordered, line); });
      if (listed == listed_.end()) {
        ++ordered;
        continue;
      }
      found_.push_back(paired(*ordered, *listed));
      listed_.erase(listed);
      ordered = ordered_.erase(ordered);
    }
  }

  Lines ordered_;
  Lines listed_;
  std::vector<ComparedLine> found_;
};

}  // namespace

std::string_view word_of(Differs differs) {
  switch (differs) {
    case Differs::kSame: return "same";
    case Differs::kOtherQuantity: return "other quantity";
    case Differs::kOtherOption: return "other option";
    case Differs::kOtherPart: return "other part";
    case Differs::kMissing: return "missing";
    case Differs::kExtra: return "extra";
  }
  broken_promise("every difference has its word", __FILE__, __LINE__);
}

std::vector<ComparedLine> compare(const std::vector<MakerLine>& ordered,
                                  const std::vector<MakerLine>& listed) {
  std::vector<ComparedLine> compared;
  for (const std::string& position : positions_of(ordered, listed)) {
    Position at(at_position(ordered, position), at_position(listed, position));
    for (ComparedLine& line : at.compared()) compared.push_back(std::move(line));
  }
  return compared;
}

std::string line_key(const std::optional<MakerLine>& line) {
  if (!line) return "";
  const std::string what = line->part.empty() ? "article " + trade::plain_words(line->article)
                                              : line->part.text;
  std::vector<std::string> options;
  for (const auto& [name, value] : trade::options_of(line->options)) {
    options.push_back(value.empty() ? name : fmt::format("{}: {}", name, value));
  }
  return fmt::format("{} x {} [{}]", line->quantity, what, join(options, "; "));
}

const trade::DifferenceAnswer* answer_to(
    const ComparedLine& line, const std::vector<const trade::DifferenceAnswer*>& answers) {
  const std::string ordered = line_key(line.ordered);
  const std::string listed = line_key(line.listed);
  const trade::DifferenceAnswer* newest = nullptr;
  for (const trade::DifferenceAnswer* answer : answers) {
    const bool is_it = answer->position == line.position && answer->ordered == ordered &&
                       answer->listed == listed;
    if (is_it && (newest == nullptr || newest->number < answer->number)) newest = answer;
  }
  return newest;
}

std::vector<OtherNumber> other_numbers(const Lines& listed, const BenchState& bench) {
  std::vector<OtherNumber> others;
  for (const MakerLine& line : listed) {
    const FittedNow* fitted = bench.in_place(line.position);
    if (line.serial.empty() || fitted == nullptr || fitted->serial.empty()) continue;
    const bool replaced = std::ranges::any_of(bench.parts, [&line](const FittedNow& part) {
      return part.slot == line.position && part.off;
    });
    const bool is_listed = std::ranges::any_of(listed, [&](const MakerLine& other) {
      return other.position == line.position && lowered(other.serial) == lowered(fitted->serial);
    });
    if (replaced || is_listed) continue;
    others.push_back({.position = line.position, .stated = line.serial, .read = fitted->serial});
  }
  return others;
}

}  // namespace rollwright::build
