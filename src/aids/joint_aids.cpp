#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "base/text.hpp"
#include "mech/joint_torque.hpp"

namespace rollwright::aids {

namespace {

std::vector<std::string> threads() {
  std::vector<std::string> names;
  for (const mech::TighteningRow& row : mech::tightening_rows()) names.push_back(row.thread);
  return names;
}
std::vector<std::string> classes() {
  std::vector<std::string> names;
  for (const mech::BoltClass& bolt : mech::bolt_classes()) names.push_back(bolt.name);
  return names;
}

mech::BoltedJoint joint_of(const mech::TighteningRow& row, double friction) {
  return {.thread = row.size, .head_face = row.head_face, .hole = row.hole,
          .thread_friction = friction, .head_friction = friction};
}

/// The same torque at the friction given and at its neighbours: the scatter of real joints.
Result<Table> scatter(const mech::TighteningRow& size, Torque torque, Force proof,
                      const std::array<double, 3>& frictions) {
  Table table{.title = "Preload by friction", .columns = {"Friction", "Preload", "Of 90 % of yield"},
              .rows = {}};
  for (const double friction : frictions) {
    const auto preload = mech::preload_for_torque(joint_of(size, friction), torque);
    if (!preload) return std::unexpected(preload.error());
    table.rows.push_back({rounded(friction, 2), with_unit(preload->in(newton), "N", 0),
                          rounded(100 * (*preload / proof), 0) + " %"});
  }
  return table;
}

Result<Reckoned> torque(const Given& given) {
  const mech::TighteningRow& size =
      *std::ranges::find(mech::tightening_rows(), given.word("thread"), &mech::TighteningRow::thread);
  const mech::BoltClass& bolt =
      *std::ranges::find(mech::bolt_classes(), given.word("class"), &mech::BoltClass::name);
  const double friction = given.number("friction");
  const auto most = mech::tightening_at_90_percent(joint_of(size, friction), bolt.yield);
  if (!most) return std::unexpected(most.error());
  std::vector<mech::TorqueLimit> limits = {{"bolt " + bolt.name, most->torque}};
  for (const auto& [key, name] : {std::pair{"printed", "printed on the part"},
                                  {"mate", "its mate, printed"}}) {
    if (given.has(key)) limits.push_back({name, given.amount(key, newton_metre)});
  }
  const auto strictest = mech::strictest_torque(limits);
  if (!strictest) return std::unexpected(strictest.error());
  const auto spread = scatter(size, strictest->torque, most->preload,
                              {friction * 0.8, friction, std::min(friction * 1.25, 0.4)});
  if (!spread) return std::unexpected(spread.error());
  Reckoned reckoned{.rows = {row("Not above", {strictest->torque.in(newton_metre),
                                               Dimension::kTorque},
                                 "set by: " + strictest->name),
                             row("Bolt at 90 % of its yield",
                                 {most->torque.in(newton_metre), Dimension::kTorque},
                                 fmt::format("preload {}", with_unit(most->preload.in(newton), "N",
                                                                     0)))},
                    .tables = {*spread}};
  if (!given.has("printed")) {
    reckoned.cautions = {"Nothing printed was given: the part may stand far less than its bolt."};
  }
  return reckoned;
}

Input beginning_with(Input field, std::string preset) {
  field.preset = std::move(preset);
  return field;
}

Aid torque_aid() {
  return {.id = "torque", .title = "Tightening torque",
          .lead = "What a bolt stands, what the parts allow, and what friction makes of it.",
          .inputs = {beginning_with(choice("thread", "Thread", threads()), "M5"),
                     beginning_with(choice("class", "Bolt", classes()), "8.8"),
                     plain_number("friction", "Friction of thread and head", "0.14",
                                  "0.10 greased, 0.14 lightly oiled, 0.2 dry; common practice"),
                     amount("printed", "Printed on the part", Dimension::kTorque, "",
                            "the greatest; may stay empty"),
                     amount("mate", "Printed on its mate", Dimension::kTorque, "",
                            "may stay empty")},
          .method = "Motosh's equation; the bolt at 90 % of yield under tension and twist (VDI 2230). "
                    "The standard's printed tables give 0.2 to 0.4 % more.",
          .source = "bolt-torque, bolt-classes",
          .caution = "The value printed on the part or in its maker's book comes first. Grease on a "
                     "bolt whose torque is meant dry can over-stress it.",
          .reckon = torque};
}

}  // namespace

std::vector<Aid> joint_aids() { return {torque_aid()}; }

}  // namespace rollwright::aids
