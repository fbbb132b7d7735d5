#include "mech/joint_torque.hpp"

#include <gtest/gtest.h>

#include <string>

#include "base/random.hpp"
#include "mech/trials/checked.hpp"

namespace rollwright::mech {
namespace {

using trials::CheckedRow;
using trials::expect_row;
using trials::expect_rows;
using trials::Tag;

const TighteningRow& row_named(const std::string& thread) {
  for (const TighteningRow& row : tightening_rows()) {
    if (row.thread == thread) return row;
  }
  throw std::logic_error("no row " + thread);
}

const BoltClass& class_named(const std::string& name) {
  for (const BoltClass& row : bolt_classes()) {
    if (row.name == name) return row;
  }
  throw std::logic_error("no class " + name);
}

BoltedJoint joint_of(const std::string& thread, double friction) {
  const TighteningRow& row = row_named(thread);
  return {row.size, row.head_face, row.hole, friction, friction};
}

struct ThreadRow {
  std::string name;
  double d, p, d2, d1, d3, area;
  double proof[3], printed[3];  // at 8.8, 10.9 and 12.9: derived, and as ISO 898-1 rounds them
};
constexpr const char* kProofClasses[] = {"8.8", "10.9", "12.9"};

// Derived from ISO 68-1 and ISO 724; ISO 898-1 from memory.
const ThreadRow kThreadRows[] = {
    {"M4", 4, 0.7, 3.5453, 3.2422, 3.1412, 8.779, {5092, 7286, 8515}, {5100, 7290, 8520}},
    {"M5", 5, 0.8, 4.4804, 4.1340, 4.0185, 14.183, {8226, 11772, 13757}, {8230, 11800, 13800}},
    {"M6", 6, 1, 5.3505, 4.9175, 4.7731, 20.123, {11672, 16702, 19520}, {11600, 16700, 19500}},
    {"M8", 8, 1.25, 7.1881, 6.6468, 6.4664, 36.609, {21233, 30385, 35510}, {21200, 30400, 35500}},
    {"M10", 10, 1.5, 9.0257, 8.3762, 8.1597, 57.990, {33634, 48131, 56250}, {33700, 48100, 56300}},
};

TEST(ThreadSizes, AgreeWithTheStandardProfile) {
  for (const ThreadRow& row : kThreadRows) {
    const auto sizes = thread_sizes({row.d * mm, row.p * mm});
    ASSERT_TRUE(sizes);
    const std::string name = "7.14 " + row.name;
    expect_rows({.unit = "mm", .source = "metric-thread"},
                {{name + " flank", "flank diameter of " + row.name, row.d2, 0.00006,
                  sizes->flank.in(mm)},
                 {name + " nut", "core diameter of the nut, " + row.name, row.d1, 0.00006,
                  sizes->nut_core.in(mm)},
                 {name + " core", "core diameter of the bolt, " + row.name, row.d3, 0.00006,
                  sizes->core.in(mm)}});
    expect_rows({.unit = "mm²", .source = "metric-thread"},
                {{name + " area", "stress area of " + row.name, row.area, 0.0006,
                  sizes->stress_area_mm2}});
    for (int i = 0; i < 3; ++i) {
      const std::string bolt = row.name + " " + kProofClasses[i];
      const double proof = class_named(kProofClasses[i]).proof.in(megapascal);
      expect_rows({.unit = "N", .source = "bolt-classes"},
                  {{"7.15 " + bolt, "proof load of " + bolt, row.proof[i], 0.6,
                    proof * sizes->stress_area_mm2}});
      expect_rows({.unit = "N", .tag = Tag::kMemory, .source = "bolt-classes"},
                  {{"7.15 " + bolt + ", printed", "the same from rounded areas, to 1 %",
                    row.printed[i], 0.01 * row.printed[i], proof * sizes->stress_area_mm2}});
    }
  }
}

struct YieldRow {
  std::string row;
  const char* thread;
  const char* bolt_class;
  double preload_kn[3], torque_nm[3];  // at friction 0.10, 0.12, 0.14; 0 when not given
  Tag tag = Tag::kDerived;
};
constexpr double kFrictions[] = {0.10, 0.12, 0.14};
const char* const kFrictionNames[] = {"0.10", "0.12", "0.14"};

const YieldRow kYieldRows[] = {
    {"7.1", "M4", "8.8", {4.54, 4.42, 4.30}, {2.62, 2.96, 3.28}},
    {"7.2", "M5", "8.8", {7.39, 7.20, 7.01}, {5.15, 5.84, 6.48}},
    {"7.3", "M6", "8.8", {10.45, 10.18, 9.91}, {8.96, 10.15, 11.26}},
    {"7.4", "M8", "8.8", {19.10, 18.63, 18.13}, {21.64, 24.57, 27.30}},
    {"7.5", "M8x1", "8.8", {20.73, 20.24, 19.73}, {22.85, 26.12, 29.18}, Tag::kFoundDerived},
    {"7.6", "M8x1", "10.9", {30.45, 29.73, 28.98}, {33.55, 38.37, 42.86}, Tag::kFoundDerived},
    {"7.7", "M8x1", "12.9", {35.63, 34.79, 33.91}, {39.27, 44.90, 50.15}, Tag::kFoundDerived},
    {"7.7c", "M4", "10.9", {0, 0, 6.32}, {0, 0, 4.82}, Tag::kFoundDerived},
    {"7.7c", "M5", "10.9", {0, 0, 10.29}, {0, 0, 9.52}, Tag::kFoundDerived},
    {"7.7c", "M6", "10.9", {0, 0, 14.55}, {0, 0, 16.53}, Tag::kFoundDerived},
    {"7.7c", "M8", "10.9", {0, 0, 26.63}, {0, 0, 40.10}, Tag::kFoundDerived},
    {"7.7d", "M4", "12.9", {0, 0, 7.39}, {0, 0, 5.64}, Tag::kFoundDerived},
    {"7.7d", "M5", "12.9", {0, 0, 12.05}, {0, 0, 11.14}, Tag::kFoundDerived},
    {"7.7d", "M6", "12.9", {0, 0, 17.03}, {0, 0, 19.35}, Tag::kFoundDerived},
    {"7.7d", "M8", "12.9", {0, 0, 31.16}, {0, 0, 46.92}, Tag::kFoundDerived},
    {"7.8", "M5", "A2-70", {5.19, 5.06, 4.93}, {3.62, 4.11, 4.56}},
};

/// The printed tables round 1 / 2 pi to 0.16 and 1 / (2 cos 30) to 0.58: 0.2 to 0.4 % more torque.
double table_tolerance(double torque_nm, double half_step) { return 0.004 * torque_nm + half_step; }

TEST(Tightening, AgreesWithThePublishedTable) {
  for (const YieldRow& row : kYieldRows) {
    for (int i = 0; i < 3; ++i) {
      if (row.preload_kn[i] == 0) continue;
      const std::string bolt = std::string(row.thread) + " " + row.bolt_class;
      SCOPED_TRACE(bolt);
      const auto tightening = tightening_at_90_percent(joint_of(row.thread, kFrictions[i]),
                                                       class_named(row.bolt_class).yield);
      ASSERT_TRUE(tightening) << tightening.error().full();
      const std::string name = row.row + " " + bolt + " at " + kFrictionNames[i];
      const std::string of = " of " + bolt + " to 90 % of yield, friction " + kFrictionNames[i];
      expect_rows({.unit = "kN", .tag = row.tag, .source = "bolt-torque"},
                  {{name + ", preload", "preload" + of, row.preload_kn[i], 0.006,
                    tightening->preload.in(newton) / 1000}});
      expect_rows({.unit = "N m", .tag = row.tag, .source = "bolt-torque"},
                  {{name + ", torque", "torque" + of, row.torque_nm[i],
                    table_tolerance(row.torque_nm[i], 0.005),
                    tightening->torque.in(newton_metre)}});
    }
  }
}

double torque_at_yield(const char* thread, const char* bolt_class, double friction) {
  return tightening_at_90_percent(joint_of(thread, friction), class_named(bolt_class).yield)
      ->torque.in(newton_metre);
}

TEST(Tightening, AgreesWithTwoIndustrialTables) {
  const std::pair<std::string, double> rows[] = {
      {"M4", 3.3}, {"M5", 6.5}, {"M6", 11.3}, {"M8", 27.3}};
  for (const auto& [thread, torque] : rows) {
    expect_rows({.unit = "N m", .tag = Tag::kFoundDerived, .source = "bolt-torque"},
                {{"7.7b " + thread, "torque of " + thread + " 8.8 at 0.14, as printed", torque,
                  table_tolerance(torque, 0.05), torque_at_yield(thread.c_str(), "8.8", 0.14)}});
  }
  expect_row({.row = "7.8 printed",
              .of = "torque of M5 A2-70 at 0.14 in an operating manual",
              .unit = "N m",
              .expected = 4.2,
              .tolerance = 0.05,
              .ours = torque_at_yield("M5", "A2-70", 0.14),
              .tag = Tag::kFound,
              .source = "bolt-torque",
              .why = "The manual reckons with a lower yield than the 450 MPa of the class.",
              .reasoned = 4.56,
              .reasoned_tolerance = 0.024});
}

/// More torque for the same preload with a cap screw's small head, in per cent.
double more_with_cap_head(const std::string& thread, double head_mm) {
  BoltedJoint joint = joint_of(thread, 0.12);
  const Torque plain = *torque_for_preload(joint, 5000 * newton);
  joint.head_face = head_mm * mm;
  return 100 * (*torque_for_preload(joint, 5000 * newton) / plain - 1);
}

TEST(Tightening, SmallHeadsOfCapScrewsTakeALittleMore) {
  const CheckedRow small = {.of = "more torque with a cap screw head, 4 to 6",
                            .unit = "%",
                            .expected = 5,
                            .tolerance = 1.5,
                            .source = "bolt-torque"};
  for (const auto& [thread, head_mm] : {std::pair<std::string, double>{"M4", 7}, {"M5", 8.5}}) {
    CheckedRow row = small;
    row.row = "7.16 " + thread;
    row.ours = more_with_cap_head(thread, head_mm);
    expect_row(row);
  }
  // Reasoned by hand from (0.16 p + 0.58 d2 mu + D mu / 2) of both heads.
  struct Larger {
    std::string thread;
    double head_mm, reasoned;
  };
  for (const Larger& larger : {Larger{"M6", 10, 3.37}, Larger{"M8", 13, 3.11}}) {
    CheckedRow row = small;
    row.row = "7.16 " + larger.thread;
    row.ours = more_with_cap_head(larger.thread, larger.head_mm);
    row.why = "By hand, with the head faces given, 4 to 6 % fit M4 and M5; M6 and M8 take 3 %.";
    row.reasoned = larger.reasoned;
    row.reasoned_tolerance = 0.03;
    expect_row(row);
  }
}

struct PreloadRow {
  const char* name;
  const char* of;
  Thread thread;
  double face_mm, hole_mm, friction, torque_nm, preload_kn;
};

// Derived; cap screw heads of ISO 4762.
constexpr PreloadRow kPreloadRows[] = {
    {"7.9", "preload of M5 at 5 N m, friction 0.12", {5 * mm, 0.8 * mm},
     8.5, 5.5, 0.12, 5, 5.83},
    {"7.10", "preload of M6 at 6 N m, friction 0.14", {6 * mm, 1.0 * mm},
     10, 6.6, 0.14, 6, 5.12},
    {"7.11", "preload of M8 at 12 N m, friction 0.12", {8 * mm, 1.25 * mm},
     13, 9, 0.12, 12, 8.84},
    {"7.12", "preload of M5 at 6 N m, friction 0.10", {5 * mm, 0.8 * mm},
     8.5, 5.5, 0.10, 6, 8.15},
};

TEST(Preload, AgreesWithTheCheckValues) {
  for (const PreloadRow& row : kPreloadRows) {
    SCOPED_TRACE(row.name);
    const BoltedJoint joint{row.thread, row.face_mm * mm, row.hole_mm * mm, row.friction,
                            row.friction};
    const auto preload = preload_for_torque(joint, row.torque_nm * newton_metre);
    ASSERT_TRUE(preload);
    expect_rows({.unit = "kN", .source = "bolt-torque"},
                {{row.name, row.of, row.preload_kn, 0.006, preload->in(newton) / 1000}});
    EXPECT_NEAR(torque_for_preload(joint, *preload)->in(newton_metre), row.torque_nm, 1e-12);
  }
}

TEST(Preload, GreaseOnADryTorqueComesNearProofLoad) {
  const double area = thread_sizes({5 * mm, 0.8 * mm})->stress_area_mm2;
  const double proof = area * class_named("8.8").proof.in(megapascal);
  const BoltedJoint dry{{5 * mm, 0.8 * mm}, 8.5 * mm, 5.5 * mm, 0.12, 0.12};
  const BoltedJoint greased{{5 * mm, 0.8 * mm}, 8.5 * mm, 5.5 * mm, 0.10, 0.10};
  const double dry_n = preload_for_torque(dry, 5 * newton_metre)->in(newton);
  const double greased_n = preload_for_torque(greased, 6 * newton_metre)->in(newton);
  expect_rows({.unit = "MPa", .source = "bolt-torque"},
              {{"7.9 stress", "the same as a stress", 411, 1, dry_n / area}});
  expect_rows({.unit = "%", .source = "bolt-torque"},
              {{"7.9 share", "the same, of the proof load of 8.8", 71, 0.5, 100 * dry_n / proof},
               {"7.12 share", "the same, of the proof load of 8.8", 99, 0.5,
                100 * greased_n / proof}});
  // The nut factor estimate with K 0.2 gives 5.0 kN for row 7.9: lower, and rougher.
  EXPECT_LT(5.0 / (0.2 * 5) * 1000, dry_n);
}

TEST(Preload, FallsWithFriction) {
  Random random(3);
  for (int i = 0; i < 300; ++i) {
    const double friction = 0.05 + 0.3 * random.uniform();
    const Torque torque = (1 + 20 * random.uniform()) * newton_metre;
    const auto slick = preload_for_torque(joint_of("M6", friction), torque);
    const auto rough = preload_for_torque(joint_of("M6", friction + 0.01), torque);
    EXPECT_GT(slick->in(newton), rough->in(newton)) << "seed 3, case " << i;
  }
}

TEST(Torque, ConvertsAsPublished) {
  expect_rows({.unit = "lbf in", .source = "conversions"},
              {{"7.13 one", "1 N m", 8.850746, 6e-7, (1 * newton_metre).in(inch_pound)},
               {"7.13 forty", "40 N m", 354.03, 0.005, (40 * newton_metre).in(inch_pound)}});
  expect_rows({.unit = "N m", .source = "conversions"},
              {{"7.13 foot", "1 lbf ft", 1.355818, 6e-7, (12 * inch_pound).in(newton_metre)}});
}

TEST(StrictestTorque, NamesTheWeakest) {
  const auto strictest = strictest_torque({{"bolt 8.8", 5.84 * newton_metre},
                                           {"bar, printed", 5 * newton_metre},
                                           {"stem, printed", 6 * newton_metre}});
  EXPECT_EQ(strictest->name, "bar, printed");
  EXPECT_EQ(strictest_torque({}).error().code, Code::kBadInput);
  EXPECT_EQ(strictest_torque({{"x", -1 * newton_metre}}).error().code, Code::kOutOfRange);
}

TEST(BoltedJoint, RefusesWhatCannotBe) {
  BoltedJoint joint = joint_of("M5", 0.12);
  joint.hole = 8 * mm;
  EXPECT_EQ(preload_for_torque(joint, 5 * newton_metre).error().code, Code::kContradiction);
  joint = joint_of("M5", 0.12);
  joint.thread.pitch = 3 * mm;
  EXPECT_EQ(preload_for_torque(joint, 5 * newton_metre).error().code, Code::kContradiction);
  joint = joint_of("M5", 1.2);
  EXPECT_EQ(preload_for_torque(joint, 5 * newton_metre).error().code, Code::kOutOfRange);
}

}  // namespace
}  // namespace rollwright::mech
