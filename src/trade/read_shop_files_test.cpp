#include <algorithm>

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "trade/load_trade.hpp"
#include "trade/mini_trade.hpp"
#include "trade/shop_files.hpp"

namespace rollwright::trade {
namespace {

/// An invented shop that fits the mini trade.
FolderFiles mini_shop() {
  return {
      {"shop.toml", R"(
[shop]
name = "Invented Cycles"
town = "Nowhere"
currency = "EUR"
time_zone = "Europe/Berlin"
invented = true
hourly_rate = "72.50"
walk_in_share = 0.3
absence_chance = 0.02
closed = ["2026-12-25", 2027-01-01]
[[area]]
id = "build stand"
stands = 2
[[area]]
id = "test bench"
stands = 1
)"},
      {"people.toml", R"(
[[person]]
id = "mara"
name = "Mara"
roles = ["owner", "bench"]
skills = ["L3", "WB"]
productive = 0.6
away = [["2026-12-24", "2026-12-31"]]
[person.week]
mon = ["9:00-12:30", "13:00-18:00"]
fri = ["9:00-13:00"]
)"},
      {"suppliers.toml", R"(
[[supplier]]
id = "nordal"
name = "Nordal"
minimum_order = 150
small_order_charge = "9.50"
freight = 7.9
free_freight_over = 400
cut_off = "13:30"
ship_days = ["mon", "wed"]
)"},
      {"parts/K-FK.csv",
       "id,name,maker,price,gone,may_follow,source,source_date,mass,steerer,mount,rated_load\n"
       "FK-1,Alder fork,Alder,240,no,,list 2026,2026-02-01,1.1 kg,28.6 mm,IS,?\n"
       "FK-2,Birch fork,Birch,310.50,yes,,sheet,,980 g,,PM,120\n"},
      {"parts/K-HS.csv", "id,name,price,source,steerer\nHS-1,Alder headset,45,list 2026,28.6\n"},
      {"parts/K-BR.csv", "id,name,price,source,mounts\nBR-1,Brake,60,list 2026,IS|PM\n"},
      {"measured.csv",
       "part,attribute,value,by,date,tool\n"
       "FK-1,steerer,28.55 mm,mara,2026-11-02,caliper\n"
       "FK-1,steerer,28.58 mm,mara,2026-11-03,caliper\n"
       "FK-2,steerer,28.6,mara,2026-11-02,caliper\n"},
      {"offers.csv",
       "supplier,part,article,from_quantity,unit_cost,pack,availability,as_of\n"
       "nordal,HS-1,77,10,19.90,5,stocked,2026-11-01\n"
       "nordal,HS-1,77,1,22,5,stocked,2026-11-01\n"
       "nordal,FK-1,12,1,140,1,importer,2026-11-01\n"},
      {"stock.csv", "part,on_shelf\nHS-1,4\nFK-1,0\n"},
      {"put_by.csv", "part,order,quantity\nHS-1,2041,1\n"},
      {"purchases.csv",
       "id,supplier,part,quantity,order,placed,confirmed,state\n"
       "P-1,nordal,FK-1,1,2041,2026-11-20,2026-12-04,Confirmed\n"
       "P-2,nordal,HS-1,5,,,,Wanted\n"},
      {"receipts.csv",
       "supplier,part,quantity,ordered,promised,received,condition\n"
       "nordal,HS-1,5,2026-10-01,2026-10-08,2026-10-09,good\n"},
      {"promises.csv",
       "order,said,promised,in_100,day_50,day_90,ready\n"
       "1990,2026-06-01,2026-07-10,91,2026-07-01,2026-07-09,2026-07-03\n"
       "2041,2026-11-10,2026-12-18,88,2026-12-10,2026-12-20,\n"},
      {"times.csv",
       "order,operation,person,day,minutes\n1990,A-1,mara,2026-07-01,25\n"},
      {"routes/to-work.gpx", "<gpx version=\"1.1\"></gpx>\n"},
      {"orders.toml", R"(
[[order]]
id = "2041"
build = "T1"
state = "Gathering"
opened = "2026-11-10"
needed_by = 2026-12-20
promised = "2026-12-18"
deposit = 400
flags = ["Held"]
held_because = "waits for a size"
done = ["A-1"]
spec_version = 1
budget = "2500"
[order.rider]
name = "Invented Rider"
contact = "rider@example.org"
height = "178 cm"
inseam = "83 cm"
mass = "82 kg"
[order.need]
words = "To work in all weathers"
use_class = 2
luggage = "15 kg"
child_seat = false
region = "EU"
route = "to-work"
[order.choices]
fork = "FK-1"
headset = "HS-1"
[order.answers]
C-010 = { answer = "yes", who = "mara", day = "2026-11-20", note = "tried with the hoses" }
)"},
  };
}

const Trade& mini() {
  static const Trade kTrade = [] {
    const TestFolder folder(mini_trade());
    return load_trade(folder.path()).trade;
  }();
  return kTrade;
}

std::string all_of(const Problems& problems) {
  std::string text;
  for (const Error& problem : problems) text += problem.full() + "\n";
  return text;
}

int line_of(const std::string& text, const std::string& piece) {
  const std::size_t at = text.find(piece);
  if (piece.empty() || at == std::string::npos) return 0;
  return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<long>(at), '\n'));
}

