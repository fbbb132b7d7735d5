#include "book/book.hpp"

#include <cstdio>
#include <filesystem>

#include <gtest/gtest.h>
#include <unistd.h>

#include "base/random.hpp"
#include "book/record.hpp"

// Everything in these tests is invented.
namespace rollwright::book {
namespace {

Day day(const char* text) { return parse_day(text).value(); }

trade::ShopFiles sample() {
  trade::ShopFiles files;
  files.settings = {{.name = "Corner", .town = "Nowhere", .invented = true,
                     .hourly_rate = {6800}, .promise_confidence = 0.8,
                     .closed = {day("2026-12-25")}}};
  files.areas = {{"assembly", 2}, {"wheel bench", 1}};
  trade::Person mara{.id = trade::PersonId("mara"), .name = "Mara", .roles = {"bench"},
                     .skills = {"L3", "WB"}, .productive = 0.7};
  mara.week[1] = {{540, 750}, {780, 1080}};
  mara.away = {{day("2026-12-01"), day("2026-12-04")}};
  files.people = {mara};
  files.suppliers = {{.id = trade::SupplierId("nordal"), .name = "Nordal",
                      .minimum_order = {5000}, .freight = {990},
                      .ways = {{.mode = "sea", .carrier = "sea", .legs = {"sea", "road"},
                                .ready_low = 20, .ready_high = 40, .price = {9000},
                                .per_kg = {120}, .availability = {"made"}},
                               {.mode = "air", .carrier = "air", .legs = {"air"}}},
                      .claim_days = {{trade::Trouble::kWrong, 14}}}};
  trade::Part hub{.id = trade::PartId("HG-1"), .kind = trade::KindId("K-HG"),
                  .name = "Hub gear", .maker = "Brack", .price = {41000}};
  hub.facts["mass"] = {trade::Standing::kKnown, 1.82, "list", "", day("2026-09-01")};
  hub.facts["brake"] = {trade::Standing::kNotKnown, false, "", "", {}};
  hub.facts["name"] = {trade::Standing::kMeasured, std::string("x"), "caliper", "mara",
                       day("2026-10-01")};
  hub.facts["set"] = {trade::Standing::kKnown, std::vector<std::string>{"a", "b"}, "list", "",
                      day("2026-09-01")};
  hub.facts["flag"] = {trade::Standing::kKnown, true, "list", "", day("2026-09-01")};
  files.parts = {hub};
  files.offers = {{.supplier = trade::SupplierId("nordal"), .part = hub.id, .article = "N 7",
                   .breaks = {{1, {20000}}, {5, {19000}}}, .as_of = day("2026-09-01")}};
  files.stock = {{hub.id, 3, {{trade::OrderId("2041"), 1}}}};
  files.purchases = {{.id = "P-1", .supplier = trade::SupplierId("nordal"), .part = hub.id,
                      .quantity = 2, .order = trade::OrderId("2041"),
                      .placed = day("2026-11-02"), .confirmed = day("2026-12-03"),
                      .state = trade::PurchaseState::kConfirmed, .mode = "sea",
                      .legs = {{"getting ready", day("2026-11-10")}},
                      .placed_again = day("2026-11-20"),
                      .came = trade::GoodsIn{.ordered = 2, .again = 1, .accepted = 1,
                                             .sent_back = 1,
                                             .first_arrival = day("2026-11-12")},
                      .marked = {{.serial = "B 7", .lot = "L1", .day = day("2026-11-12")},
                                 {.serial = "B 8", .place = trade::PlaceOfPiece::kSentBack,
                                  .day = day("2026-11-12")}},
                      .claims = {{.trouble = trade::Trouble::kDamageSeen, .carrier = "sea",
                                  .found = day("2026-11-12"), .tell_by = day("2026-11-15"),
                                  .terms = "invented", .told = day("2026-11-13"),
                                  .outcome = "", .note = "bent"}}},
                     {.id = "P-2", .supplier = trade::SupplierId("nordal"), .part = hub.id,
                      .placed = day("2026-11-03")}};
  files.receipts = {{.supplier = trade::SupplierId("nordal"), .part = hub.id, .quantity = 1,
                     .ordered = day("2026-01-02"), .received = day("2026-01-20")}};
  files.used = {{.part = hub.id, .day = day("2026-02-03"), .what_for = "repair", .quantity = 2}};
  files.promises = {{.order = trade::OrderId("1990"), .said = day("2026-06-01"),
                     .promised = day("2026-07-10"), .in_100 = 91, .day_50 = day("2026-07-01"),
                     .day_90 = day("2026-07-09"), .ready = day("2026-07-03"),
                     .odds = {{day("2026-06-20"), 12}, {day("2026-07-01"), 505}}}};
  files.times = {{.order = trade::OrderId("1990"), .operation = "A-10",
                  .person = trade::PersonId("mara"), .day = day("2026-07-01"), .minutes = 25}};
  files.tools = {{.id = "T3", .name = "wrench", .measures = Dimension::kTorque, .least = 2.0,
                  .most = 25.0, .calibrated = day("2026-02-01"), .valid_days = 365}};
  files.recalls = {{.number = "R1", .notice = "letter 7", .part = hub.id, .kind = {}, .maker = "",
                    .lot_from = "L1", .lot_to = "L9", .serial_from = "1", .serial_to = "2",
                    .day_from = day("2026-01-01"), .day_to = day("2026-02-01"), .wrong = "cracks",
                    .danger = true, .remedy = "replace", .opened_by = trade::PersonId("mara"),
                    .opened = day("2026-11-20"), .closed = day("2026-11-21"),
                    .closed_by = "owner", .closing_note = "done"}};
  files.recall_steps = {{.recall = "R1", .order = trade::OrderId("1990"), .number = 1,
                         .status = trade::RecallStatus::kNoAnswer, .day = day("2026-11-20"),
                         .who = trade::PersonId("mara"), .channel = "telephone", .note = "again"}};
  const trade::MakerLine frame{.position = "frame", .part = trade::PartId("MB-1"),
                               .article = "F 7", .quantity = 1, .options = "size: M",
                               .serial = "", .note = "C-001"};
  const trade::MakerLine lever{.position = "front_brake_lever", .part = {}, .article = "",
                               .quantity = 1, .options = "left", .serial = "", .note = ""};
  trade::MakerLine built = frame;
  built.serial = "M 0815";
  files.maker_forms = {{.order = trade::OrderId("2041"), .number = 1, .version = 2,
                        .maker = trade::SupplierId("nordal"), .wanted = day("2027-01-10"),
                        .sent = day("2026-11-20"), .how = "mail",
                        .who = trade::PersonId("mara"), .lines = {frame, lever}}};
  files.maker_lists = {{.order = trade::OrderId("2041"),
                        .kind = trade::MakerListKind::kAsBuilt, .number = 1, .reference = "N 1",
                        .file = "built.csv", .day = day("2026-11-22"),
                        .who = trade::PersonId("mara"), .lines = {built, lever}},
                       {.order = trade::OrderId("2041"),
                        .kind = trade::MakerListKind::kConfirmed, .number = 1, .reference = "",
                        .file = "", .day = day("2026-11-21"), .who = trade::PersonId("mara"),
                        .lines = {frame}}};
  files.difference_answers = {{.order = trade::OrderId("2041"), .number = 1,
                               .kind = trade::MakerListKind::kConfirmed, .list = 1,
                               .position = "front_brake_lever", .ordered = "1 x article [left]",
                               .listed = "", .accepted = true, .why = "was said by telephone",
                               .signed_by = "A. Rider", .price_change = {-500},
                               .who = trade::PersonId("mara"), .day = day("2026-11-23")}};
  trade::Order order{.id = trade::OrderId("2041"), .build = "B1",
                     .state = trade::OrderState::kGathering};
  order.rider = {.name = "A. Rider", .height = 1700.0 * mm, .mass = 71.5 * kg};
  order.need = {.words = "to school", .luggage = 14.0 * kg, .region = "EU"};
  order.choices[trade::SlotId("rear_hub")] = hub.id;
  order.flags = {"Held"};
  order.done = {"G-10"};
  order.answers["C-010"] = {trade::Answer::kNo, "mara", day("2026-11-02"), "too tight",
                            {{trade::SlotId("rear_hub"), hub.id}}};
  order.answers["C-013"] = {.who = "ida", .day = day("2026-11-03")};
  order.opened = day("2026-11-01");
  order.budget = trade::Budget{.at_most = Money{250050}};
  order.follow_up = {.day = day("2026-11-09"), .about = "Mara calls about the belt"};
  order.promised = day("2026-12-18");
  files.orders = {order};
  files.routes["ridge"] = "<gpx/>";
  return files;
}

Change change_with(trade::ShopFiles files) {
  return {.who = "mara", .what = "import", .why = "test", .at = Instant{}, .put = std::move(files)};
}

Book fresh() { return Book::open(":memory:", true).value(); }

TEST(Book, GivesBackWhatWasPut) {
  Book book = fresh();
  const trade::ShopFiles files = sample();
  ASSERT_TRUE(book.write(change_with(files)));
  const trade::ShopFiles held = book.read_all().value();
  trade::Order expected = files.orders[0];
  expected.revision = 1;
  EXPECT_EQ(record_of(held.settings.at(0)).text, record_of(files.settings[0]).text);
  EXPECT_EQ(record_of(held.areas.at(1)).text, record_of(files.areas[1]).text);
  EXPECT_EQ(record_of(held.people.at(0)).text, record_of(files.people[0]).text);
  EXPECT_EQ(record_of(held.suppliers.at(0)).text, record_of(files.suppliers[0]).text);
  EXPECT_EQ(record_of(held.parts.at(0)).text, record_of(files.parts[0]).text);
  EXPECT_EQ(record_of(held.offers.at(0)).text, record_of(files.offers[0]).text);
  EXPECT_EQ(record_of(held.stock.at(0)).text, record_of(files.stock[0]).text);
  EXPECT_EQ(record_of(held.purchases.at(0)).text, record_of(files.purchases[0]).text);
  EXPECT_EQ(record_of(held.purchases.at(1)).text, record_of(files.purchases[1]).text);
  EXPECT_EQ(record_of(held.receipts.at(0)).text, record_of(files.receipts[0]).text);
  EXPECT_EQ(record_of(held.used.at(0)).text, record_of(files.used[0]).text);
  EXPECT_EQ(record_of(held.promises.at(0)).text, record_of(files.promises[0]).text);
  EXPECT_EQ(record_of(held.times.at(0)).text, record_of(files.times[0]).text);
  EXPECT_EQ(held.tools, files.tools);
  EXPECT_EQ(held.recalls, files.recalls);
  EXPECT_EQ(held.recall_steps, files.recall_steps);
  EXPECT_EQ(held.maker_forms, files.maker_forms);
  EXPECT_EQ(held.maker_lists, files.maker_lists);
  EXPECT_EQ(held.difference_answers, files.difference_answers);
  EXPECT_EQ(record_of(held.orders.at(0)).text, record_of(expected).text);
  EXPECT_EQ(held.routes, files.routes);
}

TEST(Book, WritesOneEntryForEachThingThatReallyChanged) {
  Book book = fresh();
  EXPECT_EQ(book.write(change_with(sample())).value().things, 23);
  trade::ShopFiles again = sample();
  again.orders.clear();
  EXPECT_EQ(book.write(change_with(again)).value().things, 0);
  again.stock[0].on_shelf = 2;
  EXPECT_EQ(book.write(change_with(again)).value().things, 1);
  const auto entries = book.entries("stock HG-1", 10).value();
  ASSERT_EQ(entries.size(), 2u);
  EXPECT_NE(entries[0].before, entries[0].after);
  EXPECT_EQ(entries[0].before, entries[1].after);
}

TEST(Book, KeepsFormsListsAndAnswersAsTheyWereWritten) {
  Book book = fresh();
  ASSERT_TRUE(book.write(change_with(sample())));
  trade::ShopFiles form, list, answer;
  form.maker_forms = sample().maker_forms;
  form.maker_forms[0].wanted = day("2027-02-10");
  list.maker_lists = sample().maker_lists;
  list.maker_lists[1].lines[0].quantity = 2;
  answer.difference_answers = sample().difference_answers;
  answer.difference_answers[0].accepted = false;
  for (const trade::ShopFiles& files : {form, list, answer}) {
    EXPECT_EQ(book.write(change_with(files)).error().code, Code::kConflict);
  }
  EXPECT_EQ(book.read_all().value().maker_lists, sample().maker_lists);
  list.maker_lists[1].number = 2;
  EXPECT_TRUE(book.write(change_with(list)));
  EXPECT_EQ(book.read_all().value().maker_lists.size(), 3U);
  EXPECT_TRUE(book.verify().value().whole);
}

TEST(Book, GivesEveryEntryOfASubjectOldestFirstHoweverManyThereAre) {
  Book book = Book::over(open_sqlite(":memory:").value(), true).value();
  constexpr int kLines = 4100;  // more than are read at once
  const trade::OrderId order("2041");
  for (int number = 1; number <= kLines; ++number) {
    const trade::BikeLine line{.number = number, .who = trade::PersonId("mara"),
                               .deed = trade::Deed::kNoted, .note = "invented"};
    ASSERT_TRUE(book.write({.who = "mara", .what = "noted",
                            .record = {{.order = order, .after = number - 1, .lines = {line}}}}));
  }
  const std::vector<Entry> entries = book.all_entries(bike_subject(order)).value();
  ASSERT_EQ(entries.size(), static_cast<std::size_t>(kLines));
  for (std::size_t i = 1; i < entries.size(); ++i) EXPECT_LT(entries[i - 1].seq, entries[i].seq);
  EXPECT_TRUE(book.all_entries("bike 1").value().empty());
  const std::vector<trade::BikeLine> last = book.bike_lines(order, kLines - 2).value();
  ASSERT_EQ(last.size(), 2U);
  EXPECT_EQ(last[0].number, kLines - 1);
}

TEST(Book, RefusesAChangeOverAnOldRevisionAndKeepsNothingOfIt) {
  Book book = fresh();
  ASSERT_TRUE(book.write(change_with(sample())));
  trade::ShopFiles late = sample();  // still revision 0
  late.stock[0].on_shelf = 99;
  const auto refused = book.write(change_with(late));
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::kConflict);
  EXPECT_EQ(book.read_all().value().stock[0].on_shelf, 3);
}

TEST(Book, RefusesAPartThatChangedAfterTheWriterHadRead) {
  Book book = fresh();
  const std::int64_t read_at = book.write(change_with(sample())).value().last_entry;
  trade::ShopFiles first;
  first.parts = sample().parts;
  first.parts[0].facts["mass"].value = 1.83;
  Change change = change_with(first);
  change.read_at = read_at;
  ASSERT_TRUE(book.write(change));
  trade::ShopFiles second;
  second.parts = sample().parts;
  second.parts[0].facts["flag"].value = false;
  change.put = second;
  EXPECT_EQ(book.write(change).error().code, Code::kConflict);
  EXPECT_EQ(std::get<double>(book.read_all().value().parts[0].facts.at("mass").value), 1.83);
  change.read_at = book.last_entry().value();
  EXPECT_TRUE(book.write(change));
}

TEST(Book, RefusesStockAndPurchasesThatChangedSinceTheyWereRead) {
  Book book = fresh();
  const std::int64_t read_at = book.write(change_with(sample())).value().last_entry;
  trade::ShopFiles first;
  first.stock = {sample().stock[0]};
  first.stock[0].on_shelf = 4;
  ASSERT_TRUE(book.write(change_with(first)));
  Change second = change_with({});
  second.read_at = read_at;
  second.put.stock = {sample().stock[0]};
  second.put.stock[0].on_shelf = 9;
  EXPECT_EQ(book.write(second).error().code, Code::kConflict);
  EXPECT_EQ(book.read_all().value().stock[0].on_shelf, 4);
  second.put.stock.clear();
  second.put.purchases = {sample().purchases[1]};
  second.put.purchases[0].quantity = 3;
  EXPECT_TRUE(book.write(second)) << "the purchase was left alone meanwhile";
  second.put.purchases[0].quantity = 5;
  EXPECT_EQ(book.write(second).error().code, Code::kConflict);
}

TEST(Book, RaisesABookOfTheFirstVersionAndKeepsItsJournalWhole) {
  const std::string path = (std::filesystem::temp_directory_path() /
                            ("rollwright-first-" + std::to_string(::getpid()) + ".book"))
                               .string();
  const auto remove_all = [&path] {
    for (const char* tail : {"", "-wal", "-shm"}) std::filesystem::remove(path + tail);
  };
  remove_all();
  trade::ShopFiles files = sample();
  files.orders[0].answers.clear();
  files.orders[0].budget.reset();
  files.orders[0].follow_up.reset();
  files.settings[0].promise_confidence = trade::ShopSettings{}.promise_confidence;
  files.suppliers[0].ways.clear();
  files.suppliers[0].claim_days.clear();
  files.purchases = {sample().purchases[1]};
  files.used.clear();
  files.promises.clear();
  files.times.clear();
  files.tools.clear();
  files.recalls.clear();
  files.recall_steps.clear();
  files.maker_forms.clear();
  files.maker_lists.clear();
  files.difference_answers.clear();
  ASSERT_TRUE(Book::open(path, true).value().write(change_with(files)));
  {
    auto database = open_sqlite(path).value();
    ASSERT_TRUE(database->run_script("drop table order_answer; alter table shop drop column "
                                     "promise_confidence; drop table supplier_way; "
                                     "drop table supplier_claim_days; drop table claim; "
                                     "drop table used; drop table promise_said; "
                                     "drop table planned_hand; "
                                     "drop table planned_work; drop table agreed_plan; "
                                     "drop table plan_settings; drop table time_taken; "
                                     "drop table goods_in_mark; drop table goods_in; "
                                     "drop table purchase_leg; drop table bike_line; "
                                     "drop table sent_once; drop table tool; "
                                     "drop table recall_step; drop table recall; "
                                     "drop table goods_photo; drop table picture; "
                                     "drop table maker_form_line; drop table maker_form; "
                                     "drop table maker_list_line; drop table maker_list; "
                                     "drop table difference_answer; "
                                     "alter table purchase drop column mode; "
                                     "alter table customer_order drop column budget_asked; "
                                     "alter table customer_order drop column budget_cents; "
                                     "alter table customer_order drop column follow_up; "
                                     "alter table customer_order drop column follow_up_about; "
                                     "alter table purchase drop column placed_again; "
                                     "update book set version = 1"));
  }
  {
    Book book = Book::open(path, false).value();
    EXPECT_TRUE(book.verify().value().whole);
    trade::ShopFiles answered;
    answered.orders = {book.read_order(trade::OrderId("2041")).value()};
    answered.orders[0].answers = sample().orders[0].answers;
    ASSERT_TRUE(book.write(change_with(answered)));
    EXPECT_EQ(book.read_order(trade::OrderId("2041")).value().answers.size(), 2U);
    EXPECT_TRUE(book.verify().value().whole);
  }
  {
    auto database = open_sqlite(path).value();
    ASSERT_TRUE(database->run_script("update book set version = 99"));
  }
  EXPECT_EQ(Book::open(path, false).error().code, Code::kRefused);
  remove_all();
}

TEST(Book, KeepsNothingOfAChangeThatFailsHalfWay) {
  Book book = fresh();
  trade::ShopFiles files = sample();
  files.offers[0].part = trade::PartId("nowhere");  // no such part: the database refuses
  EXPECT_FALSE(book.write(change_with(files)));
  EXPECT_TRUE(book.read_all().value().parts.empty());
  EXPECT_EQ(book.last_entry().value(), 0);
}

/// Fails the n-th statement.
class Failing final : public Database {
 public:
  Failing(std::unique_ptr<Database> real, int fail_at) : real_(std::move(real)), left_(fail_at) {}
  void arm(int fail_at) { left_ = fail_at; }
  [[nodiscard]] bool failed() const { return failed_; }

