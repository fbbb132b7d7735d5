#include "build/visit_rules.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/care.hpp"
#include "build/deed_words.hpp"

namespace rollwright::build {
namespace {

using trade::Deed;
using trade::Outcome;

/// Further than any bike was ridden.
constexpr double kMostKm = 1e6;

Result<void> not_here(const DeedAsked& asked, const char* instead) {
  const VisitNow* open = asked.state.open_visit();
  if (open == nullptr) return {};
  return refuse(Code::kConflict, fmt::format("the visit of {} ({}) is not over: {}",
                                             in_words(day_of(open->since)), open->about, instead));
}

Result<void> may_come_back(const DeedAsked& asked) {
  const DeedWanted& wanted = asked.wanted;
  if (!asked.sheet.care) {
    return refuse(Code::kRefused, "this bike is not in care yet: work on it belongs to its order");
  }
  if (wanted.about.empty()) {
    return refuse(Code::kBadInput, "say what the bike comes for: a service, a repair, a recall",
                  {.field = "about"});
  }
  const auto away = not_here(asked, "give the bike back first, or ask for more in it");
  if (!away || !wanted.value) return away;
  const Place place{.field = "value", .value = fmt::format("{:g}", *wanted.value)};
  if (!(0 <= *wanted.value && *wanted.value <= kMostKm)) {
    return refuse(Code::kOutOfRange, fmt::format("km are between 0 and {:g}", kMostKm), place);
  }
  const std::optional<double> before = last_km(asked.state);
  if (before && *wanted.value < *before && wanted.note.empty()) {
    return refuse(Code::kContradiction,
                  fmt::format("it had {:g} km at its last visit; if its display was changed, say so in "
                              "the note", *before), place);
  }
  return {};
}

Result<void> may_ask(const DeedAsked& asked) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  if ((*found)->standing == Standing::kDone) return {};
  return refuse(Code::kRefused, fmt::format("{} is asked for already and {}", title(**found),
                                            word_of((*found)->standing)));
}

Result<void> may_leave_out(const DeedAsked& asked) {
  const auto found = operation_of(asked);
  if (!found) return std::unexpected(found.error());
  const OperationNow& now = **found;
  const bool not_begun =
      now.standing == Standing::kRedo && now.minutes.empty() && now.fault.empty();
  if (!now.step->care || !now.asked || !not_begun) {
    return refuse(Code::kRefused,
                  fmt::format("{} is {}: only what a visit asks for beside building, and nobody began "
                              "or found at fault, is left out", title(now),
                              now.asked ? word_of(now.standing) : "not asked for"));
  }
  if (asked.wanted.note.empty()) return missing_note("why it is left out");
  return {};
}

Result<void> may_give_back(const DeedAsked& asked) {
  if (asked.wanted.outcome == Outcome::kStop) {
    if (!asked.wanted.note.empty()) return {};
    return missing_note("why the bike is not to be ridden, and that its rider was told");
  }
  if (asked.wanted.outcome != Outcome::kPass) {
    return refuse(Code::kBadInput, "say pass, or stop for a bike that is not to be ridden",
                  {.field = "outcome"});
  }
  const std::vector<std::string> open = open_in_visit(asked.state);
  if (open.empty()) return {};
  return refuse(Code::kRefused,
                fmt::format("the bike is not given back to be ridden: {}", join(open, "; ")));
}

Result<void> may_remind(const DeedAsked& asked) {
  if (!asked.sheet.care) {
    return refuse(Code::kRefused, "this bike is not in care yet: nothing is due on it");
  }
  if (asked.wanted.about.empty()) {
    return refuse(Code::kBadInput, "say what the rider was told that the bike should come for",
                  {.field = "about"});
  }
  return not_here(asked, "nobody need be told to come");
}

bool needs_no_visit(Deed deed) {
  return deed == Deed::kVisit || deed == Deed::kReminded || deed == Deed::kSigned ||
         deed == Deed::kPhoto || deed == Deed::kNoted;
}

bool is_of_care(Deed deed) {
  return deed == Deed::kAsked || deed == Deed::kLeftOut || deed == Deed::kBack;
}

}  // namespace

Result<void> belongs_to_visit(const DeedAsked& asked) {
  const Deed deed = asked.wanted.deed;
  const bool wanted = is_of_care(deed) || (asked.sheet.care && !needs_no_visit(deed));
  if (!wanted || asked.state.open_visit() != nullptr) return {};
  return refuse(Code::kRefused, "no visit of this bike is open: say first what it comes for");
}

Result<void> may_visit(const DeedAsked& asked) {
  switch (asked.wanted.deed) {
    case Deed::kVisit: return may_come_back(asked);
    case Deed::kAsked: return may_ask(asked);
    case Deed::kLeftOut: return may_leave_out(asked);
    case Deed::kBack: return may_give_back(asked);
    case Deed::kReminded: return may_remind(asked);
    default: break;
  }
  broken_promise("only deeds of a visit are asked here", __FILE__, __LINE__);
}

}  // namespace rollwright::build
