#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "build/bench_state.hpp"
#include "trade/person.hpp"
#include "trade/tool.hpp"

/// What may be written into a bike's record, and what it means there.
namespace rollwright::build {

/// What somebody at the bench wants to write down.
struct DeedWanted {
  trade::Deed deed = trade::Deed::kNoted;
  std::string about;    // operation, check line, slot, or what is signed
  std::string reading;
  int point = 0;        // from 1; 0 is the only one
  std::optional<double> value;  // own unit of the reading's dimension
  trade::Outcome outcome = trade::Outcome::kNone;  // of a check line, or a plain pass or fail
  std::string tool;
  trade::PartId part;
  std::string serial;   // of a part; or the person who lends a hand, empty: nobody is needed
  std::string lot;
  std::string came_by;
  std::string note;
  Instant at = {};
};

/// A deed with all it is judged by.
struct DeedAsked {
  const trade::Sheet& sheet;
  const BenchState& state;
  const trade::Person& person;
  const DeedWanted& wanted;
  const trade::Tool* tool = nullptr;  // that `wanted` names; null when the shop has none such
  std::span<const std::string_view> four_eyes;  // whoever had a hand in them audits nothing
  std::string blocked;  // why nobody may work on this bike now; empty when they may
};

/// How a value stands to its limits: inside, to be mended, or a stop. Where a reading stops the bike
/// and states no wider stop limit, outside is a stop.
[[nodiscard]] trade::Outcome outcome_of(const trade::SheetValue& value, double read);

/// The line to be written. Nothing unsafe passes in silence: a value outside its limits is written
/// with its outcome and keeps the operation open until it is done again; a stop keeps everything else
/// of the bike from being begun; a line marked S is signed by somebody who did not do the work.
///
/// Errors: kNotFound for what is not on this bike's sheet; kNotAllowed for a person without the skill
/// or who did the work that is to be checked; kRefused with everything that is missing; kBadInput
/// and kOutOfRange naming the field.
[[nodiscard]] Result<trade::BikeLine> judge(const DeedAsked& asked);

}  // namespace rollwright::build
