#include <algorithm>

#include <fmt/format.h>

#include "aids/aids.hpp"
#include "aids/joint_ranges.hpp"
#include "base/text.hpp"
#include "mech/joint_torque_scatter.hpp"

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

constexpr const char* kNoJoint = "none named";

std::vector<std::string> joints() {
  std::vector<std::string> names = {kNoJoint};
  for (const JointRange& range : joint_ranges()) names.emplace_back(range.joint);
  return names;
}

mech::JointParts parts_of(const Given& given) {
  const mech::BoltClass& bolt =
      *std::ranges::find(mech::bolt_classes(), given.word("class"), &mech::BoltClass::name);
  mech::JointParts parts{.bolt = "bolt " + bolt.name, .bolt_yield = bolt.yield,
                         .engaged = given.amount("engaged", mm),
                         .tapped_shear = given.number("tapped_shear") * mech::megapascal,
                         .seat_most = given.number("seat_most") * mech::megapascal};
  if (given.has("printed")) {
    parts.printed = mech::TorqueLimit{"printed on the part", given.amount("printed", newton_metre)};
  }
  if (given.has("needed")) parts.needed = given.amount("needed", newton);
  return parts;
}

Row force_row(std::string name, Force force, std::string note = {}) {
  return row(std::move(name), {force.in(newton), Dimension::kForce}, std::move(note));
}

/// What is printed first, then what is usual for the joint, then what was reckoned.
void add_maker_and_usual(const Given& given, Torque reckoned_most, Reckoned& reckoned) {
  std::vector<Row> first;
  const auto row_of = [](const char* name, double torque_nm, std::string note) {
    return row(name, {torque_nm, Dimension::kTorque}, std::move(note));
  };
  if (given.has("printed")) {
    first.push_back(row_of("Printed, goes first", given.amount("printed", newton_metre).in(newton_metre),
                           "the maker's value"));
  }
  if (const JointRange* range = joint_called(given.word("joint"))) {
    first.push_back(row_of("Usual, from", range->least_nm, std::string(range->name)));
    first.push_back(row_of("Usual, to", range->most_nm, std::string(range->source)));
    if (reckoned_most.in(newton_metre) < range->least_nm) {
      reckoned.cautions.push_back("What was reckoned lies under what is usual for this joint: look "
                                  "at thread, bolt and part again.");
    }
  }
  reckoned.rows.insert(reckoned.rows.begin(), first.begin(), first.end());
}

/// A part that was tightened until it failed, against 1.5 times its print.
Result<void> add_margin(const Given& given, Reckoned& reckoned) {
  if (!given.has("failed") || !given.has("printed")) return {};
  const auto keeps = mech::keeps_failure_margin(given.amount("failed", newton_metre),
                                                given.amount("printed", newton_metre));
  if (!keeps) return std::unexpected(keeps.error());
  reckoned.rows.push_back({"Keeps 1.5 times its print", *keeps ? "yes" : "no", "", "ISO 4210-2"});
  if (!*keeps) reckoned.cautions.push_back("The part failed under 1.5 times its own print.");
  return {};
}

Result<Reckoned> torque(const Given& given) {
  const mech::TighteningRow& size =
      *std::ranges::find(mech::tightening_rows(), given.word("thread"), &mech::TighteningRow::thread);
  const auto joint = mech::joint_torque(
      {.thread = size.size, .head_face = size.head_face, .hole = size.hole}, parts_of(given),
      {.least_friction = given.number("least_friction"),
       .most_friction = given.number("most_friction"), .tool = given.number("tool") / 100});
  if (!joint) return std::unexpected(joint.error());
  Reckoned reckoned{
      .rows = {row("Not above", {joint->torque.in(newton_metre), Dimension::kTorque},
                   "set by: " + joint->weakest),
               force_row("Preload then, least", joint->preload.least, "rough and under-tightened"),
               force_row("Preload then, most", joint->preload.most, "slick and over-tightened")}};
  for (const mech::JointLimit& limit : joint->limits) {
    reckoned.rows.push_back(force_row("Stood by the " + limit.name, limit.preload));
  }
  if (!given.has("printed")) {
    reckoned.cautions = {"Nothing printed was given: the part may stand far less than this."};
  }
  add_maker_and_usual(given, joint->torque, reckoned);
  if (const auto ok = add_margin(given, reckoned); !ok) return std::unexpected(ok.error());
  if (!joint->enough) {
    reckoned.cautions.push_back("At this torque the joint may not reach the preload it needs.");
  }
  return reckoned;
}

Aid torque_aid() {
  return {.id = "torque", .title = "Tightening torque",
          .lead = "The weakest of bolt, thread and part, and what friction makes of a torque.",
          .inputs = {choice("joint", "Joint", joints(), "for its usual range"),
                     starting_with(choice("thread", "Thread", threads()), "M5"),
                     starting_with(choice("class", "Bolt", classes()), "8.8"),
                     amount("printed", "Printed on the part", Dimension::kTorque, "",
                            "the greatest; may stay empty"),
                     millimetres("engaged", "Thread in the part", "8"),
                     plain_number("tapped_shear", "Shear strength of the part, MPa", "150",
                                  "aluminium about 150, steel 300 and more (from memory)"),
                     plain_number("seat_most", "Pressure its seat stands, MPa", "500",
                                  "steel or a steel washer 500, bare aluminium about 300 (from memory)"),
                     plain_number("least_friction", "Friction of thread and head, least", "0.10",
                                  "0.10 greased, 0.14 lightly oiled, 0.2 dry; common practice"),
                     plain_number("most_friction", "Friction of thread and head, most", "0.16"),
                     plain_number("tool", "Wrench off by, per cent", "6"),
                     amount("failed", "Torque at which one failed", Dimension::kTorque, "",
                            "a test to the end, held against the print; may stay empty"),
                     amount("needed", "Preload needed", Dimension::kForce, "", "may stay empty")},
          .method = "The torque at which nothing is overloaded even with slick threads and a wrench that "
                    "reads low; bolts at 90 % of yield under tension and twist (VDI 2230), threads at "
                    "75 % of their strength.",
          .source = "bolt-torque, bolt-classes, joint-torques",
          .caution = "The value printed on the part or in its maker's book comes first. Grease on a "
                     "bolt whose torque is meant dry can over-stress it.",
          .reckon = torque};
}

}  // namespace

std::vector<Aid> joint_aids() { return {torque_aid()}; }

}  // namespace rollwright::aids
