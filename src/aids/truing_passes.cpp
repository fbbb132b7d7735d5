#include "aids/truing_passes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "aids/truing_fields.hpp"
#include "base/text.hpp"

namespace rollwright::aids {

namespace {

Error wants(const char* field, std::string sentence) {
  return {Code::kBadInput, std::move(sentence), {.field = field}};
}

/// Readings at even places, the first at the first spoke.
Result<std::vector<mech::RunOutReading>> run_out(const Given& given) {
  std::vector<mech::RunOutReading> readings;
  const std::vector<double>& lateral = given.numbers("lateral");
  const std::vector<double>& radial = given.numbers("radial");
  if (radial.size() != lateral.size()) {
    return std::unexpected(wants("radial", fmt::format("{} readings here and {} sideways: give as "
                                                       "many, at the same places", radial.size(),
                                                       lateral.size())));
  }
  for (std::size_t i = 0; i < lateral.size(); ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(lateral.size());
    readings.push_back({.at = 2 * std::numbers::pi * share * radian, .lateral = lateral[i] * mm,
                        .radial = radial[i] * mm});
  }
  return readings;
}

constexpr double kUnreadSpread = 0.15;

std::vector<mech::TensionReading> as_built(const std::vector<mech::WheelSpoke>& spokes) {
  std::vector<mech::TensionReading> readings;
  for (std::size_t i = 0; i < spokes.size(); ++i) {
    readings.push_back({.spoke = static_cast<int>(i), .tension = spokes[i].tension,
                        .uncertainty = kUnreadSpread * spokes[i].tension});
  }
  return readings;
}

/// In the wheel's order; 0 for a spoke that was not read.
Result<std::vector<mech::TensionReading>> tensions(const Given& given,
                                                   const std::vector<mech::WheelSpoke>& spokes,
                                                   bool is_first_pass) {
  if (!given.has("tensions")) {
    return is_first_pass ? as_built(spokes) : std::vector<mech::TensionReading>();
  }
  std::vector<mech::TensionReading> readings;
  const std::vector<double>& read = given.numbers("tensions");
  if (read.size() != spokes.size()) {
    return std::unexpected(wants("tensions", fmt::format("{} readings for {} spokes: give one for "
                                                         "each, 0 for one that was not read",
                                                         read.size(), spokes.size())));
  }
  for (std::size_t i = 0; i < read.size(); ++i) {
    if (read[i] == 0) continue;
    readings.push_back({.spoke = static_cast<int>(i), .tension = read[i] * newton,
                        .uncertainty = std::max(1.0, read[i] * given.number("meter") / 100) *
                                       newton});
  }
  return readings;
}

Result<mech::TruingPass> pass_of(const Given& given, const std::vector<mech::WheelSpoke>& spokes,
                                 bool is_first) {
  const auto places = run_out(given);
  if (!places) return std::unexpected(places.error());
  const auto read = tensions(given, spokes, is_first);
  if (!read) return std::unexpected(read.error());
  mech::TruingPass pass{.run_out = *places, .tensions = *read};
  if (given.has("dish")) pass.dish = given.amount("dish", mm);
  return pass;
}

/// The readings that one earlier pass may hold, each under the key of its field.
constexpr const char* kReadings[] = {"lateral", "radial", "tensions", "dish"};

Result<std::vector<mech::SpokeTurn>> turns_in(std::string_view text) {
  std::vector<mech::SpokeTurn> turns;
  for (const std::string& piece : split(text, ' ')) {
    if (piece.empty()) continue;
    const std::size_t colon = piece.find(':');
    const auto spoke = to_whole(piece.substr(0, colon));
    std::string count = colon == std::string::npos ? "" : piece.substr(colon + 1);
    if (count.starts_with('+')) count.erase(0, 1);
    const auto quarters = to_whole(count);
    if (!spoke || !quarters || std::abs(*spoke) > 1000 || std::abs(*quarters) > 1000) {
      return std::unexpected(wants("earlier", "turns are written as spoke:quarters, as in 3:-1"));
    }
    turns.push_back({static_cast<int>(*spoke) - 1, static_cast<int>(*quarters)});
  }
  return turns;
}

/// One earlier pass as typed fields, and its turns.
struct EarlierPass {
  Typed fields;
  std::vector<mech::SpokeTurn> turns;
};
Result<EarlierPass> earlier_pass(std::string_view text) {
  EarlierPass pass;
  for (const std::string& piece : split(text, ';')) {
    const std::size_t space = std::min(piece.find(' '), piece.size());
    const std::string name = piece.substr(0, space);
    const std::string rest(trim(piece.substr(space)));
    if (name == "turns") {
      auto turns = turns_in(rest);
      if (!turns) return std::unexpected(turns.error());
      pass.turns = std::move(*turns);
    } else if (std::ranges::count(kReadings, name) > 0) {
      pass.fields[name] = rest;
    } else {
      return std::unexpected(wants("earlier", "a pass is written as lateral, radial, tensions, dish "
                                              "and turns with a ; between them"));
    }
  }
  for (const char* needed : {"lateral", "radial"}) {
    if (pass.fields.contains(needed)) continue;
    return std::unexpected(wants("earlier", fmt::format("a pass has no {} readings", needed)));
  }
  return pass;
}

Result<mech::TruingPass> earlier_pass(const std::string& text, const Given& today,
                                      const std::vector<mech::WheelSpoke>& spokes, bool is_first) {
  auto typed = earlier_pass(text);
  if (!typed) return std::unexpected(typed.error());
  typed->fields["meter"] = today.word("meter");
  const auto own = Given::read({.id = "a pass", .inputs = truing_reading_fields()}, typed->fields);
  auto pass = own ? pass_of(*own, spokes, is_first) : std::unexpected(own.error());
  if (pass) {
    pass->turns = std::move(typed->turns);
    return pass;
  }
  Error error = pass.error();
  error.place.field = "earlier";
  return std::unexpected(std::move(error));
}

}  // namespace

Result<std::vector<mech::TruingPass>> truing_passes(const Given& given,
                                                    const std::vector<mech::WheelSpoke>& spokes) {
  std::vector<mech::TruingPass> passes;
  const std::string earlier = given.has("earlier") ? given.word("earlier") : "";
  for (const std::string& text : split(earlier, '|')) {
    auto pass = earlier_pass(text, given, spokes, passes.empty());
    if (!pass) return std::unexpected(pass.error());
    passes.push_back(std::move(*pass));
  }
  auto today = pass_of(given, spokes, passes.empty());
  if (!today) return std::unexpected(today.error());
  passes.push_back(std::move(*today));
  return passes;
}

std::string with_turns_made(const Given& given, const std::vector<mech::SpokeTurn>& turns) {
  std::string text = given.has("earlier") ? given.word("earlier") + " | " : "";
  for (const char* reading : kReadings) {
    if (given.has(reading)) text += fmt::format("{} {}; ", reading, given.word(reading));
  }
  text += "turns";
  for (const mech::SpokeTurn& turn : turns) {
    text += fmt::format(" {}:{:+}", turn.spoke + 1, turn.quarters);
  }
  return text;
}

}  // namespace rollwright::aids
