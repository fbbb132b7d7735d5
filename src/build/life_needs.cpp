#include "build/life_needs.hpp"

#include <fmt/format.h>

#include "base/result.hpp"
#include "base/text.hpp"

namespace rollwright::build {
namespace {

using Names = std::vector<std::string>;

/// "no measures of the rider: height and mass"; empty when nothing is open.
std::string open_of(const char* what, const Names& open) {
  return open.empty() ? "" : fmt::format("{}: {}", what, listed(open));
}

std::string sentences(Names said) {
  std::erase(said, "");
  return join(said, "; ");
}

std::string unless(bool met, const char* missing) { return met ? "" : missing; }

std::string no_slot_empty(const LifeFacts& facts) {
  Names empty;
  for (const std::string& slot : facts.empty_slots) empty.push_back("no " + slot + " is chosen");
  return sentences(empty);
}

std::string mass_known(const LifeFacts& facts) {
  for (const std::string& measure : facts.measures_not_known) {
    if (measure == "mass") return "the rider's mass is not known";
  }
  return "";
}

const std::string* said(const LifeFacts& facts, const char* key) {
  const auto found = facts.said.find(key);
  return found == facts.said.end() || trim(found->second).empty() ? nullptr : &found->second;
}

/// Only judged once it is said: what is not said at all is missing as a statement.
std::string offer_day_to_come(const LifeFacts& facts) {
  const std::string* text = said(facts, "valid_until");
  if (text == nullptr) return "";
  const Result<Day> day = parse_day(*text);
  if (!day || facts.today <= *day) return "";
  return fmt::format("the offer would be valid until {}, which is over", in_words(*day, true));
}

std::string offer_still_valid(const LifeFacts& facts) {
  if (!facts.offer_valid_until) return "nobody wrote down until when the offer is valid";
  if (facts.today <= *facts.offer_valid_until) return "";
  return fmt::format("the offer was valid until {}: make it anew",
                     in_words(*facts.offer_valid_until, true));
}

std::string signed_as_it_is(const LifeFacts& facts) {
  if (facts.signed_version == 0) return "the customer has not signed the specification";
  if (facts.changed_since_signed.empty()) return "";
  return fmt::format("the specification is not the one that was signed as version {} ({})",
                     facts.signed_version, join(facts.changed_since_signed, "; "));
}

std::string deposit_paid(const LifeFacts& facts) {
  if (facts.deposit.cents <= 0) return "no deposit is paid";
  if (facts.deposit <= facts.price) return "";
  return fmt::format("a deposit of {} is more than the price of {}", shown(facts.deposit),
                     shown(facts.price));
}

std::string promised_day(const LifeFacts& facts) {
  if (!facts.promised) return "no day is promised";
  return unless(facts.today < *facts.promised, "the day promised must lie in the future");
}

std::string done_by_another(const LifeFacts& facts) {
  const std::string* others = said(facts, "worked_by");
  if (facts.worked_on_it.empty() && others == nullptr) return "nobody wrote down who did the work";
  const bool is_named = others != nullptr && !facts.by.empty() &&
                        others->find(facts.by) != std::string::npos;
  if (!facts.worked_on_it.contains(facts.by) && !is_named) return "";
  return fmt::format("{} did work on it, so somebody else has to sign", facts.by);
}

std::string form_sent(const LifeFacts& facts) {
  if (facts.form_version == 0) return "no order form was sent to the maker";
  if (facts.signed_version == 0 || facts.form_version == facts.signed_version) return "";
  return fmt::format("the order form that the maker has is of version {}, and version {} is signed: "
                     "send it anew",
                     facts.form_version, facts.signed_version);
}

/// Each operation that is named for work again is one that is done.
std::string named_are_done(const LifeFacts& facts) {
  const std::string* text = said(facts, "operations");
  if (text == nullptr) return "";
  Names others;
  for (const std::string& operation : split(*text, ' ')) {
    if (!operation.empty() && !facts.operations_done.contains(operation)) {
      others.push_back(operation);
    }
  }
  return open_of("these are not done, so they cannot be done again", others);
}

/// Questions have their owner in the trade's data; for facts of parts somebody is named.
std::string not_known_is_owned(const LifeFacts& facts) {
  return said(facts, "finds_out") != nullptr
             ? ""
             : open_of("nobody is asked to find out", facts.not_known_unowned);
}

std::string settlement_as_computed(const LifeFacts& facts) {
  if (!facts.settlement) return "the settlement is not computed";
  const std::string* text = said(facts, "settlement");
  if (text == nullptr) return "";
  const auto amount = parse_money(*text);
  if (amount && *amount == *facts.settlement) return "";
  return fmt::format("the settlement comes to {}, not {}", shown(*facts.settlement), *text);
}

std::string lines_settled(const LifeFacts& facts) {
  if (facts.lines_open.empty() || said(facts, "keep_lines") != nullptr) return "";
  return fmt::format("still open with suppliers: {}; give them up or send them back, or say that "
                     "they are kept for the shelf",
                     listed(facts.lines_open));
}

}  // namespace

std::string missing_for(LifeNeed need, const LifeFacts& f) {
  using enum LifeNeed;
  switch (need) {
    case kContact: return unless(f.has_contact, "the customer's name and contact are not known");
    case kUse: return unless(f.has_use, "what the bike is for is not written down");
    case kMeasures: return open_of("not known of the rider", f.measures_not_known);
    case kNeededBy: return unless(f.needed_by.has_value(), "the day needed by is not known");
    case kSlots: return no_slot_empty(f);
    case kFits: return sentences(f.does_not_fit);
    case kStopsKnown: return sentences(f.stops_not_known);
    case kFitKnown: return sentences(f.fit_not_known);
    case kNotKnownOwned: return not_known_is_owned(f);
    case kCostsDated: return open_of("no supplier's dated cost is on file for", f.costs_not_dated);
    case kMass: return mass_known(f);
    case kValidUntil: return offer_day_to_come(f);
    case kStillValid: return offer_still_valid(f);
    case kSigned: return signed_as_it_is(f);
    case kDeposit: return deposit_paid(f);
    case kPromisedDay: return promised_day(f);
    case kAllBought: return open_of("not bought yet", f.not_bought);
    case kKitPutBy: return open_of("not in hand for the kit", f.kit_not_put_by);
    case kWorkPlanned:
      return unless(f.work_planned, "no stand and no qualified person are planned for it");
    case kFormSent: return form_sent(f);
    case kMakerList:
      return unless(f.has_maker_list, "the maker's list, confirmed or as built, is missing");
    case kAsBuilt: return unless(f.has_as_built, "the list of the bike as built is missing");
    case kDifferencesAnswered:
      return open_of("the maker's list differs, and nobody answered", f.differences_open);
    case kDifferencesSettled:
      return sentences({open_of("the maker's list differs, and nobody answered",
                                f.differences_open),
                        open_of("denied, and not put right by the maker", f.differences_denied)});
    case kNumbersAgree:
      return open_of("numbers that are not those of the maker's list", f.numbers_otherwise);
    case kWorkDone: return open_of("work not done", f.work_open);
    case kChecksDone: return open_of("checks not done", f.checks_open);
    case kReadings: return open_of("readings missing", f.readings_missing);
    case kReadingsInside: return open_of("readings outside their limits", f.readings_outside);
    case kNoRedo: return open_of("to be done again", f.redo_open);
    case kNoStop: return sentences(f.stops_open);
    case kValuesKnown: return open_of("values that nobody knows", f.values_not_known);
    case kTestRide: return unless(f.test_ride_done, "the test ride is not done");
    case kArrivalLines: return open_of("arrival lines open", f.arrival_lines_open);
    case kFinalLines: return open_of("final-build lines open", f.final_lines_open);
    case kStopLines: return open_of("STOP lines open", f.stop_lines_open);
    case kTalkLines: return open_of("handover lines open", f.talk_lines_open);
    case kAnotherPerson: return done_by_another(f);
    case kSerials: return open_of("no serial number is filed for", f.serials_missing);
    case kNoVisit:
      return f.visit_open.empty() ? "" : fmt::format("a visit is not over: {}", f.visit_open);
    case kOperationsNamed: return named_are_done(f);
    case kSettlement: return settlement_as_computed(f);
    case kLinesSettled: return lines_settled(f);
  }
  broken_promise("every need has its judgement", __FILE__, __LINE__);
}

}  // namespace rollwright::build
