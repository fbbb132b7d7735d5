#include "mech/joint_torque.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

const double kCosFlank = std::cos(30 * degree.in(radian));  // half of the 60 degree profile

std::optional<Error> joint_problem(const BoltedJoint& joint) {
  if (auto error = first_outside({{"head face", joint.head_face.in(mm), 3, 60, "mm"},
                                  {"hole", joint.hole.in(mm), 2, 33, "mm"},
                                  {"thread friction", joint.thread_friction, 0.04, 0.4, ""},
                                  {"head friction", joint.head_friction, 0.04, 0.4, ""}})) {
    return error;
  }
  if (joint.hole < joint.head_face) return std::nullopt;
  return Error{
      Code::kContradiction,
      fmt::format("The hole of {} mm is not smaller than the head's face of {} mm; the bolt "
                  "would fall through.",
                  rounded(joint.hole.in(mm), 2), rounded(joint.head_face.in(mm), 2)),
      Place{.field = "hole"}};
}

/// Torque per newton of preload, in mm.
Result<double> lever_mm(const BoltedJoint& joint) {
  if (auto error = joint_problem(joint)) return std::unexpected(*error);
  const auto sizes = thread_sizes(joint.thread);
  if (!sizes) return std::unexpected(sizes.error());
  const double face = (joint.head_face + joint.hole).in(mm) / 2;
  return joint.thread.pitch.in(mm) / (2 * std::numbers::pi) +
         joint.thread_friction * sizes->flank.in(mm) / (2 * kCosFlank) +
         joint.head_friction * face / 2;
}

}  // namespace

Result<ThreadSizes> thread_sizes(const Thread& thread) {
  if (auto error = first_outside({{"thread diameter", thread.diameter.in(mm), 2, 30, "mm"},
                                  {"thread pitch", thread.pitch.in(mm), 0.25, 3.5, "mm"}})) {
    return std::unexpected(*error);
  }
  const Length height = std::sqrt(3.0) / 2 * thread.pitch;
  const Length flank = thread.diameter - 0.75 * height;
  const Length core = thread.diameter - 17.0 / 12 * height;
  if (!(core > thread.diameter / 2)) {
    return refuse(
        Code::kContradiction,
        fmt::format("A pitch of {} mm cuts a {} mm bolt to less than half; one of the two "
                    "is mistyped.",
                    rounded(thread.pitch.in(mm), 3), rounded(thread.diameter.in(mm), 2)),
        {.field = "thread pitch"});
  }
  const double mean = (flank + core).in(mm) / 2;
  return ThreadSizes{flank, thread.diameter - 1.25 * height, core, std::numbers::pi / 4 * mean * mean};
}

Result<Torque> torque_for_preload(const BoltedJoint& joint, Force preload) {
  if (auto error = first_outside({{"preload", preload.in(newton), 0, 1e6, "N"}})) {
    return std::unexpected(*error);
  }
  const auto lever = lever_mm(joint);
  if (!lever) return std::unexpected(lever.error());
  return preload.in(newton) * *lever / 1000 * newton_metre;
}

Result<Force> preload_for_torque(const BoltedJoint& joint, Torque torque) {
  if (auto error = first_outside({{"torque", torque.in(newton_metre), 0, 500, "N·m"}})) {
    return std::unexpected(*error);
  }
  const auto lever = lever_mm(joint);
  if (!lever) return std::unexpected(lever.error());
  return torque.in(newton_metre) * 1000 / *lever * newton;
}

Result<Force> preload_at_yield(const BoltedJoint& joint, Pressure yield, double share) {
  if (auto error = joint_problem(joint)) return std::unexpected(*error);
  if (auto error = first_outside({{"yield strength", yield.in(megapascal), 100, 2000, "MPa"},
                                  {"share of yield", share, 0.1, 1, ""}})) {
    return std::unexpected(*error);
  }
  const auto sizes = thread_sizes(joint.thread);
  if (!sizes) return std::unexpected(sizes.error());
  const double flank = sizes->flank.in(mm);
  const double mean = (sizes->flank + sizes->core).in(mm) / 2;
  const double twist =
      1.5 * flank / mean *
      (joint.thread.pitch.in(mm) / (std::numbers::pi * flank) + joint.thread_friction / kCosFlank);
  return sizes->stress_area_mm2 * share * yield.in(megapascal) / std::sqrt(1 + 3 * twist * twist) *
         newton;
}

const std::vector<BoltClass>& bolt_classes() {
  // [bolt-classes]
  static const std::vector<BoltClass> rows = {
      {"8.8", 640 * megapascal, 580 * megapascal},
      {"10.9", 940 * megapascal, 830 * megapascal},
      {"12.9", 1100 * megapascal, 970 * megapascal},
      {"A2-70", 450 * megapascal, {}},
  };
  return rows;
}

const std::vector<TighteningRow>& tightening_rows() {
  // Bearing faces and holes of [bolt-torque]'s table.
  static const std::vector<TighteningRow> rows = {
      {"M4", {4 * mm, 0.7 * mm}, 5.88 * mm, 4.5 * mm},
      {"M5", {5 * mm, 0.8 * mm}, 6.88 * mm, 5.5 * mm},
      {"M6", {6 * mm, 1.0 * mm}, 8.88 * mm, 6.6 * mm},
      {"M8", {8 * mm, 1.25 * mm}, 11.63 * mm, 9 * mm},
      {"M8x1", {8 * mm, 1.0 * mm}, 11.63 * mm, 9 * mm},
  };
  return rows;
}

Result<Tightening> tightening_at_90_percent(const BoltedJoint& joint, Pressure yield) {
  const auto preload = preload_at_yield(joint, yield);
  if (!preload) return std::unexpected(preload.error());
  const auto torque = torque_for_preload(joint, *preload);
  if (!torque) return std::unexpected(torque.error());
  return Tightening{*preload, *torque};
}

Result<TorqueLimit> strictest_torque(const std::vector<TorqueLimit>& limits) {
  if (limits.empty()) {
    return refuse(Code::kBadInput,
                  "This joint has no torque limit; enter the value printed on the part.",
                  {.field = "torque limit"});
  }
  for (const TorqueLimit& limit : limits) {
    if (auto error =
            first_outside({{limit.name, limit.torque.in(newton_metre), 0.05, 500, "N·m"}})) {
      return std::unexpected(*error);
    }
  }
  return *std::min_element(
      limits.begin(), limits.end(),
      [](const TorqueLimit& a, const TorqueLimit& b) { return a.torque < b.torque; });
}

}  // namespace rollwright::mech
