#include "mech/joint_torque_scatter.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr double kFailureMargin = 1.5;  // ISO 4210-2

std::optional<Error> scatter_problem(const JointScatter& scatter) {
  if (auto error = first_outside({{"least friction", scatter.least_friction, 0.04, 0.4, ""},
                                  {"most friction", scatter.most_friction, 0.04, 0.4, ""},
                                  {"tool's share", scatter.tool, 0, 0.5, ""}})) {
    return error;
  }
  if (scatter.least_friction <= scatter.most_friction) return std::nullopt;
  return Error{Code::kContradiction, "The least friction is over the most; swap the two numbers.",
               Place{.field = "least friction"}};
}

BoltedJoint with_friction(BoltedJoint joint, double friction) {
  joint.thread_friction = joint.head_friction = friction;
  return joint;
}

/// Bolt, tapped thread and seat, weakest first.
Result<std::vector<JointLimit>> joint_limits(const BoltedJoint& slick, const JointParts& parts) {
  if (auto error = first_outside(
          {{"engaged thread", parts.engaged.in(mm), 1, 60, "mm"},
           {"shear strength of the part", parts.tapped_shear.in(megapascal), 20, 1500, "MPa"},
           {"share of the thread", parts.thread_share, 0.1, 1, ""},
           {"pressure under the head", parts.seat_most.in(megapascal), 20, 2000, "MPa"},
           {"preload needed", parts.needed.in(newton), 0, 1e6, "N"}})) {
    return std::unexpected(*error);
  }
  const auto bolt = preload_at_yield(slick, parts.bolt_yield, parts.yield_share);
  if (!bolt) return std::unexpected(bolt.error());
  const auto sizes = thread_sizes(slick.thread);
  if (!sizes) return std::unexpected(sizes.error());
  const double d = slick.thread.diameter.in(mm);
  const double pitch = slick.thread.pitch.in(mm);
  const double sheared_mm2 = std::numbers::pi * d * (parts.engaged.in(mm) / pitch) *
                             (pitch / 2 + (d - sizes->flank.in(mm)) / std::numbers::sqrt3);
  const double head = slick.head_face.in(mm);
  const double hole = slick.hole.in(mm);
  const double seat_mm2 = std::numbers::pi / 4 * (head * head - hole * hole);
  std::vector<JointLimit> limits = {
      {parts.bolt, *bolt},
      {parts.tapped, parts.thread_share * parts.tapped_shear.in(megapascal) * sheared_mm2 * newton},
      {parts.seat, parts.seat_most.in(megapascal) * seat_mm2 * newton}};
  std::stable_sort(limits.begin(), limits.end(), [](const JointLimit& a, const JointLimit& b) {
    return a.preload < b.preload;
  });
  return limits;
}

}  // namespace

Result<PreloadBand> preload_band(const BoltedJoint& joint, Torque torque,
                                 const JointScatter& scatter) {
  if (auto error = scatter_problem(scatter)) return std::unexpected(*error);
  const double middle = (scatter.least_friction + scatter.most_friction) / 2;
  const auto least =
      preload_for_torque(with_friction(joint, scatter.most_friction), (1 - scatter.tool) * torque);
  const auto nominal = preload_for_torque(with_friction(joint, middle), torque);
  const auto most =
      preload_for_torque(with_friction(joint, scatter.least_friction), (1 + scatter.tool) * torque);
  for (const auto* preload : {&least, &nominal, &most}) {
    if (!*preload) return std::unexpected(preload->error());
  }
  return PreloadBand{*least, *nominal, *most, *least > Force{} ? *most / *least : 1};
}

Result<JointTorque> joint_torque(const BoltedJoint& joint, const JointParts& parts,
                                 const JointScatter& scatter) {
  if (auto error = scatter_problem(scatter)) return std::unexpected(*error);
  const BoltedJoint slick = with_friction(joint, scatter.least_friction);
  const auto limits = joint_limits(slick, parts);
  if (!limits) return std::unexpected(limits.error());
  const auto torque = torque_for_preload(slick, limits->front().preload);
  if (!torque) return std::unexpected(torque.error());
  std::vector<TorqueLimit> torques = {{limits->front().name, *torque / (1 + scatter.tool)}};
  if (parts.printed) torques.push_back(*parts.printed);
  const auto strictest = strictest_torque(torques);
  if (!strictest) return std::unexpected(strictest.error());
  const auto band = preload_band(joint, strictest->torque, scatter);
  if (!band) return std::unexpected(band.error());
  return JointTorque{strictest->torque, strictest->name, *band, *limits,
                     band->least >= parts.needed};
}

Result<bool> keeps_failure_margin(Torque failure, Torque printed) {
  if (auto error =
          first_outside({{"failure torque", failure.in(newton_metre), 0.1, 500, "N·m"},
                         {"printed torque", printed.in(newton_metre), 0.1, 500, "N·m"}})) {
    return std::unexpected(*error);
  }
  return failure >= kFailureMargin * printed;
}

}  // namespace rollwright::mech
