#include "build/as_built.hpp"

#include <algorithm>
#include <map>

#include <gtest/gtest.h>

#include "base/random.hpp"

// Parts, positions and lists in these tests are invented.
namespace rollwright::build {
namespace {

using trade::MakerLine;
using Lines = std::vector<MakerLine>;

MakerLine line(const char* position, const char* part, int quantity = 1, const char* options = "") {
  return {.position = position, .part = trade::PartId(part), .article = {}, .quantity = quantity,
          .options = options, .serial = {}, .note = {}};
}

ComparedLine only(const Lines& ordered, const Lines& listed) {
  const auto compared = compare(ordered, listed);
  EXPECT_EQ(compared.size(), 1U);
  return compared.empty() ? ComparedLine{} : compared.front();
}

TEST(AsBuilt, SaysTheSameWhateverTheOrderOfTheLines) {
  const Lines ordered = {line("frame", "FR-1"), line("saddle", "SA-1"), line("bell", "AC-1")};
  const Lines listed = {line("bell", "AC-1"), line("frame", "FR-1"), line("saddle", "SA-1")};
  for (const ComparedLine& each : compare(ordered, listed)) {
    EXPECT_EQ(each.differs, Differs::kSame) << each.position;
    EXPECT_TRUE(each.details.empty());
  }
  EXPECT_EQ(compare(ordered, listed).size(), 3U);
  EXPECT_TRUE(compare({}, {}).empty());
}

TEST(AsBuilt, TellsEachKindOfDifferenceApart) {
  EXPECT_EQ(only({line("saddle", "SA-1")}, {line("saddle", "SA-2")}).differs, Differs::kOtherPart);
  EXPECT_EQ(only({line("saddle", "SA-1")}, {}).differs, Differs::kMissing);
  EXPECT_EQ(only({}, {line("mirror", "AC-2")}).differs, Differs::kExtra);
  const ComparedLine fewer = only({line("reflectors", "AC-4", 4)}, {line("reflectors", "AC-4", 3)});
  EXPECT_EQ(fewer.differs, Differs::kOtherQuantity);
  EXPECT_EQ(fewer.details, std::vector<std::string>{"3 pieces instead of 4"});
  const ComparedLine size = only({line("frame", "FR-1", 1, "size: S 46")},
                                 {line("frame", "FR-1", 1, "size: M 50")});
  EXPECT_EQ(size.differs, Differs::kOtherOption);
  EXPECT_TRUE(size.contradicts);
  EXPECT_EQ(size.details, std::vector<std::string>{"size: m 50 instead of s 46"});
}

TEST(AsBuilt, TakesAnOptionThatIsNotStatedAsThatOfThePartAndASettingAsMissing) {
  EXPECT_EQ(only({line("frame", "FR-1", 1, "size: S 46")}, {line("frame", "FR-1")}).differs,
            Differs::kSame);
  EXPECT_EQ(only({line("frame", "FR-1", 1, "size: S 46")},
                 {line("frame", "FR-1", 1, " Size:  s  46 ")}).differs,
            Differs::kSame);
  const ComparedLine red = only({line("frame", "FR-1", 1, "size: S 46")},
                                {line("frame", "FR-1", 1, "size: S 46; colour: red")});
  EXPECT_EQ(red.differs, Differs::kOtherOption);
  EXPECT_FALSE(red.contradicts);
  EXPECT_EQ(red.details, std::vector<std::string>{"colour: red, which was not ordered"});
  EXPECT_EQ(only({line("front_brake_lever", "", 1, "left")},
                 {line("front_brake_lever", "", 1, "Left")}).differs,
            Differs::kSame);
  EXPECT_EQ(only({line("front_brake_lever", "", 1, "left")},
                 {line("front_brake_lever", "", 1, "right")}).differs,
            Differs::kOtherOption);
  EXPECT_EQ(only({line("front_brake_lever", "", 1, "left")}, {}).differs, Differs::kMissing);
}

TEST(AsBuilt, SaysTheQuantityOfAnotherPartToo) {
  const ComparedLine other = only({line("reflectors", "AC-4", 4)}, {line("reflectors", "AC-5", 2)});
  EXPECT_EQ(other.differs, Differs::kOtherPart);
  EXPECT_EQ(other.details, std::vector<std::string>{"2 pieces instead of 4"});
}

TEST(AsBuilt, AddsUpLinesOfOneThing) {
  EXPECT_EQ(only({line("reflectors", "AC-4", 4)},
                 {line("reflectors", "AC-4", 1), line("reflectors", "AC-4", 3)}).differs,
            Differs::kSame);
}

TEST(AsBuilt, KnowsThingsOutsideTheCatalogueByTheirArticle) {
  MakerLine ordered = line("lock", "LK-1");
  ordered.article = "F 77";
  MakerLine listed = line("lock", "");
  listed.article = "f  77";
  EXPECT_EQ(only({ordered}, {listed}).differs, Differs::kSame);
  listed.article = "F 78";
  EXPECT_EQ(only({ordered}, {listed}).differs, Differs::kOtherPart);
}

TEST(AsBuilt, FindsTheNewestAnswerToJustThisDifference) {
  const ComparedLine other = only({line("saddle", "SA-1")}, {line("saddle", "SA-2")});
  trade::DifferenceAnswer first{.position = "saddle", .ordered = line_key(other.ordered),
                                .listed = line_key(other.listed), .why = "first"};
  trade::DifferenceAnswer second = first;
  first.number = 3;
  second.number = 7;
  EXPECT_EQ(answer_to(other, {&second, &first}), &second);
  second.listed = line_key(line("saddle", "SA-3"));
  EXPECT_EQ(answer_to(other, {&second, &first}), &first);
  EXPECT_EQ(answer_to(other, {&second}), nullptr);
  EXPECT_EQ(line_key(std::nullopt), "");
  EXPECT_NE(line_key(line("saddle", "SA-1", 1)), line_key(line("saddle", "SA-1", 2)));
}

// The second opinion: every line as so many single pieces, and plain differences of multisets.
using Pieces = std::map<std::string, int>;  // position, part and option -> how many

void add(Pieces& pieces, const MakerLine& line, int times = 1) {
  pieces[line.position + "|" + line.part.text + "|" + line.options] += line.quantity * times;
}

Pieces surplus(const Pieces& of, const Pieces& over) {
  Pieces left;
  for (const auto& [piece, count] : of) {
    const auto found = over.find(piece);
    const int others = found == over.end() ? 0 : found->second;
    if (count > others) left[piece] = count - others;
  }
  return left;
}

Lines random_lines(Random& random) {
  Lines lines;
  const auto count = random.below(9);
  for (std::uint64_t i = 0; i < count; ++i) {
    const char* positions[] = {"frame", "saddle", "bell"};
    const char* parts[] = {"P-1", "P-2", "P-3"};
    const char* options[] = {"", "colour: red", "colour: blue"};
    lines.push_back(line(positions[random.below(3)], parts[random.below(3)],
                         static_cast<int>(random.below(3)) + 1, options[random.below(3)]));
  }
  return lines;
}

/// A list without an option agrees with any, which pieces cannot say: every line states its own.
bool states_every_option(const Lines& lines) {
  return std::ranges::none_of(lines, [](const MakerLine& each) { return each.options.empty(); });
}

TEST(AsBuilt, AgreesWithPlainDifferencesOfMultisetsOnRandomLists) {
  constexpr std::uint64_t kSeed = 1504;
  Random random(kSeed);
  int tried = 0;
  for (int round = 0; round < 40000; ++round) {
    const Lines ordered = random_lines(random);
    const Lines listed = random_lines(random);
    if (!states_every_option(ordered) || !states_every_option(listed)) continue;
    ++tried;
    Pieces wanted, given, lacking, unasked;
    for (const MakerLine& each : ordered) add(wanted, each);
    for (const MakerLine& each : listed) add(given, each);
    std::map<std::string, std::pair<bool, bool>> alone;  // position -> missing, extra
    for (const ComparedLine& each : compare(ordered, listed)) {
      if (each.ordered) add(lacking, *each.ordered);
      if (each.listed) add(unasked, *each.listed);
      if (each.differs == Differs::kMissing) alone[each.position].first = true;
      if (each.differs == Differs::kExtra) alone[each.position].second = true;
      if (each.differs == Differs::kSame) {
        EXPECT_EQ(line_key(each.ordered), line_key(each.listed));
      }
    }
    // Every piece is in one line; what lines that are the same leave over is the plain difference.
    EXPECT_EQ(lacking, wanted) << "seed " << kSeed << ", round " << round;
    EXPECT_EQ(unasked, given) << "seed " << kSeed << ", round " << round;
    Pieces differing_wanted, differing_given;
    for (const ComparedLine& each : compare(ordered, listed)) {
      if (each.differs == Differs::kSame) continue;
      if (each.ordered) add(differing_wanted, *each.ordered);
      if (each.listed) add(differing_given, *each.listed);
    }
    EXPECT_EQ(surplus(differing_wanted, differing_given), surplus(wanted, given)) << round;
    EXPECT_EQ(surplus(differing_given, differing_wanted), surplus(given, wanted)) << round;
    for (const auto& [position, both] : alone) {
      EXPECT_FALSE(both.first && both.second) << position << ", round " << round;
    }
  }
  EXPECT_GT(tried, 300);
}

TEST(AsBuilt, IsAllTheSameOnlyWhenTheMultisetsAre) {
  Random random(77);
  int same = 0;
  for (int round = 0; round < 20000; ++round) {
    const Lines ordered = random_lines(random);
    Lines listed = ordered;
    // Out of order, and sometimes with one line more or less.
    for (std::size_t i = listed.size(); i > 1; --i) {
      std::swap(listed[i - 1], listed[random.below(i)]);
    }
    const auto spoil = random.below(3);
    if (spoil == 1 && !listed.empty()) listed.pop_back();
    if (spoil == 2) listed.push_back(line("bell", "P-9"));
    const bool is_same = std::ranges::all_of(
        compare(ordered, listed),
        [](const ComparedLine& each) { return each.differs == Differs::kSame; });
    Pieces wanted, given;
    for (const MakerLine& each : ordered) add(wanted, each);
    for (const MakerLine& each : listed) add(given, each);
    EXPECT_EQ(is_same, wanted == given) << "seed 77, round " << round;
    same += is_same ? 1 : 0;
  }
  EXPECT_GT(same, 1000);
}

class OtherNumbers : public testing::Test {
 protected:
  void listed(const char* position, const char* serial) {
    list_.push_back(line(position, "P-1"));
    list_.back().serial = serial;
  }
  void fitted(const char* slot, const char* serial) {
    bench_.parts.push_back({.slot = slot, .part = trade::PartId("P-1"), .serial = serial,
                            .lot = {}, .came_by = {}, .who = {}, .off = {}, .why_off = {}});
  }
  std::vector<std::string> places() const {
    std::vector<std::string> places;
    for (const OtherNumber& other : other_numbers(list_, bench_)) places.push_back(other.position);
    return places;
  }

  Lines list_;
  BenchState bench_;
};

TEST_F(OtherNumbers, AreThoseReadHereThatTheListDoesNotState) {
  listed("motor", "M1");
  listed("battery", "b7");
  listed("frame", "F3");
  listed("fork", "");
  fitted("motor", "M2");
  fitted("battery", "B7");
  fitted("fork", "K9");
  ASSERT_EQ(places(), std::vector<std::string>{"motor"});
  EXPECT_EQ(other_numbers(list_, bench_).front().stated, "M1");
  EXPECT_EQ(other_numbers(list_, bench_).front().read, "M2");
}

TEST_F(OtherNumbers, OfSeveralPiecesInAPlaceAnyMayBeTheOneRead) {
  listed("battery", "B1");
  listed("battery", "B2");
  fitted("battery", "B2");
  EXPECT_TRUE(places().empty());
}

TEST_F(OtherNumbers, WhatWasPutOnHereHasItsOwn) {
  listed("motor", "M1");
  fitted("motor", "M1");
  bench_.parts.back().off = Instant{};
  fitted("motor", "M2");
  EXPECT_TRUE(places().empty());
}

}  // namespace
}  // namespace rollwright::build
