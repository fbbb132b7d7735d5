#pragma once

#include <string>

#include "build/life_facts.hpp"

namespace rollwright::build {

/// What a move can need of the facts. One name each, so that the table of moves is data.
enum class LifeNeed {
  kContact, kUse, kMeasures, kNeededBy,
  kSlots, kFits, kStopsKnown, kFitKnown, kNotKnownOwned, kCostsDated, kMass,
  kValidUntil, kStillValid, kSigned, kDeposit, kPromisedDay,
  kAllBought, kKitPutBy, kWorkPlanned,
  kFormSent, kMakerList, kAsBuilt, kDifferencesAnswered, kDifferencesSettled,
  kNumbersAgree,
  kWorkDone, kChecksDone, kReadings, kReadingsInside, kNoRedo, kNoStop, kValuesKnown,
  kTestRide,
  kArrivalLines, kFinalLines, kStopLines, kTalkLines, kAnotherPerson,
  kSerials, kNoVisit, kOperationsNamed, kSettlement, kLinesSettled,
};

/// What is missing for a need, as a piece of a sentence; empty when the facts meet it.
[[nodiscard]] std::string missing_for(LifeNeed need, const LifeFacts& facts);

}  // namespace rollwright::build
