#include <fmt/format.h>

#include "base/text.hpp"
#include "build/calculations.hpp"
#include "mech/rider_fit.hpp"

namespace rollwright::build {
namespace {

// The steerer ends 2 to 3 mm under the top of stem or spacer, so that the cap can pull (common
// practice).
constexpr double kLeastBelowTop = 2;
constexpr double kMostBelowTop = 3;

std::string saddle_words(const FactReader& facts, std::string_view rule) {
  return fmt::format("{} of the inseam of {} mm (Hamley and Thomas 1967); a start, the rider "
                     "decides",
                     rule, plain(facts.number_if_known("rider", "rider_inseam").value_or(0)));
}

}  // namespace

std::optional<mech::SaddleHeight> asked_saddle(FactReader& facts) {
  const auto inseam = facts.number("rider", "rider_inseam");
  const auto crank = facts.number("crankset", "crank_length");
  if (!inseam || !crank) return std::nullopt;
  const auto height = mech::saddle_height(*inseam * mm, *crank * mm);
  if (!height) {
    facts.ask("saddle height: " + height.error().sentence);
    return std::nullopt;
  }
  return *height;
}

Computed steerer_cut(FactReader& facts) {
  const auto lower = facts.number("headset", "lower_stack");
  const auto tube = facts.number("frame", "head_tube_length");
  const auto upper = facts.number("headset", "upper_stack");
  const auto spacers = facts.number("headset", "spacers_supplied");
  const auto clamp = facts.number("stem", "clamp_height");
  const auto steerer = facts.number("fork", "steerer_length");
  if (!lower || !tube || !upper || !spacers || !clamp || !steerer) return std::nullopt;
  const double top = *lower + *tube + *upper + *spacers + *clamp;
  if (*steerer < top - kMostBelowTop) {
    facts.ask(fmt::format("{} has a steerer of {} mm; with all {} mm of spacers {} mm are needed: "
                          "how many spacers does the rider want?",
                          facts.named("fork"), plain(*steerer), plain(*spacers),
                          plain(top - kMostBelowTop)));
    return std::nullopt;
  }
  return ComputedValue{
      .target = top - (kLeastBelowTop + kMostBelowTop) / 2,
      .least = top - kMostBelowTop,
      .most = top - kLeastBelowTop,
      .limit_source = "2 to 3 mm below the top",
      .how = fmt::format("lower stack {} + head tube {} + upper stack {} + all spacers {} + stem "
                         "{} mm, less 2 to 3; dry-fit, then cut last",
                         plain(*lower), plain(*tube), plain(*upper), plain(*spacers),
                         plain(*clamp))};
}

Computed saddle_height(FactReader& facts) {
  const auto height = asked_saddle(facts);
  if (!height) return std::nullopt;
  return ComputedValue{.target = height->by_bracket.in(mm), .how = saddle_words(facts, "0.883")};
}

Computed saddle_over_pedal(FactReader& facts) {
  const auto height = asked_saddle(facts);
  if (!height) return std::nullopt;
  return ComputedValue{.target = height->by_pedal.in(mm), .how = saddle_words(facts, "1.09")};
}

}  // namespace rollwright::build
