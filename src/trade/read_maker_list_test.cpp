#include "trade/read_maker_list.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "trade/load_trade.hpp"
#include "trade/maker_papers.hpp"
#include "trade/shop_files.hpp"

// The lists here are invented, as the demo's parts are.
namespace rollwright::trade {
namespace {

const Trade& shipped() {
  static const LoadedTrade kLoaded = load_trade(ROLLWRIGHT_ROOT "/data/trade");
  return kLoaded.trade;
}
const ShopFiles& demo_files() {
  static const ReadShopFiles kRead = read_shop_files(shipped(), ROLLWRIGHT_ROOT "/data/demo");
  return kRead.files;
}

const std::map<PartId, const Part*>& catalogue() {
  static const std::map<PartId, const Part*> kParts = [] {
    std::map<PartId, const Part*> parts;
    for (const Part& part : demo_files().parts) parts[part.id] = &part;
    return parts;
  }();
  return kParts;
}

MakerListTerms terms() {
  return {.trade = shipped(), .build = shipped().templates.at("B5"), .parts = catalogue(),
          .articles = {{"F69958", PartId("MB-0005")}, {"F 2", PartId("SA-0001")}}};
}

Error first_problem(const std::string& csv) {
  const ReadMakerList read = read_maker_list(terms(), csv, "built.csv");
  EXPECT_FALSE(read.problems.empty()) << csv;
  return read.problems.empty() ? Error{} : read.problems.front();
}

TEST(MakerList, ReadsPartsByOurNumberAndByTheMakersArticle) {
  const ReadMakerList read = read_maker_list(
      terms(),
      "position,part,article,quantity,options,serial,note\n"
      "frame,MB-0005,F69958,1,size: M 50,M 0815,\n"
      "saddle,,F 2,1,,,\n"
      "bell,,unheard of,1,,,put in for yours\n"
      "front_brake_lever,,,1,left,,\n"
      "other,,sticker set,2,,,\n",
      "built.csv");
  ASSERT_TRUE(read.problems.empty()) << read.problems.front().full();
  ASSERT_EQ(read.lines.size(), 5U);
  EXPECT_EQ(read.lines[0].serial, "M 0815");
  EXPECT_EQ(read.lines[1].part.text, "SA-0001");
  EXPECT_TRUE(read.lines[2].part.empty()) << "the catalogue does not have it";
  EXPECT_EQ(read.lines[4].quantity, 2);
}

TEST(MakerList, TakesBackTheFormsOwnColumns) {
  const ReadMakerList read = read_maker_list(
      terms(),
      "position,name,part,article,quantity,options,stop_rules,has_number,serial\n"
      "saddle,saddle,SA-0001,,1,,C-101,no,\n",
      "form.csv");
  EXPECT_TRUE(read.problems.empty());
  EXPECT_EQ(read.lines.size(), 1U);
}

TEST(MakerList, RefusesEachBadLineWithFileLineFieldValueAndWhatWouldBeRight) {
  struct Bad {
    const char* row;
    const char* field;
    const char* value;
    Code code;
    const char* words;
  };
  const Bad bads[] = {
      {"sadle,SA-0001,,1,,,", "position", "sadle", Code::kNotFound, "did you mean \"saddle\""},
      {"wheels,SA-0001,,1,,,", "position", "wheels", Code::kNotFound, "\"other\""},
      {"saddle,SA-9999,,1,,,", "part", "SA-9999", Code::kNotFound, "in the catalogue"},
      {"saddle,BA-0001,,1,,,", "part", "BA-0001", Code::kContradiction, "saddle goes"},
      {"saddle,,,1,,,", "part", "", Code::kBadInput, "under article"},
      {"saddle,SA-0002,F 2,1,,,", "article", "F 2", Code::kContradiction, "SA-0001"},
      {"saddle,SA-0001,,0,,,", "quantity", "0", Code::kOutOfRange, "1 and 999"},
      {"saddle,SA-0001,,two,,,", "quantity", "two", Code::kBadInput, "whole number"},
      {"region,SA-0001,,1,EU,,", "part", "SA-0001", Code::kContradiction, "under options"},
      {"region,,,1,,,", "options", "", Code::kBadInput, "region"},
      {",SA-0001,,1,,,", "position", "", Code::kBadInput, "filled in"},
  };
  for (const Bad& bad : bads) {
    const Error error = first_problem(
        std::string("position,part,article,quantity,options,serial,note\n"
                    "frame,MB-0005,,1,,,\n") + bad.row + "\n");
    EXPECT_EQ(error.place.file, "built.csv");
    EXPECT_EQ(error.place.line, 3) << bad.row;
    EXPECT_EQ(error.place.field, bad.field) << bad.row;
    EXPECT_EQ(error.place.value, bad.value) << bad.row;
    EXPECT_EQ(error.code, bad.code) << bad.row;
    EXPECT_NE(error.sentence.find(bad.words), std::string::npos) << error.sentence;
  }
}

TEST(MakerList, RefusesNumbersAndSettingsThatAreThereTwice) {
  const std::string head = "position,part,article,quantity,options,serial,note\n";
  EXPECT_EQ(first_problem(head + "motor,MO-0001,,1,,S 1,\nbattery,BT-0001,,1,,S 1,\n").code,
            Code::kConflict);
  EXPECT_EQ(first_problem(head + "region,,,1,EU,,\nregion,,,1,US,,\n").code, Code::kConflict);
}

TEST(MakerList, RefusesFilesThatAreNoLists) {
  EXPECT_EQ(first_problem("position,part\nframe,MB-0005\n").place.field, "quantity");
  EXPECT_EQ(first_problem("position,quantity,colour\nframe,1,red\n").place.field, "colour");
  EXPECT_EQ(first_problem("position,quantity\n").sentence, "this list has no lines");
  EXPECT_EQ(first_problem("position,quantity\nframe,1,2\n").code, Code::kBadInput);
  EXPECT_EQ(first_problem("position,quantity,article\nframe,1,\"a\nb\"\n").code, Code::kOutOfRange);
}

TEST(MakerList, JudgesTypedLinesTheSameWay) {
  const ReadMakerList read =
      judge_maker_lines(terms(), {{.position = "saddle", .part = PartId("SA-0001")},
                                  {.position = "saddle", .part = PartId("SA-9999")}});
  ASSERT_EQ(read.problems.size(), 1U);
  EXPECT_EQ(read.problems[0].place.field, "lines[1].part");
  EXPECT_EQ(read.problems[0].place.value, "SA-9999");
  EXPECT_FALSE(judge_maker_lines(terms(), {}).problems.empty());
}

TEST(MakerList, SplitsOptionsIntoNamesAndValues) {
  const auto options = options_of(" Size:  S 46 ; colour: Red;reflective;; ");
  EXPECT_EQ(options.size(), 3U);
  EXPECT_EQ(options.at("size"), "s 46");
  EXPECT_EQ(options.at("colour"), "red");
  EXPECT_EQ(options.at("reflective"), "");
  EXPECT_TRUE(options_of("").empty());
  EXPECT_TRUE(options_of(" : x").empty());
}

TEST(MakerPapers, AreReadAndRefusedLineByLine) {
  const auto papers = load_maker_papers(ROLLWRIGHT_ROOT "/data/trade", shipped().traits);
  ASSERT_TRUE(papers) << papers.error().full();
  EXPECT_GT(papers->size(), 5U);
  EXPECT_TRUE(std::ranges::any_of(*papers, [](const MakerPaper& each) {
    return each.trait == "e_bike";
  }));
  const auto problem = [](const char* csv) {
    return read_maker_papers(csv, "papers.csv", shipped().traits).error();
  };
  EXPECT_EQ(problem("paper,trait,source\nmanual,,x\nmanual,,x\n").place.line, 3);
  EXPECT_EQ(problem("paper,trait,source\nmanual,ebike,x\n").place.field, "trait");
  EXPECT_EQ(problem("paper,trait,source\nmanual,,\n").place.field, "source");
  EXPECT_EQ(problem("paper,source\nmanual,x\n").place.field, "trait");
}

}  // namespace
}  // namespace rollwright::trade
