#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/text.hpp"
#include "book/book.hpp"
#include "book/record.hpp"
#include "shop/shop.hpp"

// On the demo of data/demo, which is invented, and its invented list of a supplier.
namespace rollwright::shop {
namespace {

const FixedClock kClock(parse_instant("2026-11-25T07:45:00Z").value());

/// A shop over a book in a file, so that the book can be looked at from beside it.
class Lists : public testing::Test {
 protected:
  void SetUp() override {
    path_ = testing::TempDir() + "rollwright_lists_" +
            testing::UnitTest::GetInstance()->current_test_info()->name() + ".book";
    remove_book();
    shop_ = Shop::open({.trade_folder = ROLLWRIGHT_ROOT "/data/trade", .book = path_}, kClock, true)
                .value();
    ASSERT_TRUE(shop_->import(ROLLWRIGHT_ROOT "/data/demo", "owner").value().imported);
  }
  void TearDown() override {
    shop_.reset();
    remove_book();
  }
  void remove_book() {
    for (const char* tail : {"", "-wal", "-shm"}) std::remove((path_ + tail).c_str());
  }

  /// Every part and offer of the book with all that is said of it.
  std::map<std::string, std::string> everything() {
    const trade::ShopFiles held = book::Book::open(path_, false).value().read_all().value();
    std::map<std::string, std::string> all;
    const auto add = [&all](const book::Record& record) { all[record.subject] = record.text; };
    for (const trade::Part& part : held.parts) add(book::record_of(part));
    for (const trade::Offer& offer : held.offers) add(book::record_of(offer));
    for (const trade::Stock& stock : held.stock) add(book::record_of(stock));
    for (const trade::Order& order : held.orders) add(book::record_of(order));
    return all;
  }

  static GivenList demo_list() {
    return {.file = "nordal_herbst_2026.csv",
            .text = read_file(ROLLWRIGHT_ROOT
                              "/data/demo/supplier_lists/nordal_herbst_2026.csv")
                        .value(),
            .supplier = "nordal"};
  }
  static constexpr HowToTakeIn kGoodRows = {.skip_bad_rows = true};