struct Mistake {
  std::string claim;
  std::string file;
  std::string from;
  std::string to;
  std::string line_of;
  std::string field;
  std::string value;
  std::string says;
};

const std::vector<Mistake>& mistakes() {
  static const std::vector<Mistake> kMistakes = {
      {"MisspeltColumn", "parts/K-HS.csv", "source,steerer", "source,steerar", "", "steerar", "",
       "did you mean \"steerer\""},
      {"MissingColumn", "receipts.csv", "promised,received", "received,promised2", "", "promised2",
       "", "did you mean \"promised\""},
      {"UnitOfAnotherDimension", "parts/K-FK.csv", "28.6 mm", "28.6 kg", "FK-1", "steerer",
       "28.6 kg", "kg is a unit of mass, not of length"},
      {"WordNotAmongChoices", "parts/K-FK.csv", "IS,?", "IZ,?", "FK-1", "mount", "IZ",
       "none of the words for mount"},
      {"FactsWithoutASource", "parts/K-HS.csv", "list 2026", "", "HS-1", "source", "",
       "where they are printed"},
      {"MoneyWithASign", "parts/K-FK.csv", "310.50", "310.50 EUR", "FK-2", "price", "310.50 EUR",
       "without a currency sign"},
      {"NegativePrice", "parts/K-FK.csv", "310.50", "-1", "FK-2", "price", "-1",
       "may not be negative"},
      {"DayWrittenOtherwise", "parts/K-FK.csv", "2026-02-01", "1.2.2026", "FK-1", "source_date",
       "1.2.2026", "as in 2026-11-25"},
      {"FlagWithAnotherWord", "parts/K-FK.csv", "310.50,yes", "310.50,maybe", "FK-2", "gone",
       "maybe", "yes or no"},
      {"PartTwice", "parts/K-FK.csv", "FK-2,Birch", "FK-1,Twin fork,,1,,,,,,,,\nFK-2,Birch",
       "FK-1,Twin", "id", "FK-1", "first in parts/K-FK.csv, line 2"},
      {"MeasuredPartUnknown", "measured.csv", "FK-2,", "FK-3,", "FK-3", "part", "FK-3",
       "did you mean \"FK-1\""},
      {"MeasuredAttributeOfAnotherKind", "measured.csv", "FK-2,steerer", "FK-2,width", "FK-2",
       "attribute", "width", "a part of kind K-FK (fork) has no such attribute"},
      {"MeasuredByNobody", "measured.csv", "28.6,mara", "28.6,marra", "marra", "by", "marra",
       "did you mean \"mara\""},
      {"MeasuredTwiceADay", "measured.csv", "2026-11-03", "2026-11-02", "28.58", "attribute",
       "steerer", "twice on the same day"},
      {"OfferOfAStranger", "offers.csv", "nordal,FK-1", "nordahl,FK-1", "nordahl", "supplier",
       "nordahl", "did you mean \"nordal\""},
      {"OfferWithTwoPacks", "offers.csv", "22,5", "22,6", "22,6", "pack", "6", "says otherwise"},
      {"SamePriceBreakTwice", "offers.csv", "77,1,22", "77,10,22", "77,10,22", "from_quantity",
       "10", "twice"},
      {"UnknownAvailability", "offers.csv", "importer", "import", "FK-1", "availability", "import",
       "did you mean \"importer\""},
      {"NegativeStock", "stock.csv", "FK-1,0", "FK-1,-4", "FK-1", "on_shelf", "-4", "between 0"},
      {"StockTwice", "stock.csv", "FK-1,0", "FK-1,0\nFK-1,2", "FK-1,2", "part", "FK-1", "twice"},
      {"MorePutByThanThere", "put_by.csv", "2041,1", "2041,9", "2041,9", "quantity", "9",
       "9 pieces are put by, but 4 are on the shelf"},
      {"PutByForNobody", "put_by.csv", "2041,1", "2042,1", "2042", "order", "2042",
       "did you mean \"2041\""},
      {"PutByWithoutStock", "put_by.csv", "HS-1,", "BR-1,", "BR-1", "part", "BR-1",
       "has no row for this part"},
      {"UnknownPurchaseState", "purchases.csv", "Wanted", "Wantd", "P-2", "state", "Wantd",
       "did you mean \"Wanted\""},
      {"ConfirmedWithoutADay", "purchases.csv", "2026-12-04", "", "P-1", "confirmed", "",
       "the day that the supplier named"},
      {"ConfirmedBeforePlaced", "purchases.csv", "2026-12-04", "2026-11-04", "P-1", "confirmed",
       "2026-11-04", "before the line was placed"},
      {"PurchaseTwice", "purchases.csv", "P-2,", "P-1,", "P-1,nordal,HS-1", "id", "P-1",
       "first in line 2"},
      {"PlacedOnNoDay", "purchases.csv", ",,,Wanted", ",,,Placed", "P-2", "placed", "",
       "say which"},
      {"ReceivedBeforeOrdered", "receipts.csv", "2026-10-09", "2026-09-09", "2026-09-09",
       "received", "2026-09-09", "before the one it was ordered"},
      {"ReadyBeforeSaid", "promises.csv", "2026-07-03", "2026-05-03", "2026-05-03", "ready",
       "2026-05-03", "before the one on which it was said"},
      {"NinetyBeforeFifty", "promises.csv", "2026-12-20", "2026-12-02", "2026-12-02", "day_90",
       "2026-12-02", "no less long"},
      {"ChanceAbove100", "promises.csv", ",91,", ",910,", ",910,", "in_100", "910",
       "between 0 and 100"},
      {"TimeOfNoOperation", "times.csv", "A-1,mara", "A-7,mara", "A-7", "operation", "A-7",
       "no operation is called so"},
      {"TimeOfNoMinutes", "times.csv", ",25", ",0", ",0", "minutes", "0", "between 1 and 1440"},
      {"TimeTwice", "times.csv", ",25\n", ",25\n1990,A-1,mara,2026-07-01,5\n", ",5", "operation",
       "A-1", "add the minutes up"},
      {"UnknownCondition", "receipts.csv", "good", "fine", "fine", "condition", "fine",
       "one of good, damaged, wrong, short"},
      {"UnknownShopKey", "shop.toml", "town = ", "twon = ", "twon", "twon", "",
       "did you mean \"town\""},
      {"UnknownArea", "shop.toml", "\"test bench\"", "\"test bank\"", "test bank", "id",
       "test bank", "did you mean \"test bench\""},
      {"CurrencyThatIsNone", "shop.toml", "\"EUR\"", "\"Euro\"", "Euro", "currency", "Euro",
       "three capitals"},
      {"ShareAboveOne", "shop.toml", "walk_in_share = 0.3", "walk_in_share = 30", "= 30",
       "walk_in_share", "30", "between 0 and 0.95"},
      {"BackwardHours", "people.toml", "9:00-13:00", "13:00-9:00", "fri", "week.fri", "13:00-9:00",
       "\"9:00-12:30\""},
      {"OverlappingHours", "people.toml", "\"13:00-18:00\"", "\"12:00-18:00\"", "mon", "week.mon",
       "12:00-18:00", "before the ones in front of them end"},
      {"UnknownWeekday", "people.toml", "fri = ", "fry = ", "fry", "week.fry", "",
       "did you mean \"fri\""},
      {"UnknownSkillOfAPerson", "people.toml", "\"WB\"", "\"WW\"", "WW", "skills", "WW",
       "did you mean \"WB\""},
      {"AwayBackwards", "people.toml", "\"2026-12-31\"", "\"2026-12-01\"", "away", "away",
       "2026-12-01", "before the first"},
      {"CutOffThatIsNoTime", "suppliers.toml", "13:30", "half past one", "half past", "cut_off",
       "half past one", "14:00"},
      {"UnknownShipDay", "suppliers.toml", "\"wed\"", "\"wednesday\"", "wednesday", "ship_days",
       "wednesday", "mon, tue"},
      {"UnknownState", "orders.toml", "\"Gathering\"", "\"Gatering\"", "Gatering", "state",
       "Gatering", "did you mean \"Gathering\""},
      {"UnknownBuild", "orders.toml", "build = \"T1\"", "build = \"T9\"", "T9", "build", "T9",
       "did you mean \"T1\""},
      {"HeldForNoReason", "orders.toml", "held_because = \"waits for a size\"\n", "", "[[order]]",
       "held_because", "", "says why"},
      {"ReasonWithoutHeld", "orders.toml", "flags = [\"Held\"]", "flags = []", "held_because",
       "held_because", "waits for a size", "not Held"},
      {"UnknownFlag", "orders.toml", "\"Held\"", "\"Held\", \"Date at rsk\"", "rsk", "flags",
       "Date at rsk", "did you mean \"Date at risk\""},
      {"PromisedBeforeOpened", "orders.toml", "2026-12-18", "2026-01-18", "2026-01-18", "promised",
       "2026-01-18", "before the order was opened"},
      {"BudgetInWords", "orders.toml", "\"2500\"", "\"not much\"", "not much", "budget", "not much",
       "or as nothing said"},
      {"BudgetOfNothing", "orders.toml", "\"2500\"", "\"0\"", "\"0\"", "budget", "0",
       "more than nothing"},
      {"FollowedUpOnceAgreed", "orders.toml", "[order.rider]",
       "[order.follow_up]\nday = \"2026-12-01\"\nabout = \"Mara calls\"\n[order.rider]",
       "[order.follow_up]", "follow_up", "", "not followed up any more"},
      {"FollowedUpAboutNothing", "orders.toml", "state = \"Gathering\"",
       "state = \"Draft\"\nfollow_up = { day = \"2026-12-01\" }", "follow_up", "follow_up.about",
       "", ""},
      {"FollowedUpBeforeOpened", "orders.toml", "state = \"Gathering\"",
       "state = \"Draft\"\nfollow_up = { day = \"2026-01-01\", about = \"Mara calls\" }",
       "follow_up", "follow_up.day", "2026-01-01", "before the order was opened"},
      {"UnknownDoneOperation", "orders.toml", "[\"A-1\"]", "[\"A-7\"]", "A-7", "done", "A-7",
       "no operation is called so"},
      {"MassInCentimetres", "orders.toml", "82 kg", "82 cm", "82 cm", "rider.mass", "82 cm",
       "cm is a unit of length"},
      {"HeightWithoutAUnit", "orders.toml", "\"178 cm\"", "178", "height", "rider.height", "178",
       "has no unit"},
      {"HeightOfATree", "orders.toml", "178 cm", "178 m", "178 m", "rider.height", "178 m",
       "between 500 mm and 2600 mm"},
      {"InseamAboveHeight", "orders.toml", "\"178 cm\"", "\"80 cm\"", "inseam", "rider.inseam", "",
       "shorter than its rider"},
      {"UnknownRegion", "orders.toml", "\"EU\"", "\"EW\"", "EW", "need.region", "EW",
       "did you mean \"EU\""},
      {"UnknownRoute", "orders.toml", "route = \"to-work\"", "route = \"to-wrk\"", "to-wrk",
       "need.route", "to-wrk", "did you mean \"to-work\""},
      {"ChosenPartUnknown", "orders.toml", "\"FK-1\"", "\"FK-9\"", "FK-9", "choices.fork", "FK-9",
       "no part has this number"},
      {"ChosenPartOfAnotherKind", "orders.toml", "fork = \"FK-1\"", "fork = \"HS-1\"",
       "fork = \"HS", "choices.fork", "HS-1", "of kind K-HS; the slot takes K-FK"},
      {"ChosenSlotNotOfTheBuild", "orders.toml", "headset = ", "hedset = ", "hedset",
       "choices.hedset", "HS-1", "did you mean \"headset\""},
      {"AnswerToNoQuestion", "orders.toml", "C-010 =", "C-011 =", "C-011 =", "answers.C-011", "C-011",
       "did you mean \"C-010\""},
      {"AnswerThatIsNone", "orders.toml", "answer = \"yes\"", "answer = \"jes\"", "jes",
       "answers.C-010.answer", "jes", "did you mean \"yes\""},
      {"AnswerOfNobody", "orders.toml", "who = \"mara\"", "who = \"ada\"", "\"ada\"",
       "answers.C-010.who", "ada", "nobody in people.toml"},
      {"OrderTwice", "orders.toml", "[[order]]",
       "[[order]]\nid = \"2041\"\nbuild = \"T1\"\nstate = \"Draft\"\nopened = 2026-11-01\n"
       "rider = { name = \"A\" }\nneed = {}\n[[order]]",
       "id = \"2041\"\nbuild = \"T1\"\nstate = \"Gathering\"", "id", "2041", "first in line 3"},
  };
  return kMistakes;
}

