#include "trade/bike_record.hpp"

#include <algorithm>
#include <array>

namespace rollwright::trade {
namespace {

struct DeedRow {
  Deed deed;
  std::string_view word;
};
constexpr std::array kDeedRows = {
    DeedRow{Deed::kKitted, "kitted"},   DeedRow{Deed::kOn, "on"},
    DeedRow{Deed::kOff, "off"},         DeedRow{Deed::kPaired, "paired"},
    DeedRow{Deed::kStarted, "started"}, DeedRow{Deed::kPaused, "paused"},
    DeedRow{Deed::kDone, "done"},       DeedRow{Deed::kRead, "read"},
    DeedRow{Deed::kRedo, "redo"},       DeedRow{Deed::kFault, "fault"},
    DeedRow{Deed::kMended, "mended"},   DeedRow{Deed::kChecked, "checked"},
    DeedRow{Deed::kSigned, "signed"},   DeedRow{Deed::kHand, "hand"},
    DeedRow{Deed::kPhoto, "photo"},     DeedRow{Deed::kNoted, "noted"},
    DeedRow{Deed::kVisit, "visit"},     DeedRow{Deed::kAsked, "asked"},
    DeedRow{Deed::kLeftOut, "left out"}, DeedRow{Deed::kBack, "given back"},
    DeedRow{Deed::kReminded, "reminded"},
};

struct OutcomeRow {
  Outcome outcome;
  std::string_view word;
};
constexpr std::array kOutcomeRows = {
    OutcomeRow{Outcome::kNone, ""}, OutcomeRow{Outcome::kPass, "pass"},
    OutcomeRow{Outcome::kFix, "fix"}, OutcomeRow{Outcome::kStop, "stop"}};

}  // namespace

std::string_view word_of(Deed deed) {
  return std::ranges::find(kDeedRows, deed, &DeedRow::deed)->word;
}

std::optional<Deed> deed_named(std::string_view word) {
  const auto* found = std::ranges::find(kDeedRows, word, &DeedRow::word);
  return found == kDeedRows.end() ? std::nullopt : std::optional(found->deed);
}

const std::vector<Deed>& all_deeds() {
  static const std::vector<Deed> kAll = [] {
    std::vector<Deed> deeds;
    for (const DeedRow& row : kDeedRows) deeds.push_back(row.deed);
    return deeds;
  }();
  return kAll;
}

const std::vector<std::string>& all_wheels() {
  static const std::vector<std::string> kAll = {"front_wheel", "rear_wheel"};
  return kAll;
}

std::string_view word_of(Outcome outcome) {
  return std::ranges::find(kOutcomeRows, outcome, &OutcomeRow::outcome)->word;
}

std::optional<Outcome> outcome_named(std::string_view word) {
  const auto* found = std::ranges::find(kOutcomeRows, word, &OutcomeRow::word);
  return found == kOutcomeRows.end() ? std::nullopt : std::optional(found->outcome);
}

}  // namespace rollwright::trade