  std::string path_;
  std::unique_ptr<Shop> shop_;
};

TEST_F(Lists, AreAllOrNothingUnlessThePersonSaysSo) {
  const auto before = everything();
  const TakeInView refused = shop_->import_catalogue(demo_list(), {}, "mara").value();
  EXPECT_FALSE(refused.taken);
  EXPECT_NE(refused.sentence.find("11 rows are refused"), std::string::npos) << refused.sentence;
  const TakeInView dry =
      shop_->import_catalogue(demo_list(), {.dry_run = true, .skip_bad_rows = true}, "m").value();
  EXPECT_FALSE(dry.taken);
  EXPECT_EQ(everything(), before);
  const TakeInView taken = shop_->import_catalogue(demo_list(), kGoodRows, "mara").value();
  EXPECT_TRUE(taken.taken) << taken.sentence;
  EXPECT_EQ(taken.list->refused, 11);
  EXPECT_EQ(taken.list->added, 42);
  EXPECT_NE(everything(), before);
  EXPECT_TRUE(shop_->verify().value().whole);
}

TEST_F(Lists, ChangeNothingTheSecondTime) {
  ASSERT_TRUE(shop_->import_catalogue(demo_list(), kGoodRows, "mara").value().taken);
  const auto after = everything();
  const std::int64_t entries = shop_->verify().value().entries;
  const TakeInView again = shop_->import_catalogue(demo_list(), kGoodRows, "mara").value();
  EXPECT_FALSE(again.taken);
  EXPECT_EQ(again.preview.counts.at("new") + again.preview.counts.at("changed"), 0);
  EXPECT_EQ(everything(), after);
  EXPECT_EQ(shop_->verify().value().entries, entries);
}

TEST_F(Lists, TakenBackLeaveEverythingAsItWas) {
  const auto before = everything();
  for (int round = 0; round < 2; ++round) {
    ASSERT_TRUE(shop_->import_catalogue(demo_list(), kGoodRows, "mara").value().taken);
    const UndoView undone = shop_->undo_import(0, "mara").value();
    EXPECT_TRUE(undone.left.empty() && undone.discontinued.empty()) << undone.sentence;
    EXPECT_EQ(everything(), before);
    EXPECT_TRUE(shop_->verify().value().whole) << shop_->verify().value().sentence;
  }
  const auto nothing = shop_->undo_import(0, "mara");
  EXPECT_EQ(nothing.error().code, Code::kRefused);
  EXPECT_NE(nothing.error().sentence.find("nothing to take back"), std::string::npos);
  EXPECT_EQ(shop_->undo_import(1, "mara").error().code, Code::kRefused);
  EXPECT_EQ(shop_->undo_import(77, "mara").error().code, Code::kNotFound);
  EXPECT_EQ(shop_->imports().value().lists.size(), 2u);
}

TEST_F(Lists, TakenBackInAnyPiecesLeaveEverythingAsItWas) {
  const auto before = everything();
  const std::string whole = demo_list().text;
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    SCOPED_TRACE(seed);
    Random random(seed);
    // Some of the rows, then some others with other prices, taken back newest first.
    for (int list = 0; list < 2; ++list) {
      GivenList given = demo_list();
      std::string text;
      std::size_t from = 0;
      for (std::size_t end; (end = whole.find('\n', from)) != std::string::npos; from = end + 1) {
        std::string line = whole.substr(from, end + 1 - from);
        if (from > 0 && random.below(3) == 0) continue;
        if (from > 0 && list == 1) {
          if (const auto at = line.find(",00;1;"); at != std::string::npos) line[at + 1] = '5';
        }
        text += line;
      }
      given.text = text;
      ASSERT_TRUE(shop_->import_catalogue(given, kGoodRows, "mara").value().taken);
    }
    ASSERT_TRUE(shop_->undo_import(0, "mara"));
    ASSERT_TRUE(shop_->undo_import(0, "mara"));
    EXPECT_EQ(everything(), before);
  }
}

TEST_F(Lists, TakenBackLeaveWhatOthersChangedSince) {
  ASSERT_TRUE(shop_->import_catalogue(demo_list(), kGoodRows, "mara").value().taken);
  GivenList later = demo_list();
  later.text = "Artikelnummer;Gewicht (g)\nN19580;999\n";
  later.file = "later.csv";
  trade::ColumnMapping mapping{.supplier = "nordal", .separator = "semicolon", .kind = "K-TY",
                               .new_number = "NORDAL-"};
  mapping.columns = {{.heading = "Artikelnummer", .goes_to = "article"},
                     {.heading = "Gewicht (g)", .goes_to = "mass", .unit = "g"}};
  later.mapping = mapping;
  ASSERT_TRUE(shop_->import_catalogue(later, {}, "ilka").value().taken);
  const UndoView undone = shop_->undo_import(1, "mara").value();
  const auto left = join(undone.left, "; ");
  // The first list may have changed the part's facts or only its offer; what the later one wrote
  // over is left and named.
  const std::string mass = [&] {
    const trade::ShopFiles held = book::Book::open(path_, false).value().read_all().value();
    for (const trade::Part& part : held.parts) {
      if (part.id.text == "TY-0001") {
        return shown(shop_->trade().attributes.at("mass"), part.facts.at("mass").value);
      }
    }
    return std::string();
  }();
  EXPECT_EQ(mass, "0.999 kg") << left;
}

TEST_F(Lists, DiscontinueANewPartThatAnOrderNames) {
  ASSERT_TRUE(shop_->import_catalogue(demo_list(), kGoodRows, "mara").value().taken);
  NewOrder order{.build = "B1"};
  order.rider = {.name = "Test Rider", .height_mm = 1700, .inseam_mm = 790, .mass_kg = 74};
  order.need = {.words = "invented", .luggage_kg = 10, .region = "EU", .assist_class = "25 km/h",
                .front_brake_lever = "left"};
  order.choices["front_tyre"] = "NORDAL-N50107";
  const auto opened = shop_->new_order(order, "desk");
  ASSERT_TRUE(opened) << opened.error().full();
  const UndoView undone = shop_->undo_import(0, "mara").value();
  EXPECT_EQ(undone.discontinued, std::vector<std::string>{"part NORDAL-N50107"});
  EXPECT_TRUE(shop_->part("NORDAL-N50107").value().row.gone);
  EXPECT_FALSE(shop_->part("NORDAL-N50114"));
  EXPECT_TRUE(shop_->verify().value().whole);
}

TEST_F(Lists, DoNotOverwriteMeasurementsUnlessLetGo) {
  GivenList given = demo_list();
  const PreviewView preview = shop_->preview_catalogue(given).value();
  ASSERT_GE(preview.contradictions, 1);
  std::string named;
  for (const ListRowView& row : preview.rows) {
    for (const ContradictionView& each : row.contradictions) {
      if (row.fate != "refused") named = row.part + " " + each.attribute;
    }
  }
  given.take_over = {named};
  ASSERT_TRUE(shop_->import_catalogue(given, kGoodRows, "mara").value().taken);
  const PartView part = shop_->part(named.substr(0, named.find(' '))).value();
  for (const FactView& fact : part.facts) {
    if (fact.attribute != named.substr(named.find(' ') + 1)) continue;
    EXPECT_EQ(fact.standing, "known");
    EXPECT_EQ(fact.source, "Nordal Wholesale: nordal_herbst_2026.csv");
  }
  given.take_over = {"TY-0001 wings"};
  EXPECT_FALSE(shop_->preview_catalogue(given).value().problems.empty());
  given.take_over = {"nonsense"};
  EXPECT_EQ(shop_->preview_catalogue(given).error().place.field, "take_over");
}

TEST_F(Lists, AreTakenInOnlyAsTheyWereSeen) {
  const PreviewView seen = shop_->preview_catalogue(demo_list()).value();
  GivenList other = demo_list();
  other.text.replace(other.text.find("25,76"), 5, "29,99");
  const auto refused = shop_->import_catalogue(
      other, {.skip_bad_rows = true, .as_seen = seen.as_seen}, "mara");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kConflict);
  EXPECT_TRUE(shop_->import_catalogue(demo_list(),
                                      {.skip_bad_rows = true, .as_seen = seen.as_seen}, "mara")
                  .value()
                  .taken);
}