class ReadShopFilesRefuses : public testing::TestWithParam<Mistake> {};

TEST_P(ReadShopFilesRefuses, NamingFileLineFieldValueAndWhatIsRight) {
  const Mistake& mistake = GetParam();
  const FolderFiles files = with_change(mini_shop(), mistake.file, mistake.from, mistake.to);
  const TestFolder folder(files);
  const Problems problems = read_shop_files(mini(), folder.path()).problems;
  ASSERT_EQ(problems.size(), 1U) << all_of(problems);
  const Error& problem = problems[0];
  EXPECT_EQ(problem.place.file, mistake.file) << problem.full();
  EXPECT_EQ(problem.place.line, line_of(files.at(mistake.file), mistake.line_of)) << problem.full();
  EXPECT_EQ(problem.place.field, mistake.field) << problem.full();
  EXPECT_EQ(problem.place.value, mistake.value) << problem.full();
  EXPECT_NE(problem.sentence.find(mistake.says), std::string::npos) << problem.full();
}

INSTANTIATE_TEST_SUITE_P(Mistakes, ReadShopFilesRefuses, testing::ValuesIn(mistakes()),
                         [](const auto& about) { return about.param.claim; });

TEST(ReadShopFiles, ReadsAWholeShop) {
  const TestFolder folder(mini_shop());
  const ReadShopFiles read = read_shop_files(mini(), folder.path());
  ASSERT_EQ(all_of(read.problems), "");
  ASSERT_EQ(read.files.settings.size(), 1U);
  EXPECT_EQ(read.files.settings[0].hourly_rate.cents, 7250);
  EXPECT_EQ(read.files.settings[0].closed.size(), 2U);
  EXPECT_EQ(read.files.areas.size(), 2U);
  ASSERT_EQ(read.files.people.size(), 1U);
  EXPECT_EQ(read.files.people[0].week[0], (Hours{{540, 750}, {780, 1080}}));
  EXPECT_TRUE(read.files.people[0].week[1].empty());
  ASSERT_EQ(read.files.suppliers.size(), 1U);
  EXPECT_EQ(read.files.suppliers[0].freight.cents, 790);
  EXPECT_EQ(read.files.suppliers[0].ship_days, 0b101);
  EXPECT_EQ(read.files.suppliers[0].cut_off_minute, 13 * 60 + 30);
  EXPECT_EQ(read.files.parts.size(), 4U);
  EXPECT_EQ(read.files.routes.size(), 1U);
  ASSERT_EQ(read.files.offers.size(), 2U);
  ASSERT_EQ(read.files.offers[0].breaks.size(), 2U);
  EXPECT_EQ(read.files.offers[0].breaks[0].from_quantity, 1) << "price breaks rise";
  ASSERT_EQ(read.files.stock.size(), 2U);
  EXPECT_EQ(read.files.stock[0].put_by,
            (std::vector<std::pair<OrderId, int>>{{OrderId("2041"), 1}}));
  ASSERT_EQ(read.files.purchases.size(), 2U);
  EXPECT_EQ(read.files.purchases[0].order, OrderId("2041"));
  EXPECT_FALSE(read.files.purchases[1].order);
  ASSERT_EQ(read.files.orders.size(), 1U);
  EXPECT_EQ(read.files.orders[0].rider.height->in(mm), 1780);
  EXPECT_EQ(read.files.orders[0].choices.at(SlotId("fork")), PartId("FK-1"));
}

