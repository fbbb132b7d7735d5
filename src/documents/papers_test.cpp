#include <gtest/gtest.h>

#include "base/csv.hpp"
#include "documents/bike_history_pdf.hpp"
#include "documents/owners_pack_pdf.hpp"
#include "documents/recall_list_pdf.hpp"
#include "pictures/write_jpeg.hpp"

// The bikes, riders and notices in these tests are invented.
namespace rollwright::documents {
namespace {

const Instant kMade = parse_instant("2026-11-25T08:00:00Z").value();


int count_of(const std::string& text, const std::string& piece) {
  int count = 0;
  for (std::size_t at = text.find(piece); at != std::string::npos; at = text.find(piece, at + 1)) {
    ++count;
  }
  return count;
}

int pages_of(const std::string& pdf) { return count_of(pdf, "/Type /Page %"); }

BikeHistory history_of(int lines) {
  BikeHistory history{.shop = "Corner", .invented = true, .printed = kMade, .order = "2041",
                      .rider = "Äsa Ørsted", .build = "a bike", .state = "Ready"};
  history.parts = {{.place = "rear hub", .name = "Hub gear", .marks = "number 4711, lot L-7",
                    .on = "25 November 2026, 08:00", .off = "", .why = ""}};
  history.checks = {{.id = "D3", .mark = "S", .text = "Steering", .outcome = "pass", .who = "Ole",
                     .work_by = "Mara", .note = ""}};
  for (int i = 0; i < lines; ++i) {
    history.lines.push_back({.number = i + 1, .at = "25 November 2026, 08:00", .who = "Mara",
                             .sentence = "A-20 Stem and bar started"});
  }
  history.journal = {{.number = 7, .at = "today", .who = "Mara", .what = "started A-20"}};
  history.last_hash = std::string(64, 'a');
  return history;
}

/// A photograph of a plain colour, made of numbers.
BikeHistory::Photo photo_of(int width, int height, char hash) {
  pictures::Pixels pixels{.width = width, .height = height, .rgb = {}};
  pixels.rgb.assign(static_cast<std::size_t>(width * height) * 3, 120);
  return {.picture = std::string(64, hash), .jpeg = pictures::write_jpeg(pixels, 80),
          .width = width, .height = height};
}

OwnersPack whole_pack() {
  OwnersPack pack{.shop = "Corner", .town = "Here", .invented = true, .printed = kMade,
                  .order = "2041", .rider = "Äsa Ørsted", .contact = "asa@example.org",
                  .build = "a bike", .handed_over = "Wednesday 25 November 2026"};
  pack.parts = {{.place = "frame", .name = "Frame", .marks = "number 4711", .has_number = true}};
  pack.settings = {{.name = "saddle height", .value = "712 mm", .limit = "", .by = "Mara"}};
  pack.torques = {{.name = "stem", .value = "5 N·m", .limit = "4 to 6 N·m", .by = "Mara"}};
  pack.permitted_mass = "140 kg (maker)";
  pack.bike_mass = "24 kg";
  pack.mass_left = "116 kg";
  pack.first_service = "after 200 to 500 km";
  return pack;
}

TEST(BikeHistoryPdf, GivesTheSameBytesForTheSameHistory) {
  const std::string once = bike_history_pdf(history_of(3));
  EXPECT_TRUE(once.starts_with("%PDF"));
  EXPECT_EQ(once, bike_history_pdf(history_of(3)));
}

TEST(BikeHistoryPdf, PrintsEveryLineHoweverManyThereAre) {
  EXPECT_GT(pages_of(bike_history_pdf(history_of(400))), pages_of(bike_history_pdf(history_of(40))));
}

TEST(BikeHistoryPdf, ShowsAnotherCodeForAnotherHash) {
  BikeHistory other = history_of(3);
  other.last_hash.back() = 'b';
  EXPECT_NE(bike_history_pdf(history_of(3)), bike_history_pdf(other));
  other.last_hash.clear();
  EXPECT_TRUE(bike_history_pdf(other).starts_with("%PDF"));
}

TEST(BikeHistoryPdf, HasTheBytesOfEachPhotographInItAsTheyAre) {
  BikeHistory history = history_of(3);
  history.lines[0].photo = photo_of(320, 240, 'b');
  history.lines[2].photo = photo_of(180, 320, 'c');
  const std::string pdf = bike_history_pdf(history);
  EXPECT_EQ(count_of(pdf, "/DCTDecode"), 2);
  EXPECT_NE(pdf.find(history.lines[0].photo->jpeg), std::string::npos);
  EXPECT_NE(pdf.find(history.lines[2].photo->jpeg), std::string::npos);
  EXPECT_EQ(pdf, bike_history_pdf(history));
}

TEST(BikeHistoryPdf, HasAPhotographThatIsThereTwiceOnce) {
  BikeHistory history = history_of(2);
  history.lines[0].photo = photo_of(320, 240, 'b');
  history.lines[1].photo = history.lines[0].photo;
  EXPECT_EQ(count_of(bike_history_pdf(history), "/DCTDecode"), 1);
}

TEST(BikeHistoryPdf, IsAsLargeAsItsPhotographsAreSmall) {
  BikeHistory history = history_of(300);
  std::size_t photographs = 0;
  for (BikeHistory::Line& line : history.lines) {
    line.photo = photo_of(320, 200 + line.number % 40, 'b');
    line.photo->picture.replace(0, 3, std::to_string(100 + line.number));
    photographs += line.photo->jpeg.size();
  }
  const std::string pdf = bike_history_pdf(history);
  EXPECT_EQ(count_of(pdf, "/DCTDecode"), 300);
  constexpr std::size_t kEach = 2048;  // bytes for what is written beside one and where it stands
  EXPECT_LT(pdf.size(), photographs + 300 * kEach + 100'000);
  EXPECT_LE(pages_of(pdf), 300 / 8 + 2) << "eight to a sheet, and what comes before and after";
}

TEST(BikeHistoryPdf, SaysWhyAPhotographIsNotShown) {
  BikeHistory history = history_of(2);
  history.lines[1].photo = {.picture = std::string(64, 'd'), .why_not = "it breaks off"};
  const std::string pdf = bike_history_pdf(history);
  EXPECT_EQ(count_of(pdf, "/DCTDecode"), 0);
  history.lines[1].photo->why_not = "it is damaged";
  EXPECT_NE(pdf, bike_history_pdf(history));
}

TEST(OwnersPack, MissesNothingWhenAllIsKnown) { EXPECT_TRUE(missing_in(whole_pack()).empty()); }

struct Gap {
  const char* says;
  void (*make)(OwnersPack&);
};

TEST(OwnersPack, SaysOfEachThingThatItIsMissing) {
  const Gap gaps[] = {
      {"numbers of: frame", [](OwnersPack& pack) { pack.parts[0].marks.clear(); }},
      {"not read: saddle height", [](OwnersPack& pack) { pack.settings[0].value.clear(); }},
      {"1 torque was not read", [](OwnersPack& pack) { pack.torques[0].value.clear(); }},
      {"permitted total mass", [](OwnersPack& pack) { pack.permitted_mass.clear(); }},
      {"not weighed", [](OwnersPack& pack) { pack.bike_mass.clear(); }},
      {"day of handover", [](OwnersPack& pack) { pack.handed_over.clear(); }},
      {"contact for a recall", [](OwnersPack& pack) { pack.contact.clear(); }},
  };
  for (const Gap& gap : gaps) {
    OwnersPack pack = whole_pack();
    gap.make(pack);
    const std::vector<std::string> missing = missing_in(pack);
    ASSERT_EQ(missing.size(), 1U) << gap.says;
    EXPECT_NE(missing[0].find(gap.says), std::string::npos) << missing[0];
    EXPECT_NE(owners_pack_pdf(pack), owners_pack_pdf(whole_pack()));
  }
}

TEST(RecallList, ReadsBackFromItsCsvWhateverANameHolds) {
  RecallList list{.shop = "Corner", .invented = true, .printed = kMade, .number = "R1"};
  list.bikes = {{.rider = "Ørsted, \"Äsa\"", .contact = "", .bike = "2041, Handed over",
                 .part = "Stem", .marks = "lot L-7", .certainty = "certain", .status = "told",
                 .last = "one\ntwo"},
                {.rider = "=SUM(A1)", .contact = "a@b", .bike = "2042", .part = "Stem", .marks = "",
                 .certainty = "possible", .status = "not told", .last = ""}};
  const auto read = parse_csv(recall_list_csv(list), "list.csv");
  ASSERT_TRUE(read) << read.error().full();
  ASSERT_EQ(read->rows.size(), 2U);
  EXPECT_EQ(read->rows[0].cells[0], list.bikes[0].rider);
  EXPECT_EQ(read->rows[0].cells[7], "one\ntwo");
  EXPECT_EQ(read->rows[1].cells[0], "'=SUM(A1)") << "a spreadsheet must not run it";
  EXPECT_EQ(read->rows[1].cells[5], "possible");
}

TEST(RecallList, GoesOntoAsManySheetsAsItNeeds) {
  RecallList list{.shop = "Corner", .printed = kMade, .number = "R1", .wrong = "cracks"};
  EXPECT_EQ(pages_of(recall_list_pdf(list)), 1);
  list.bikes.assign(80, {.rider = "A", .contact = "b", .bike = "1", .part = "Stem", .marks = "",
                         .certainty = "possible", .status = "not told", .last = ""});
  EXPECT_GT(pages_of(recall_list_pdf(list)), 2);
}

}  // namespace
}  // namespace rollwright::documents
