#include "shop/maker_accepting.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "shop/bike.hpp"
#include "shop/questions.hpp"

namespace rollwright::shop {
namespace {

using build::Differs;
using trade::Severity;
using trade::Verdict;

bool is_question(const trade::Trade& trade, const std::string& rule) {
  return std::ranges::find(trade.questions, rule, &trade::Question::id) != trade.questions.end();
}

bool looks_at(const spec::Finding& finding, const std::set<trade::SlotId>& slots) {
  return std::ranges::any_of(finding.parts, [&slots](const spec::SlotPart& part) {
    return slots.contains(part.slot);
  });
}

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

void judge(const LifeAt& at, const spec::SpecCheck& now, const spec::SpecCheck& before,
           const std::set<trade::SlotId>& changed, Accepting& into) {
  for (const spec::Finding& finding : now.findings) {
    const bool is_new = std::ranges::none_of(before.findings, [&finding](const auto& old) {
      return old.rule == finding.rule && old.verdict == finding.verdict &&
             old.sentence == finding.sentence;
    });
    const bool asked = is_question(at.trade, finding.rule);
    const bool unknown_stop = finding.verdict == Verdict::kNotKnown &&
                              finding.severity == Severity::kStop && !asked &&
                              looks_at(finding, changed);
    if (finding.verdict == Verdict::kDoesNotFit || unknown_stop) {
      into.stops.push_back(fmt::format("{} ({}): {}", finding.rule,
                                       trade::word_of(finding.severity), finding.sentence));
    } else if (is_new) {
      into.warns.push_back(fmt::format("{} ({}, {}): {}", finding.rule,
                                       trade::word_of(finding.severity),
                                       trade::word_of(finding.verdict), finding.sentence));
    }
  }
}

}  // namespace

Accepting accepting(const LifeAt& at, const std::vector<const MakerRow*>& rows) {
  Accepting into{.order = at.order, .stops = {}, .warns = {}, .mass_change = {},
                 .price_change = {}};
  const std::set<trade::SlotId> changed = put_in(at, rows, into);
  if (changed.empty()) return into;
  const spec::SpecCheck before =
      check_order(at.trade, at.build, bike_of(at.state, at.order), at.order);
  const spec::SpecCheck now =
      check_order(at.trade, at.build, bike_of(at.state, into.order), into.order);
  judge(at, now, before, changed, into);
  into.price_change = now.totals.price - before.totals.price;
  if (now.totals.masses_not_known == 0 && before.totals.masses_not_known == 0) {
    into.mass_change = now.totals.mass - before.totals.mass;
  }
  return into;
}

}  // namespace rollwright::shop
