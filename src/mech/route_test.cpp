#include "mech/route.hpp"

#include <gtest/gtest.h>

#include <GeographicLib/Geodesic.hpp>
#include <algorithm>
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

TEST(Gpx, QuotesABadValueUpToAWholeLetter) {
  std::string version = "x";
  while (version.size() < 60) version += "🛞";  // four bytes each
  const std::string quoted = error_of("<gpx version=\"" + version + "\"/>").place.value;
  EXPECT_EQ(quoted, version.substr(0, 37));
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

TEST(Gpx, ReadsTheOlderVersionWithAPrefixAndAByteOrderMark) {
  const auto routes = read_gpx(
      "\xef\xbb\xbf<?xml version=\"1.0\"?>\n<g:gpx version=\"1.0\" creator=\"t\" "
      "xmlns:g=\"http://www.topografix.com/GPX/1/0\">\n<g:trk><g:name>old</g:name><g:trkseg>"
      "<g:trkpt lat=\"46\" lon=\"14\"><g:ele>5</g:ele><g:speed>4.2</g:speed></g:trkpt>"
      "</g:trkseg></g:trk></g:gpx>",
      "old.gpx");
  ASSERT_TRUE(routes) << routes.error().full();
  EXPECT_EQ(routes->front().name, "old");
  EXPECT_EQ(routes->front().segments[0][0].elevation, 5 * metre);
}

TEST(Gpx, RefusesElementsTooDeepInEachOther) {
  const auto nested = [](int depth) {
    std::string text;
    for (int i = 0; i < depth; ++i) text += "<x>\n";
    for (int i = 0; i < depth; ++i) text += "</x>";
    return gpx_of("<trk><trkseg><trkpt lat=\"46\" lon=\"14\"/></trkseg><extensions>" + text +
                  "</extensions></trk>");
  };
  EXPECT_TRUE(read_gpx(nested(10), "ride.gpx"));
  const Error error = error_of(nested(300000));
  EXPECT_EQ(error.code, Code::kTooLarge);
  EXPECT_EQ(error.place.line, 3 + 29) << "gpx, trk and extensions stand around it";
  EXPECT_EQ(error.place.field, "x");
}

TEST(Gpx, RefusesTrackPointsOutsideASegment) {
  const Error error = error_of(gpx_of("<trk>\n<trkpt lat=\"46\" lon=\"14\"/></trk>"));
  EXPECT_EQ(error.code, Code::kBadInput);
  EXPECT_EQ(error.place.line, 4);
  EXPECT_NE(error.sentence.find("trkseg"), std::string::npos);
}

TEST(Gpx, NeverExpandsEntities) {
  // Only the five of XML itself have a meaning; any other stays the text it is, and is no number.
  const Error error = error_of(
      gpx_of("<trk><trkseg><trkpt lat=\"46\" lon=\"14\"><ele>&height;</ele></trkpt></trkseg>"
             "</trk>"));
  EXPECT_EQ(error.code, Code::kBadInput);
  EXPECT_EQ(error.place.field, "ele");
}

TEST(Gpx, SurvivesPiecesCutOutMovedAndDoubled) {
  const std::string whole = gpx_of(
      "<rte><name>a &amp; b</name><rtept lat=\"46\" lon=\"14\"/></rte>\n"
      "<trk><trkseg><trkpt lat=\"46\" lon=\"14\"><ele>1</ele><time>2024-01-01T00:00:00Z</time>"
      "</trkpt><trkpt lat=\"46.1\" lon=\"14\"><ele>2</ele></trkpt></trkseg>\n<trkseg>"
      "<trkpt lat=\"-46.1\" lon=\"-179.9\"><ele>-3.5</ele></trkpt></trkseg></trk>\n");
  const std::string pieces[] = {"<trk>", "</trk>", "<trkseg>", "<!--", "-->", "<![CDATA[", "]]>",
                                "<!DOCTYPE gpx>", "&#0;", "&#x110000;", "\"", "=", "<?x", "1e999"};
  Random random(405);
  int read = 0;
  for (int i = 0; i < 20000; ++i) {
    std::string damaged = whole;
    for (std::uint64_t n = 1 + random.below(4); n > 0; --n) {
      const std::size_t at = random.below(damaged.size());
      const std::size_t length = random.below(std::min<std::size_t>(40, damaged.size() - at));
      const std::string cut = damaged.substr(at, length);
      const std::size_t to = random.below(damaged.size());
      switch (random.below(3)) {
        case 0: damaged.erase(at, length); break;
        case 1: damaged.insert(to, cut); break;
        default: damaged.insert(to, pieces[random.below(std::size(pieces))]);
      }
      if (damaged.empty()) damaged = "<";
    }
    const auto routes = read_gpx(damaged, "ride.gpx");
    if (!routes) {
      ASSERT_FALSE(routes.error().sentence.empty()) << "seed 405, case " << i;
      ASSERT_EQ(routes.error().place.file, "ride.gpx") << "seed 405, case " << i;
      continue;
    }
    ++read;
    for (const Route& route : *routes) {
      ASSERT_TRUE(figures_of(route)) << "seed 405, case " << i;
      for (const auto& segment : route.segments) ASSERT_FALSE(segment.empty());
    }
  }
  EXPECT_GT(read, 500) << "some damage leaves a file that can be read";
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

/// Invented hills with white noise: `hills` of 40 m, 3 km each, a point every `apart` metres.
struct NoisyHills {
  std::vector<ProfilePoint> profile;
  double metres_up = 0;
};
NoisyHills noisy_hills(int hills, double apart, double noise, Random& random) {
  NoisyHills made{.metres_up = 40.0 * hills};
  for (double at = 0; at <= 3000.0 * hills; at += apart) {
    const double ground = 300 - 20 * std::cos(2 * 3.14159265358979 * at / 3000);
    made.profile.push_back({at * metre, (ground + noise * random.normal()) * metre});
  }
  return made;
}

TEST(HeightNoise, IsFoundFromTheRecordingAlone) {
  Random random(90);
  for (const double noise : {0.3, 1.0, 3.0, 6.0}) {
    for (const double apart : {5.0, 10.0, 25.0}) {
      const NoisyHills made = noisy_hills(10, apart, noise, random);
      EXPECT_NEAR(height_noise(made.profile)->in(metre), noise, 0.1 * noise)
          << "seed 90, " << noise << " m, " << apart << " m apart";
    }
  }
  EXPECT_LT(*height_noise(noisy_hills(10, 10, 0, random).profile), 0.02 * metre);
  EXPECT_EQ(height_noise({})->in(metre), 0);
}

TEST(HeightNoise, PassesOverSingleWildHeightsAndUnevenSteps) {
  Random random(91);
  std::vector<ProfilePoint> profile;
  double along = 0;
  for (int i = 0; i < 4000; ++i) {
    const double wild = i % 50 == 7 ? 200 : 0;
    profile.push_back({along * metre, (300 + 0.05 * along + wild + random.normal()) * metre});
    along += i % 9 == 0 ? 0 : 20 * random.uniform();
  }
  EXPECT_NEAR(height_noise(profile)->in(metre), 1, 0.12);
}

TEST(MethodForNoise, CountsTheHillsAndNotTheNoise) {
  // Ten invented hills, 400 m up. Of noise of 3 m and more the plain sum makes at least twice that.
  Random random(92);
  for (const double noise : {0.3, 1.0, 3.0, 6.0}) {
    for (const double apart : {5.0, 10.0, 25.0}) {
      const NoisyHills made = noisy_hills(10, apart, noise, random);
      const auto method = method_for_noise(made.profile);
      ASSERT_TRUE(method);
      const double up = climb_of(made.profile, *method)->up.in(metre);
      SCOPED_TRACE(testing::Message() << "seed 92, " << noise << " m, " << apart << " m apart");
      EXPECT_NEAR(up, made.metres_up, 0.08 * made.metres_up);
      EXPECT_GT(raw_climb(made.profile).up.in(metre), (noise < 3 ? 1 : 2) * up);
    }
  }
}

TEST(Climb, TellsWhatComesFromSlopesThatNoRoadHas) {
  // A recorder wakes up 40 m too low and finds its height within 60 m; then a road of 5 %.
  std::vector<ProfilePoint> profile;
  for (double at = 0; at <= 3000; at += 10) {
    const double wrong = at < 60 ? 40 * (1 - at / 60) : 0;
    profile.push_back({at * metre, (300 + 0.05 * at - wrong) * metre});
  }
  const auto climb = climb_of(profile);
  EXPECT_NEAR(climb->up.in(metre), 190, 1);
  EXPECT_NEAR(climb->doubtful.in(metre), 40, 5);
  EXPECT_EQ(climb_of(slope(7000, 0.08))->doubtful, Length{});
}

TEST(MethodForNoise, TellsNothingToClimbOnTheFlat) {
  Random random(93);
  for (const double noise : {0.5, 1.5, 3.0, 5.0}) {
    std::vector<ProfilePoint> profile;
    for (int i = 0; i < 4000; ++i) {
      profile.push_back({10.0 * i * metre, (400 + noise * random.normal()) * metre});
    }
    const auto method = method_for_noise(profile);
    EXPECT_LT(climb_of(profile, *method)->up / raw_climb(profile).up, 0.01) << "seed 93, " << noise;
  }
}

TEST(MethodForNoise, LeavesAQuietRecordingItsSmallRises) {
  // Twenty rises of 6 m, quiet: the least hysteresis is 3 m.
  std::vector<ProfilePoint> profile;
  for (double at = 0; at <= 12000; at += 10) {
    profile.push_back({at * metre, (100 - 3 * std::cos(2 * 3.14159265358979 * at / 600)) * metre});
  }
  const auto method = method_for_noise(profile);
  EXPECT_EQ(method->hysteresis, 3 * metre);
  EXPECT_NEAR(climb_of(profile, *method)->up.in(metre), 120, 8);
}

class LongRecording : public testing::TestWithParam<const char*> {};

TEST_P(LongRecording, ClimbHardlyMovesWhenNoiseIsAddedToIt) {
  const auto path = shared_routes() / GetParam();
  if (!std::filesystem::exists(path)) {
    GTEST_SKIP() << "no recorded routes at " << path << "; set ROLLWRIGHT_SHARED to try them";
  }
  const auto routes = read_gpx(*read_file(path.string()), GetParam());
  ASSERT_TRUE(routes);
  Random random(94);
  int tried = 0;
  for (const Route& route : *routes) {
    for (const auto& segment : route.segments) {
      auto profile = *profile_of(segment);
      if (profile.size() < 100) continue;
      ++tried;
      const auto climb = climb_of(profile, *method_for_noise(profile));
      const Length raw = raw_climb(profile).up;
      for (ProfilePoint& point : profile) point.elevation += 3 * random.normal() * metre;
      const auto noisy = climb_of(profile, *method_for_noise(profile));
      const Length noisy_raw = raw_climb(profile).up;
      RecordProperty("climb_m", std::to_string(climb->up.in(metre)));
      EXPECT_LT((noisy->up - climb->up) / (noisy_raw - raw), 0.1) << "seed 94";
      EXPECT_NEAR(noisy->up.in(metre), climb->up.in(metre), 20 + 0.12 * climb->up.in(metre))
          << "seed 94";
    }
  }
  EXPECT_GT(tried, 0);
}

INSTANTIATE_TEST_SUITE_P(Files, LongRecording,
                         testing::Values("cerknicko-jezero.gpx", "Mojstrovka.gpx"));

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