TEST(ReadShopFiles, LeavesOutWhatIsNotKnownAndLetsMeasuredFactsReplacePrintedOnes) {
  const TestFolder folder(mini_shop());
  const ReadShopFiles read = read_shop_files(mini(), folder.path());
  const auto alder = std::ranges::find(read.files.parts, PartId("FK-1"), &Part::id);
  ASSERT_NE(alder, read.files.parts.end());
  EXPECT_EQ(fact_of(*alder, "rated_load"), nullptr) << "? is not known";
  const Fact* steerer = fact_of(*alder, "steerer");
  ASSERT_NE(steerer, nullptr);
  EXPECT_EQ(steerer->standing, Standing::kMeasured);
  EXPECT_EQ(std::get<double>(steerer->value), 28.58) << "the later measurement holds";
  EXPECT_EQ(steerer->by, "mara");
  EXPECT_EQ(mass_of(*alder)->in(gram), 1100);
}

TEST(ReadShopFiles, ReadsASingleFileAgainstWhatTheBookKnows) {
  const TestFolder folder(mini_shop());
  const KnownNames known{
      .parts = {{PartId("HS-1"), KindId("K-HS")}, {PartId("FK-1"), KindId("K-FK")}},
      .suppliers = {SupplierId("nordal")}};
  const ReadShopFiles offers = read_shop_files(mini(), folder.path() + "/offers.csv", known);
  EXPECT_EQ(all_of(offers.problems), "");
  EXPECT_EQ(offers.files.offers.size(), 2U);
  const ReadShopFiles alone = read_shop_files(mini(), folder.path() + "/offers.csv");
  EXPECT_EQ(alone.problems.size(), 6U) << "no supplier and no part is known for three rows";
  const ReadShopFiles forks = read_shop_files(mini(), folder.path() + "/parts/K-FK.csv");
  EXPECT_EQ(all_of(forks.problems), "");
  EXPECT_EQ(forks.files.parts.size(), 2U);
}

