#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "aids/wheel_card.hpp"
#include "base/text.hpp"
#include "mech/nipple_thread.hpp"

namespace rollwright::aids {

namespace {

// Half a spoke head and half a spoke (from memory).
constexpr double kRoomBesideHeadsMm = 3;

std::string millimetres(Length length, int decimals = 1) {
  return fmt::format("{:.{}f} mm", length.in(mm), decimals);
}
std::string forces(Force force) {
  return fmt::format("{:.0f} N, {:.0f} kgf", force.in(newton), force.in(kgf));
}
std::string per_cent(double share) { return fmt::format("{:.0f} %", 100 * share); }

std::string off_in_words(double off_mm) {
  if (std::abs(off_mm) < 0.05) return "nothing";
  return fmt::format("{:.1f} mm {}", std::abs(off_mm), off_mm < 0 ? "shorter" : "longer");
}

/// The table of both sides, filled row by row.
class Sides {
 public:
  void add(const std::string& name, std::string left, std::string right) {
    table_.rows.push_back({name, std::move(left), std::move(right)});
  }
  /// The same of both.
  template <class Of>
  void each(const std::string& name, const Of& of) {
    add(name, of(true), of(false));
  }
  [[nodiscard]] Table done() && { return std::move(table_); }

 private:
  Table table_{.title = "Both sides", .columns = {"Side", "Left", "Right"}, .rows = {}};
};

void add_lacing(const WheelCard& card, Sides& sides) {
  const auto flange = [&](bool left) -> const mech::Flange& {
    return left ? card.geometry.left : card.geometry.right;
  };
  const auto line = [&](bool left) -> const mech::SpokeLine& {
    return left ? card.spokes.left : card.spokes.right;
  };
  sides.each("Spokes, crosses", [&](bool left) {
    return fmt::format("{}, {}", flange(left).holes, plain(flange(left).crosses));
  });
  sides.each("Spoke reckoned", [&](bool left) { return millimetres(line(left).length); });
  if (card.stock) {
    const auto taken = [&](bool left) { return card.stock->taken[left ? 0 : 1]; };
    sides.each(card.cut_to_length ? "Cut to" : "Take from the drawer",
               [&](bool left) { return millimetres(taken(left).length, 0); });
    sides.each("Off by", [&](bool left) { return off_in_words(taken(left).difference.in(mm)); });
  }
  sides.each("Angle to the wheel's plane", [&](bool left) {
    return fmt::format("{:.1f}°", line(left).bracing.in(degree));
  });
  sides.each("Angle at the nipple", [&](bool left) {
    return fmt::format("{:.1f}°", line(left).nipple_tilt.in(degree));
  });
}

void add_tensions(const mech::TensionTargets& targets, double spread, Sides& sides) {
  const auto mean = [&](bool left) { return left ? targets.left : targets.right; };
  sides.each("Mean tension to build to", [&](bool left) { return forces(mean(left)); });
  sides.each("Every spoke between", [&](bool left) {
    return fmt::format("{:.0f} and {:.0f} N", (1 - spread) * mean(left).in(newton),
                       (1 + spread) * mean(left).in(newton));
  });
}

void add_built(const mech::BuiltWheel& built, Sides& sides) {
  const auto side = [&](bool left) -> const mech::BuiltSide& {
    return left ? built.left : built.right;
  };
  sides.each("Pitch to hear", [&](bool left) {
    return fmt::format("{:.0f} Hz, ± {:.0f}", side(left).pitch.in(hertz),
                       std::ceil(side(left).pitch_apart.in(hertz)));
  });
  sides.each("plucked between nipple and crossing, free",
             [&](bool left) { return millimetres(side(left).sounding, 0); });
  sides.each("Spoke grows under tension",
             [&](bool left) { return millimetres(side(left).stretch, 2); });
  sides.each("Of a load, the spoke over the ground gives up",
             [&](bool left) { return per_cent(side(left).share); });
  sides.each("with the two beside it",
             [&](bool left) { return per_cent(side(left).share_of_three); });
  sides.each("It goes slack under",
             [&](bool left) { return fmt::format("{:.0f} N", side(left).slack_at.in(newton)); });
}

std::string lengths_laid_out(const mech::WheelsetStock& stock) {
  std::vector<Length> lengths;
  for (const mech::StockLength& one : stock.taken) lengths.push_back(one.length);
  std::ranges::sort(lengths);
  const auto twins = std::ranges::unique(lengths);
  lengths.erase(twins.begin(), twins.end());
  std::vector<std::string> words;
  for (const Length length : lengths) words.push_back(rounded(length.in(mm), 1));
  return listed(words) + " mm";
}

void add_stock(const WheelCard& card, Reckoned& reckoned) {
  if (!card.stock) {
    reckoned.cautions.push_back(card.stock.error().sentence + " Order or cut these spokes.");
    return;
  }
  const bool both = card.stock->taken.size() > 2;
  reckoned.rows.push_back({both ? "Lengths to lay out for both wheels" : "Lengths to lay out",
                           std::to_string(card.stock->different), "",
                           lengths_laid_out(*card.stock)});
}

void add_balance(const WheelCard& card, const Given& given, Reckoned& reckoned) {
  if (!card.tensions) {
    reckoned.cautions.push_back("No limit of this rim is known, so no tension is given: look for the "
                                "maker's figure on the rim or in its sheet.");
    return;
  }
  const double ratio = card.tensions->left_over_right;
  reckoned.rows.push_back({"Slack side over tight side", per_cent(std::min(ratio, 1 / ratio)), "",
                           ratio == 1  ? "both sides alike"
                           : ratio < 1 ? "the right side is the tighter one"
                                       : "the left side is the tighter one"});
  reckoned.rows.push_back(row("No spoke above", {given.amount("rim_limit", newton).in(newton),
                                                 Dimension::kForce},
                              "the rim maker's figure"));
}

void add_stiffness(const mech::BuiltWheel& built, const Given& given, Reckoned& reckoned) {
  const std::string rim = "estimated rim stiffness: " + given.word("rim");
  const auto stiffness = [&](const char* name, double value) {
    reckoned.rows.push_back({name, fmt::format("{:.0f} N/mm", value), "", rim});
  };
  stiffness("Stiff sideways at the rim", built.lateral);
  stiffness("Stiff up and down at the rim", built.radial);
  reckoned.rows.push_back({"To turn the rim against the hub",
                           fmt::format("{:.0f} N·m per degree", built.torsional), "", ""});
  reckoned.rows.push_back(row("Tension alone folds it at a mean of",
                              {built.buckles_at.in(newton), Dimension::kForce},
                              fmt::format("keep under half, {:.0f} N; it is {:.0f} N; {}",
                                          built.buckling_advice.in(newton),
                                          built.mean.in(newton), rim)));
  reckoned.rows.push_back(row("Rim's radius shrinks under tension",
                              {built.rim_shrink.in(mm), Dimension::kLength, "mm", 2}, rim));
  if (built.mean > built.buckling_advice) {
    reckoned.cautions.push_back("With this estimated rim the mean tension lies above half of what folds "
                                "this wheel: where spokes do not stay within 10 % of each other, build "
                                "it looser.");
  }
}

void add_nipple_cautions(const WheelCard& card, Reckoned& reckoned) {
  for (const auto& [side, line] : {std::pair{"left", &card.spokes.left}, {"right", &card.spokes.right}}) {
    const double angle = line->nipple_tilt.in(degree);
    if (angle <= card.nipple_limit_deg) continue;
    reckoned.cautions.push_back(fmt::format(
        "On the {} the spokes reach the rim at {:.1f}°; {} allows {}°: fewer crosses.", side, angle,
        card.nipple_limit_known ? "the rim" : "a rim usually", rounded(card.nipple_limit_deg, 1)));
  }
}

void add_head_cautions(const mech::BuiltWheel& built, Reckoned& reckoned) {
  for (const auto& [side, one] : {std::pair{"left", &built.left}, {"right", &built.right}}) {
    if (one->beside_heads.in(mm) >= kRoomBesideHeadsMm) continue;
    reckoned.cautions.push_back(fmt::format("On the {} a spoke passes {:.1f} mm beside its "
                                            "neighbour's head and lies on it.",
                                            side, one->beside_heads.in(mm)));
  }
}

}  // namespace

Reckoned wheel_card_words(const WheelCard& card, const Given& given) {
  Reckoned reckoned;
  Sides sides;
  add_lacing(card, sides);
  add_stock(card, reckoned);
  add_balance(card, given, reckoned);
  if (card.tensions) add_tensions(*card.tensions, given.number("spread") / 100, sides);
  add_nipple_cautions(card, reckoned);
  if (card.built) {
    add_built(*card.built, sides);
    add_stiffness(*card.built, given, reckoned);
    add_head_cautions(*card.built, reckoned);
  }
  reckoned.rows.push_back(row("A whole turn of a nipple draws",
                              {mech::kNipplePitch.in(mm), Dimension::kLength, "mm", 2},
                              "56 threads to the inch"));
  reckoned.tables.push_back(std::move(sides).done());
  return reckoned;
}

}  // namespace rollwright::aids
