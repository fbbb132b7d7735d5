#include "build/aid_fields.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "build/ride_loads.hpp"
#include "build/worked_bike.hpp"

// All parts are invented (worked_bike.hpp).
namespace rollwright::build {
namespace {

AidFields fields_of(const WorkedBike& bike, const std::string& aid, const std::string& end = "") {
  const BikeFacts facts = bike.facts(shipped_trade());
  const auto fields = aid_fields(FactReader(shipped_trade(), facts), aid, end);
  EXPECT_TRUE(fields) << fields.error().full();
  return *fields;
}

std::string typed(const AidFields& fields, const std::string& key) {
  const auto found = std::ranges::find(fields.filled, key, &AidField::key);
  return found == fields.filled.end() ? "not filled" : found->typed;
}

std::string question(const AidFields& fields, const std::string& key) {
  const auto found = std::ranges::find(fields.questions, key, &AidQuestion::key);
  return found == fields.questions.end() ? "" : found->sentence;
}

TEST(AidFields, CarryTheUnitsOfTheFacts) {
  const AidFields fields = fields_of(worked_bike(), "gears");
  EXPECT_EQ(typed(fields, "fronts"), "32");
  EXPECT_EQ(typed(fields, "crank"), "172.5 mm");
  EXPECT_EQ(typed(fields, "tyre"), "40-622");
}

TEST(AidFields, SayFromWhichPartTheyCome) {
  const AidFields fields = fields_of(worked_bike(), "gears");
  const auto crank = std::ranges::find(fields.filled, "crank", &AidField::key);
  ASSERT_NE(crank, fields.filled.end());
  EXPECT_NE(crank->origin.find("invented crankset"), std::string::npos) << crank->origin;
}

TEST(AidFields, AskWhatIsNotKnownAtItsField) {
  WorkedBike bike = worked_bike();
  bike.parts.at(trade::SlotId("crankset")).facts.erase("crank_length");
  const AidFields fields = fields_of(bike, "gears");
  EXPECT_EQ(typed(fields, "crank"), "not filled");
  EXPECT_NE(question(fields, "crank").find("crank arm length is not known"), std::string::npos)
      << question(fields, "crank");
}

TEST(AidFields, DoNotInventTheCogsBetween) {
  WorkedBike bike = worked_bike();
  bike.put("cassette", "K-CA", {{"cog_max", 51.0}, {"cog_min", 11.0}, {"speeds", 11.0}});
  const AidFields fields = fields_of(bike, "gears");
  EXPECT_EQ(typed(fields, "rears"), "11 51");
  EXPECT_NE(question(fields, "rears").find("between"), std::string::npos);
}

TEST(AidFields, TakeEveryCogThatIsStated) {
  WorkedBike bike = worked_bike();
  const std::vector<std::string> cogs = {"51", "11", "28"};
  bike.put("cassette", "K-CA",
           {{"cog_max", 51.0}, {"cog_min", 11.0}, {"speeds", 3.0}, {"cogs", cogs}});
  const AidFields fields = fields_of(bike, "gears");
  EXPECT_EQ(typed(fields, "rears"), "11 28 51");
  EXPECT_EQ(question(fields, "rears"), "");
}

TEST(AidFields, DoNotTakeAListThatContradictsItsEnds) {
  WorkedBike bike = worked_bike();
  const std::vector<std::string> cogs = {"11", "28", "46"};
  bike.put("cassette", "K-CA",
           {{"cog_max", 51.0}, {"cog_min", 11.0}, {"speeds", 3.0}, {"cogs", cogs}});
  EXPECT_EQ(typed(fields_of(bike, "gears"), "rears"), "11 51");
}

TEST(AidFields, SayWhereAnAidHasNothingToSay) {
  const AidFields fields = fields_of(worked_bike(), "belt");
  EXPECT_EQ(fields.not_here, "this bike is driven by a chain");
  EXPECT_TRUE(fields.filled.empty());
}

TEST(AidFields, LookAtTheEndThatIsAsked) {
  WorkedBike bike = worked_bike();
  bike.put("front_tyre", "K-TY", {{"tyre_width", 50.0}, {"bead_seat_diameter", 622.0}});
  EXPECT_EQ(typed(fields_of(bike, "tyre-pressure", "front"), "tyre"), "50-622");
  EXPECT_EQ(typed(fields_of(bike, "tyre-pressure", "rear"), "tyre"), "40-622");
}

TEST(AidFields, RefuseAnEndThatABikeDoesNotHave) {
  const BikeFacts facts = worked_bike().facts(shipped_trade());
  const auto fields = aid_fields(FactReader(shipped_trade(), facts), "gears", "middle");
  ASSERT_FALSE(fields);
  EXPECT_EQ(fields.error().code, Code::kBadInput);
}

WorkedBike with_geometry() {
  WorkedBike bike = worked_bike();
  trade::Part& frame = bike.parts.at(trade::SlotId("frame"));
  for (const auto& [key, value] : {std::pair{"wheelbase", 1060.0}, {"bb_drop", 65.0},
                                   {"seat_angle", 1.2741}}) {  // 73 degrees
    frame.facts[key] = {.standing = trade::Standing::kKnown, .value = value};
  }
  return bike;
}

/// A balance in which every mass is at its own place must give the same centre: second opinion by
/// moments about the front wheel's contact and about the ground.
TEST(MassCentre, IsWhereTheMomentsOfThePiecesPutIt) {
  const WorkedBike bike = with_geometry();
  const BikeFacts facts = bike.facts(shipped_trade());
  FactReader reader(shipped_trade(), facts);
  const auto mass = standing_mass(reader);
  const auto centre = mass_centre(reader);
  ASSERT_TRUE(mass && centre) << (reader.questions().empty() ? "" : reader.questions()[0]);
  EXPECT_NEAR(mass->front.in(kg) * 0 + mass->rear.in(kg) * 1060,
              mass->whole().in(kg) * centre->behind_front.in(mm), 1e-6);
  // Tyre 40-622: axles at 351 mm, bracket at 286; 0.883 of 820 mm up the seat tube is 692.4 high.
  const double rider = 286 + 724.06 * 0.95630 + 220;
  const double bike_kg = mass->bike.in(kg);
  const double moments = 80 * rider + bike_kg * (351 + 200) + 20 * (702 + 100);
  EXPECT_NEAR(centre->height.in(mm), moments / (100 + bike_kg), 1);
}

TEST(MassCentre, RisesWithATallerRider) {
  WorkedBike bike = with_geometry();
  const auto height = [&bike] {
    const BikeFacts facts = bike.facts(shipped_trade());
    FactReader reader(shipped_trade(), facts);
    return mass_centre(reader).value().height.in(mm);
  };
  const double before = height();
  bike.order.rider.inseam = 900.0 * mm;
  EXPECT_GT(height(), before + 20);
}

}  // namespace
}  // namespace rollwright::build