TEST(ReadShopFiles, RefusesAPartOfAnotherKindUnderANumberOfTheBook) {
  const TestFolder folder(mini_shop());
  const KnownNames known{.parts = {{PartId("FK-2"), KindId("K-HS")}}};
  const ReadShopFiles read = read_shop_files(mini(), folder.path() + "/parts/K-FK.csv", known);
  ASSERT_EQ(read.problems.size(), 1U);
  EXPECT_EQ(read.problems[0].code, Code::kConflict);
}

TEST(ReadShopFiles, RefusesFilesWhoseRoleNobodyKnows) {
  for (const auto& [name, says] :
       std::map<std::string, std::string>{{"order.toml", "did you mean \"orders.toml\""},
                                          {"parts/K-FX.csv", "did you mean \"K-FK\""},
                                          {"parts/K-RIDER.csv", "named by its kind"},
                                          {"K-FK.csv", "parts/K-FK.csv"}}) {
    FolderFiles files = mini_shop();
    files[name] = "id,name,price\n";
    const TestFolder folder(files);
    const Problems problems = read_shop_files(mini(), folder.path()).problems;
    ASSERT_EQ(problems.size(), 1U) << name << "\n" << all_of(problems);
    const std::string full = problems[0].full();
    EXPECT_NE(full.find(says), std::string::npos) << full;
  }
  FolderFiles files = mini_shop();
  files["README.md"] = "Ours.";
  const TestFolder folder(files);
  EXPECT_EQ(all_of(read_shop_files(mini(), folder.path()).problems), "");
  EXPECT_EQ(read_shop_files(mini(), "/nowhere/at/all").problems.size(), 1U);
}