  Result<Rows> run(std::string_view sql, const Row& arguments) override {
    if (due()) return refuse(Code::kUnavailable, "the disk is full; nothing was written");
    return real_->run(sql, arguments);
  }
  Result<void> run_script(const std::string& sql) override { return real_->run_script(sql); }
  Result<bool> is_empty() override { return real_->is_empty(); }
  Result<std::vector<std::string>> tables() override { return real_->tables(); }
  Result<void> begin() override { return real_->begin(); }
  Result<void> commit() override {
    if (due()) return refuse(Code::kUnavailable, "the disk is full; nothing was written");
    return real_->commit();
  }
  void rollback() noexcept override { real_->rollback(); }

 private:
  bool due() {
    failed_ = left_ >= 0 && left_-- == 0;
    return failed_;
  }
  std::unique_ptr<Database> real_;
  int left_;
  bool failed_ = false;
};

TEST(Book, LosesNothingWhicheverStatementFails) {
  int n = 0;
  Change change = change_with(sample());
  change.pictures.push_back(picture_of("\xFF\xD8\xFF").value());
  change.goods_photos = {{.line = change.put.purchases[0].id, .claim = 0,
                          .picture = change.pictures[0].hash, .at = {}, .who = {}, .note = {}}};
  for (;; ++n) {
    auto failing = std::make_unique<Failing>(open_sqlite(":memory:").value(), -1);
    Failing* control = failing.get();
    Book book = Book::over(std::move(failing), true).value();
    control->arm(n);
    const auto written = book.write(change);
    control->arm(-1);
    if (written) break;
    EXPECT_EQ(book.last_entry().value(), 0) << "statement " << n;
    EXPECT_TRUE(book.read_all().value().parts.empty()) << "statement " << n;
    EXPECT_FALSE(book.picture(change.pictures[0].hash)) << "statement " << n;
    ASSERT_TRUE(book.write(change)) << "after statement " << n;
    EXPECT_TRUE(book.verify().value().whole);
  }
  EXPECT_GT(n, 40);
}

/// A book in a file, and a second connection that changes rows past the journal.
class Altered : public ::testing::Test {
 protected:
  void SetUp() override {
    path_ = (std::filesystem::temp_directory_path() /
             ("rollwright-altered-" + std::to_string(::getpid()) + ".book"))
                .string();
    remove_all();
    Book book = Book::open(path_, true).value();
    ASSERT_TRUE(book.write(change_with(sample())));
    ASSERT_TRUE(book.verify().value().whole);
  }
  void TearDown() override { remove_all(); }
  void remove_all() const {
    for (const char* tail : {"", "-wal", "-shm"}) std::filesystem::remove(path_ + tail);
  }
  bool whole_after(const std::string& sql) {
    auto database = open_sqlite(path_).value();
    EXPECT_TRUE(database->run_script("pragma foreign_keys = off"));
    EXPECT_TRUE(database->run_script(sql)) << sql;
    return Book::open(path_, false).value().verify().value().whole;
  }
  std::string path_;
};

TEST_F(Altered, RowsAreFound) {
  for (const char* sql : {"update customer_order set promised = '2026-12-19'",
                          "update part_fact set number = 1.83 where attribute = 'mass'",
                          "update journal set who = 'jonas' where seq = 4",
                          "update journal set after = '' where seq = 4",
                          "delete from order_done", "delete from order_answer",
                          "update order_answer set answer = 'yes' where question = 'C-010'",
                          "update order_answer set about = '{}' where question = 'C-010'",
                          "delete from journal where seq = 2",
                          "update maker_form set wanted = '2027-01-11'",
                          "update maker_form_line set options = 'size: L' where line = 1",
                          "update maker_list set reference = 'N 2'",
                          "delete from maker_list where kind = 'confirmed'",
                          "update maker_list_line set part = 'MB-2' where line = 1",
                          "delete from maker_list_line where line = 2",
                          "update maker_list_line set line = 7 where line = 2",
                          "update difference_answer set accepted = 0",
                          "update difference_answer set who = 'ida'",
                          "delete from difference_answer",
                          "insert into area (id, stands) values ('attic', 1)",
                          "delete from receipt"}) {
    remove_all();
    SetUp();
    EXPECT_FALSE(whole_after(sql)) << sql;
  }
}

TEST(Book, RefusesAFileThatIsSomethingElse) {
  const std::string path = std::filesystem::temp_directory_path() / "rollwright-not-a-book.tmp";
  std::FILE* file = std::fopen(path.c_str(), "w");
  for (int i = 0; i < 1000; ++i) std::fputs("not a book at all\n", file);
  std::fclose(file);
  const auto opened = Book::open(path, false);
  ASSERT_FALSE(opened);
  EXPECT_EQ(opened.error().code, Code::kDamaged);
  std::filesystem::remove(path);
  EXPECT_EQ(Book::open("/nowhere/at/all.book", false).error().code, Code::kNotFound);
}

TEST(Journal, HashesFieldsApart) {
  Entry a{.seq = 1, .who = "ab", .what = "c"};
  Entry b{.seq = 1, .who = "a", .what = "bc"};
  EXPECT_NE(hash_of(a), hash_of(b));
  EXPECT_EQ(hash_of(a).size(), 64u);
}

}  // namespace
}  // namespace rollwright::book