TEST_F(Lists, AreReadTheNextTimeAsTheLast) {
  EXPECT_FALSE(shop_->propose_mapping(demo_list()).value().saved);
  ASSERT_TRUE(shop_->import_catalogue(demo_list(), kGoodRows, "mara").value().taken);
  const MappingView again = shop_->propose_mapping(demo_list()).value();
  EXPECT_TRUE(again.saved);
  EXPECT_EQ(again.columns.at(0).why, "read so the last time");
}

TEST_F(Lists, RefuseUnknownSuppliersAndDaysToCome) {
  GivenList given = demo_list();
  given.supplier = "nobody";
  EXPECT_EQ(shop_->preview_catalogue(given).error().code, Code::kNotFound);
  given = demo_list();
  given.day = parse_day("2026-11-26").value();
  EXPECT_EQ(shop_->preview_catalogue(given).error().place.field, "day");
}

TEST_F(Lists, OfThousandsOfRowsAreTakenIn) {
  GivenList given{.file = "long.csv", .text = "Art no,Description,RRP,Net price,Weight (g)\n",
                  .supplier = "quay"};
  for (int i = 0; i < 5000; ++i) {
    given.text += "L" + std::to_string(i) + ",Bell," + std::to_string(9 + i % 7) + ",4.5,61\n";
  }
  given.mapping = shop_->propose_mapping(given).value().mapping;
  given.mapping->kind = "K-AC";
  const auto before = everything();
  const TakeInView taken = shop_->import_catalogue(given, {}, "mara").value();
  ASSERT_TRUE(taken.taken) << taken.sentence;
  EXPECT_EQ(taken.list->added, 5000);
  ASSERT_TRUE(shop_->undo_import(0, "mara"));
  EXPECT_EQ(everything(), before);
}

}  // namespace
}  // namespace rollwright::shop
