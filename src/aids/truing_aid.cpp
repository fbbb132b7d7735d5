#include <cmath>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "aids/truing_drawing.hpp"
#include "aids/truing_fields.hpp"
#include "aids/truing_passes.hpp"
#include "base/text.hpp"

namespace rollwright::aids {

namespace {

Table turns_table(const WheelOnStand& wheel) {
  Table table{.title = "Spokes, from the first place on",
              .columns = {"Spoke", "Turn", "Tension now", "Expected after"},
              .rows = {}};
  for (const WheelOnStand::Spoke& spoke : wheel.spokes) {
    table.rows.push_back({fmt::format("{} {}", spoke.number, spoke.side),
                          spoke.turn.empty() ? "–" : spoke.turn,
                          fmt::format("{:.0f} ± {:.0f} N", spoke.now_n, spoke.now_uncertainty_n),
                          fmt::format("{:.0f} ± {:.0f} N", spoke.after_n,
                                      spoke.after_uncertainty_n)});
  }
  return table;
}

const char* sentence_of(mech::TruingVerdict verdict) {
  switch (verdict) {
    case mech::TruingVerdict::kInside: return "leave it alone";
    case mech::TruingVerdict::kTurn: return "expected to bring it inside; the odds stand below";
    case mech::TruingVerdict::kApproach: return "nearer; one pass is not enough";
    case mech::TruingVerdict::kRimBent: return "the rim is bent";
  }
  broken_promise("every verdict has a sentence", __FILE__, __LINE__);
}

void add_state(const std::string& when, const mech::TruingState& state, Reckoned& reckoned) {
  const auto mm_row = [&](const char* name, Length length) {
    reckoned.rows.push_back(row(fmt::format("{}, {}", name, when),
                                {length.in(mm), Dimension::kLength, "mm", 2}));
  };
  mm_row("Sideways run-out", state.lateral);
  mm_row("Up and down", state.radial);
  reckoned.rows.push_back({fmt::format("Furthest spoke from its side's mean, {}", when),
                           fmt::format("{:.0f} %", 100 * state.spread), "", ""});
}

Row worth_reading(const std::vector<int>& spokes) {
  constexpr std::size_t kMostNamed = 6;
  std::vector<std::string> next;
  for (const int spoke : spokes) {
    if (next.size() < kMostNamed) next.push_back(std::to_string(spoke));
  }
  return {"Worth reading next", "spoke " + listed(next), "", ""};
}

Reckoned figures(const Given& given, const mech::TruingAdvice& advice) {
  int all = 0;
  for (const mech::SpokeTurn& turn : advice.turns) all += std::abs(turn.quarters);
  Reckoned reckoned{.rows = {{"Quarter turns", std::to_string(all), "",
                              sentence_of(advice.verdict)},
                             {"Run-out and dish inside after them",
                              fmt::format("{:.0f} in 100", 100 * advice.after.true_enough), "",
                              "as far as the readings tell; read again after turning"},
                             {"Tensions inside too",
                              fmt::format("{:.0f} in 100", 100 * advice.after.inside), "",
                              "rises with every spoke that is read"}}};
  add_state("now", advice.now, reckoned);
  add_state("expected", advice.after, reckoned);
  if (!given.has("tensions") && !given.has("earlier")) {
    reckoned.cautions.push_back(
        "No tension was read: the spokes are taken to stand at the tensions to build to, 15 % either "
        "way. Read a few before anything is tightened.");
  }
  if (all > 0) {
    reckoned.going_on = GoingOn{.label = "These turns are made",
                                .fields = {{"earlier", with_turns_made(given, advice.turns)},
                                           {"lateral", ""}, {"radial", ""}, {"tensions", ""},
                                           {"dish", ""}}};
  }
  return reckoned;
}

Result<Reckoned> true_wheel(const Given& given) {
  const auto wheel = truing_wheel(given);
  if (!wheel) return std::unexpected(wheel.error());
  const auto passes = truing_passes(given, wheel->spokes());
  if (!passes) return std::unexpected(passes.error());
  const mech::TruingLimits limits = truing_limits(given);
  const auto advice = mech::truing_advice(*wheel, {.passes = *passes}, limits);
  if (!advice) return std::unexpected(advice.error());
  Reckoned reckoned = figures(given, *advice);
  reckoned.wheel = wheel_on_stand(*wheel, 0.5 * given.amount("rim_diameter", mm), *advice, limits);
  reckoned.tables.push_back(turns_table(*reckoned.wheel));
  if (advice->bent) reckoned.cautions.push_back(reckoned.wheel->said.front());
  if (!advice->read_next.empty()) reckoned.rows.push_back(worth_reading(reckoned.wheel->read_next));
  return reckoned;
}

Aid truing_aid() {
  Aid aid{.id = "truing", .title = "Truing a wheel",
          .lead = "From run-out and tensions: the fewest quarter turns that bring it inside."};
  aid.inputs = truing_fields();
  aid.method = "The wheel as an elastic ring on its spokes; its state is estimated from the readings "
               "with their uncertainty, then whole quarter turns are searched for. A real wheel may be "
               "a third softer sideways: read again and go on.";
  aid.source = "truing, wheel-thesis";
  aid.caution = "A wheel is under tension: wear eye protection, a spoke that breaks flies. The limits of "
                "the rim and the hub printed by their makers come first. Turn back a little after each "
                "turn: spokes wind up.";
  aid.reckon = true_wheel;
  return aid;
}

}  // namespace

std::vector<Aid> truing_aids() { return {truing_aid()}; }

}  // namespace rollwright::aids