TEST(ReadShopFiles, TellsAFileThatIsNoneOnceAndNothingThatFollowsFromIt) {
  for (const auto& [name, text] : mini_shop()) {
    if (name.ends_with(".gpx")) continue;
    FolderFiles files = mini_shop();
    files[name] = "\"";
    const TestFolder folder(files);
    const Problems problems = read_shop_files(mini(), folder.path()).problems;
    EXPECT_EQ(problems.size(), 1U) << name << "\n" << all_of(problems);
  }
}

TEST(ReadShopFiles, RefusesMoreRowsThanItSays) {
  std::string text = "part,on_shelf\n";
  for (int i = 0; i < 200'001; ++i) text += "x,1\n";
  const TestFolder folder({{"stock.csv", text}});
  const Problems problems = read_shop_files(mini(), folder.path()).problems;
  ASSERT_EQ(problems.size(), 1U);
  EXPECT_EQ(problems[0].code, Code::kTooLarge);
}

/// Bytes struck at random must never crash a reader; and what it hands back without a problem refers
/// to nothing that is not there. (A strike of # may turn a row into a comment: fewer rows are fine.)
TEST(ReadShopFiles, RefusesAStrayBraceInAList) {
  for (const char* list : {"[}]", "[ }", "[1, }]", "[[}", "[}}}}}}", "[}x]", "{ a = [} }"}) {
    FolderFiles files;
    files["orders.toml"] = std::string("[[order]]\nid = \"1\"\nflags = ") + list + "\n";
    const TestFolder folder(files);
    const ReadShopFiles read = read_shop_files(mini(), folder.path());
    ASSERT_EQ(read.problems.size(), 1U) << list << "\n" << all_of(read.problems);
    EXPECT_EQ(read.problems[0].place.line, 3) << read.problems[0].full();
    EXPECT_NE(read.problems[0].sentence.find("this is not TOML"), std::string::npos);
  }
}

TEST(ReadShopFiles, SurvivesFilesWithBytesStruckAtRandom) {
  constexpr std::uint64_t kSeed = 20261125;
  constexpr int kRounds = 400;
  constexpr std::string_view kStrikes = "\"',\n\r#[]{}=|.-9zN\xff\xc3";
  Random random(kSeed);
  int refused = 0;
  for (int round = 0; round < kRounds; ++round) {
    FolderFiles files = mini_shop();
    auto file = files.begin();
    std::advance(file, static_cast<long>(random.below(files.size())));
    for (std::uint64_t strike = 0; strike <= random.below(4); ++strike) {
      const std::size_t at = random.below(file->second.size());
      const char with = kStrikes[random.below(kStrikes.size())];
      if (random.below(3) == 0) {
        file->second.erase(at, 1 + random.below(5));
        if (file->second.empty()) file->second = "x";
      } else {
        file->second[at] = with;
      }
    }
    const TestFolder folder(files);
    const ReadShopFiles read = read_shop_files(mini(), folder.path());
    if (!read.problems.empty()) {
      ++refused;
      for (const Error& problem : read.problems) EXPECT_FALSE(problem.sentence.empty());
      continue;
    }
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << ", round " << round << "\n"
                                    << file->first << "\n"
                                    << file->second);
    for (const Order& order : read.files.orders) {
      EXPECT_TRUE(mini().templates.contains(order.build));
      for (const auto& [slot, part] : order.choices) {
        EXPECT_EQ(std::ranges::count(read.files.parts, part, &Part::id), 1);
      }
    }
    for (const Offer& offer : read.files.offers) {
      EXPECT_EQ(std::ranges::count(read.files.parts, offer.part, &Part::id), 1);
      EXPECT_EQ(std::ranges::count(read.files.suppliers, offer.supplier, &Supplier::id), 1);
      EXPECT_FALSE(offer.breaks.empty());
    }
    for (const Part& part : read.files.parts) EXPECT_FALSE(part.name.empty());
  }
  EXPECT_GT(refused, kRounds / 2) << "most strikes break something";
}

}  // namespace
}  // namespace rollwright::trade
