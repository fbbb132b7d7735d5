#include "mech/route.hpp"

#include <gtest/gtest.h>

#include <GeographicLib/Geodesic.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>

#include "base/random.hpp"
#include "base/text.hpp"

namespace rollwright::mech {
namespace {

std::string gpx_of(const std::string& body) {
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<gpx version=\"1.1\" creator=\"test\">\n" +
         body + "</gpx>\n";
}

Error error_of(const std::string& text) {
  const auto routes = read_gpx(text, "ride.gpx");
  return routes ? Error{Code::kNotFound, "it was read", {}} : routes.error();
}

TEST(Gpx, ReadsTracksAndPlannedRoutesInOrder) {
  const auto routes =
      read_gpx(gpx_of("<wpt lat=\"1\" lon=\"2\"/>\n<rte><name> to the lake </name>\n"
                      "<rtept lat=\"46.1\" lon=\"14.1\"/><rtept lat=\"46.2\" lon=\"14.1\"/></rte>\n"
                      "<trk><trkseg><trkpt lat=\"46\" lon=\"14\"><ele>300.5</ele></trkpt>\n"
                      "<trkpt lat=\"46.001\" lon=\"14\"><ele> 301 </ele></trkpt></trkseg>\n"
                      "<trkseg/><trkseg><trkpt lat=\"46.01\" lon=\"14\"/></trkseg></trk>\n"),
               "ride.gpx");
  ASSERT_TRUE(routes) << routes.error().full();
  ASSERT_EQ(routes->size(), 2u);
  EXPECT_EQ((*routes)[0].kind, RouteKind::kPlanned);
  EXPECT_EQ((*routes)[0].name, "to the lake");
  const Route& track = (*routes)[1];
  ASSERT_EQ(track.segments.size(), 2u) << "the empty segment is left out";
  EXPECT_EQ(track.segments[0][0].elevation->in(metre), 300.5);
  EXPECT_EQ(track.segments[0][1].line, 7);
  EXPECT_FALSE(track.segments[1][0].elevation);
}

TEST(Gpx, DoesNotJoinSegmentsAcrossAGap) {
  const auto routes = read_gpx(
      gpx_of("<trk><trkseg><trkpt lat=\"46\" lon=\"14\"/><trkpt lat=\"46.01\" lon=\"14\"/></trkseg>"
             "<trkseg><trkpt lat=\"46.5\" lon=\"14\"/><trkpt lat=\"46.51\" lon=\"14\"/></trkseg>"
             "</trk>"),
      "ride.gpx");
  const auto figures = figures_of(routes->front());
  ASSERT_TRUE(figures);
  EXPECT_NEAR(figures->length.in(metre), 2 * 1111.4, 1);
  EXPECT_EQ(figures->gaps, 1);
  EXPECT_NEAR(figures->across_gaps.in(km), 54.46, 0.02);
  EXPECT_FALSE(figures->climb) << "no elevation, no climb";
  EXPECT_EQ(figures->points_without_elevation, 4);
}

TEST(Gpx, RefusesHostileText) {
  const std::string bomb =
      "<?xml version=\"1.0\"?>\n<!DOCTYPE gpx [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;&a;&a;\">]>\n"
      "<gpx version=\"1.1\"><trk><name>&b;</name></trk></gpx>";
  EXPECT_EQ(error_of(bomb).code, Code::kBadInput);
  EXPECT_NE(error_of(bomb).sentence.find("document type"), std::string::npos);
  EXPECT_EQ(error_of(bomb).place.line, 2);
  EXPECT_EQ(error_of("<!DOCTYPE gpx SYSTEM \"file:///etc/passwd\"><gpx/>").place.field, "DOCTYPE");
  EXPECT_EQ(error_of("<!DOCTYPE gpx [").code, Code::kBadInput);
  EXPECT_EQ(error_of("\xff\xfe<gpx/>").code, Code::kBadInput);
  EXPECT_EQ(error_of("").code, Code::kBadInput);
  EXPECT_EQ(error_of("<html/>").code, Code::kBadInput);
  EXPECT_EQ(error_of("<gpx version=\"2.0\"/>").place.value, "2.0");
  std::string deep;
  for (int i = 0; i < 200000; ++i) deep += "<trk>";
  EXPECT_EQ(error_of(gpx_of(deep)).code, Code::kBadInput);
}

TEST(Gpx, RefusesTruncatedFilesAtEveryLength) {
  const std::string whole =
      gpx_of("<trk><trkseg><trkpt lat=\"46\" lon=\"14\"><ele>1</ele></trkpt></trkseg></trk>\n");
  ASSERT_TRUE(read_gpx(whole, "ride.gpx"));
  for (std::size_t length = 0; length + 2 < whole.size(); ++length) {
    const auto routes = read_gpx(whole.substr(0, length), "ride.gpx");
    ASSERT_FALSE(routes) << "first " << length << " bytes";
    EXPECT_FALSE(routes.error().sentence.empty());
  }
}

TEST(Gpx, SurvivesRandomDamage) {
  const std::string whole = gpx_of(
      "<trk><trkseg><trkpt lat=\"46\" lon=\"14\"><ele>1</ele></trkpt>"
      "<trkpt lat=\"46.1\" lon=\"14\"><ele>2</ele></trkpt></trkseg></trk>\n");
  Random random(404);
  for (int i = 0; i < 20000; ++i) {
    std::string damaged = whole;
    for (int n = 0; n < 3; ++n) {
      damaged[random.below(damaged.size())] = static_cast<char>(random.below(256));
    }
    const auto routes = read_gpx(damaged, "ride.gpx");
    if (!routes) {
      EXPECT_FALSE(routes.error().sentence.empty()) << "seed 404, case " << i;
      continue;
    }
    for (const Route& route : *routes) {
      EXPECT_TRUE(figures_of(route)) << "seed 404, case " << i;
    }
  }
}

struct BadPoint {
  const char* point;
  Code code;
  const char* field;
};

TEST(Gpx, RefusesBadPointsWithLineAndField) {
  const BadPoint rows[] = {
      {"<trkpt lat=\"91\" lon=\"14\"/>", Code::kOutOfRange, "lat"},
      {"<trkpt lat=\"-90.0001\" lon=\"14\"/>", Code::kOutOfRange, "lat"},
      {"<trkpt lat=\"46\" lon=\"180\"/>", Code::kOutOfRange, "lon"},
      {"<trkpt lat=\"46\" lon=\"-180.5\"/>", Code::kOutOfRange, "lon"},
      {"<trkpt lat=\"NaN\" lon=\"14\"/>", Code::kBadInput, "lat"},
      {"<trkpt lat=\"46\" lon=\"inf\"/>", Code::kBadInput, "lon"},
      {"<trkpt lat=\"46,5\" lon=\"14\"/>", Code::kBadInput, "lat"},
      {"<trkpt lon=\"14\"/>", Code::kBadInput, "lat"},
      {"<trkpt lat=\"46\"/>", Code::kBadInput, "lon"},
      {"<trkpt lat=\"46\" lon=\"14\"><ele>nan</ele></trkpt>", Code::kBadInput, "ele"},
      {"<trkpt lat=\"46\" lon=\"14\"><ele/></trkpt>", Code::kBadInput, "ele"},
      {"<trkpt lat=\"46\" lon=\"14\"><ele>32767</ele></trkpt>", Code::kOutOfRange, "ele"},
      {"<trkpt lat=\"48\" lon=\"14\"/>", Code::kOutOfRange, "trkpt"},
  };
  for (const BadPoint& row : rows) {
    SCOPED_TRACE(row.point);
    const Error error = error_of(gpx_of("<trk><trkseg>\n<trkpt lat=\"46\" lon=\"14\"/>\n" +
                                        std::string(row.point) + "\n</trkseg></trk>\n"));
    EXPECT_EQ(error.code, row.code);
    EXPECT_EQ(error.place.file, "ride.gpx");
    EXPECT_EQ(error.place.field, row.field);
    EXPECT_EQ(error.place.line, 5);
  }
}

TEST(Gpx, RefusesFilesWithoutAnyPoint) {
  EXPECT_EQ(error_of(gpx_of("")).code, Code::kBadInput);
  EXPECT_EQ(error_of(gpx_of("<trk><trkseg/></trk>")).code, Code::kBadInput);
  EXPECT_EQ(error_of(gpx_of("<wpt lat=\"1\" lon=\"1\"/>")).code, Code::kBadInput);
}

TEST(Gpx, KeepsItsLimits) {
  const std::string text = gpx_of(
      "<trk><trkseg><trkpt lat=\"46\" lon=\"14\"/><trkpt lat=\"46\" lon=\"14\"/></trkseg></trk>");
  EXPECT_EQ(read_gpx(text, "a.gpx", {.most_bytes = 50}).error().code, Code::kTooLarge);
  EXPECT_EQ(read_gpx(text, "a.gpx", {.most_points = 1}).error().code, Code::kTooLarge);
  EXPECT_TRUE(read_gpx(text, "a.gpx", {.most_points = 2}));
}

std::filesystem::path shared_routes() {
  const char* given = std::getenv("ROLLWRIGHT_SHARED");
  const std::filesystem::path shared =
      given != nullptr ? given : std::string(ROLLWRIGHT_ROOT) + "/../shared";
  return shared / "reference" / "routes";
}

double reference_metres(const Route& route) {
  double sum = 0;
  for (const auto& segment : route.segments) {
    for (std::size_t i = 1; i < segment.size(); ++i) {
      double step = 0;
      GeographicLib::Geodesic::WGS84().Inverse(
          segment[i - 1].latitude_deg, segment[i - 1].longitude_deg, segment[i].latitude_deg,
          segment[i].longitude_deg, step);
      sum += step;
    }
  }
  return sum;
}

class RecordedRoute : public testing::TestWithParam<const char*> {};

TEST_P(RecordedRoute, LengthAgreesWithASecondProgramToOneMillimetreAKilometre) {
  const auto path = shared_routes() / GetParam();
  if (!std::filesystem::exists(path)) {
    GTEST_SKIP() << "no recorded routes at " << path << "; set ROLLWRIGHT_SHARED to try them";
  }
  const auto text = read_file(path.string());
  ASSERT_TRUE(text);
  const auto routes = read_gpx(*text, GetParam());
  ASSERT_TRUE(routes) << routes.error().full();
  for (const Route& route : *routes) {
    const auto figures = figures_of(route);
    ASSERT_TRUE(figures) << figures.error().full();
    const double expected = reference_metres(route);
    EXPECT_NEAR(figures->length.in(metre), expected, expected * 1e-6 + 1e-9);
    RecordProperty("length_m", std::to_string(figures->length.in(metre)));
    if (!figures->climb) continue;
    RecordProperty("climb_m", std::to_string(figures->climb->up.in(metre)));
    for (const auto& segment : route.segments) {
      const auto profile = profile_of(segment);
      EXPECT_LE(climb_of(*profile)->up, raw_climb(*profile).up + 1e-6 * metre);
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Files, RecordedRoute,
                         testing::Values("cerknicko-jezero.gpx", "Mojstrovka.gpx", "route.gpx",
                                         "gpx1.1_with_all_fields.gpx", "track_with_speed.gpx"));

std::vector<ProfilePoint> slope(double metres, double grade) {
  std::vector<ProfilePoint> profile;
  for (double along = 0; along <= metres; along += 7) {
    profile.push_back({along * metre, (200 + grade * along) * metre});
  }
  return profile;
}

TEST(Climb, OfAnEvenSlopeIsItsHeight) {
  for (const double grade : {0.001, 0.02, 0.08, -0.05}) {
    const auto profile = slope(7000, grade);
    const auto climb = climb_of(profile);
    ASSERT_TRUE(climb);
    const double height = std::fabs(grade) * 7000;
    EXPECT_NEAR((grade > 0 ? climb->up : climb->down).in(metre), height, 1e-6);
    EXPECT_NEAR((grade > 0 ? climb->down : climb->up).in(metre), 0, 1e-6);
    EXPECT_NEAR(climb->steepest, std::fabs(grade), 1e-9);
  }
}

TEST(Climb, OfNoiseOnTheFlatIsUnderFivePercentOfTheRawSum) {
  // The claim of [climb]: white noise of 3 m on level ground, 10 m apart.
  Random random(88);
  for (int ride = 0; ride < 20; ++ride) {
    std::vector<ProfilePoint> profile;
    for (int i = 0; i < 3000; ++i) {
      profile.push_back({10.0 * i * metre, (400 + 3 * random.normal()) * metre});
    }
    EXPECT_LT(climb_of(profile)->up / raw_climb(profile).up, 0.05) << "seed 88, ride " << ride;
  }
}

TEST(Climb, CountsHillsAndDropsSpikes) {
  std::vector<ProfilePoint> hills;
  for (int i = 0; i <= 4000; ++i) {
    // Four hills of 60 m, each 10 km long.
    const double phase = 2 * 3.14159265358979 * i * 10 / 10000.0;
    hills.push_back({10.0 * i * metre, (300 - 30 * std::cos(phase)) * metre});
  }
  EXPECT_NEAR(climb_of(hills)->up.in(metre), 240, 1);
  EXPECT_NEAR(climb_of(hills)->down.in(metre), 240, 1);
  auto spiked = hills;
  spiked[777].elevation += 300 * metre;
  EXPECT_NEAR(climb_of(spiked)->up.in(metre), 240, 1);
}

TEST(Climb, UpLessDownIsTheDifferenceOfTheEnds) {
  Random random(89);
  for (int i = 0; i < 200; ++i) {
    std::vector<ProfilePoint> profile;
    double along = 0, height = 500;
    for (int n = 0; n < 400; ++n) {
      profile.push_back({along * metre, height * metre});
      along += 60 * random.uniform();
      height += 12 * (random.uniform() - 0.48);
    }
    const auto climb = climb_of(profile, {.hysteresis = {}});
    ASSERT_TRUE(climb);
    const Length ends = profile.back().elevation - profile.front().elevation;
    EXPECT_NEAR((climb->up - climb->down).in(metre), ends.in(metre), 1e-6) << "seed 89, case " << i;
    const auto coarse = climb_of(profile, {.hysteresis = 10 * metre});
    EXPECT_LE(coarse->up, climb->up + 1e-9 * metre) << "seed 89, case " << i;
  }
}

TEST(Climb, RefusesWhatIsNoProfile) {
  EXPECT_EQ(climb_of({{10 * metre, {}}, {5 * metre, {}}}).error().code, Code::kBadInput);
  EXPECT_EQ(climb_of({{{}, std::nan("") * metre}}).error().code, Code::kOutOfRange);
  EXPECT_EQ(climb_of({}, {.median_points = 4}).error().code, Code::kOutOfRange);
  EXPECT_EQ(climb_of({{{}, {}}, {90000 * km, {}}}, {.spacing = 1 * metre}).error().code,
            Code::kTooLarge);
  EXPECT_EQ(climb_of({})->up, Length{});
}

}  // namespace
}  // namespace rollwright::mech
