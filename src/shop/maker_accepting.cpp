#include "shop/maker_accepting.hpp"

#include <algorithm>
#include <iterator>
#include <set>

#include <fmt/format.h>

#include "shop/fit_after.hpp"

namespace rollwright::shop {
namespace {

using build::Differs;

bool is_required(const trade::BuildTemplate& build, const trade::SlotId& slot) {
  return std::ranges::count(build.required, slot) > 0;
}

/// What keeps a row from being accepted whatever the rules say; empty when nothing does.
std::string in_itself(const LifeAt& at, const MakerRow& row) {
  const build::ComparedLine& line = row.compared;
  const std::string name = position_name(at.trade, line.position);
  if (line.differs == Differs::kSame) return fmt::format("{}: there is no difference", name);
  if (trade::is_setting(line.position)) {
    return fmt::format("{}: it has to be set as it was ordered", name);
  }
  if (line.contradicts) {
    return fmt::format("{}: the part of the catalogue has another option; name the part that is "
                       "built in, so that the rules can be asked",
                       name);
  }
  const bool stands_in_slot = line.position != trade::kOtherPosition;
  if (stands_in_slot && line.listed && line.listed->part.empty() &&
      line.differs != Differs::kOtherQuantity && line.differs != Differs::kOtherOption) {
    return fmt::format("{}: the catalogue does not have {}, so nobody can say whether it fits; "
                       "put it into the catalogue first",
                       name, line.listed->article);
  }
  if (line.differs == Differs::kMissing && is_required(at.build, trade::SlotId(line.position))) {
    return fmt::format("{}: the bike needs one", name);
  }
  return "";
}

/// Puts what is built in into the order; the slots that this changed.
std::set<trade::SlotId> put_in(const LifeAt& at, const std::vector<const MakerRow*>& rows,
                               Accepting& into) {
  std::set<trade::SlotId> changed;
  for (const MakerRow* row : rows) {
    std::string stop = in_itself(at, *row);
    if (!stop.empty()) {
      into.stops.push_back(std::move(stop));
      continue;
    }
    if (!changes_choice(at, *row)) {
      into.wants_name = true;
      continue;
    }
    const trade::SlotId slot(row->compared.position);
    changed.insert(slot);
    into.is_new_version = true;
    if (row->compared.differs == Differs::kMissing) {
      into.order.choices.erase(slot);
    } else {
      into.order.choices[slot] = row->compared.listed->part;
    }
  }
  return changed;
}

}  // namespace

Accepting accepting(const LifeAt& at, const std::vector<const MakerRow*>& rows) {
  Accepting into{.order = at.order, .stops = {}, .warns = {}, .mass_change = {},
                 .price_change = {}};
  const std::set<trade::SlotId> changed = put_in(at, rows, into);
  if (changed.empty()) return into;
  FitAfter fit = fit_after(at, into.order, changed);
  std::ranges::move(fit.stops, std::back_inserter(into.stops));
  into.warns = std::move(fit.warns);
  const spec::Totals& before = fit.before.totals;
  const spec::Totals& after = fit.after.totals;
  into.price_change = after.price - before.price;
  if (after.masses_not_known == 0 && before.masses_not_known == 0) {
    into.mass_change = after.mass - before.mass;
  }
  return into;
}

}  // namespace rollwright::shop
