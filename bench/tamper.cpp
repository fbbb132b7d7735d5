// A finished bike's record and its journal, with single cells changed at random past the program:
// how many of the changes the check finds. And tails cut off the journal together with the rows they
// told of, which only a hash printed before shows. Holds when all are found.

#include <algorithm>
#include <filesystem>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/random.hpp"
#include "book/book.hpp"
#include "invented_years.hpp"

namespace {

using namespace rollwright;
using namespace rollwright::book;

/// Where the bike stands in the book.
constexpr const char* kTables[] = {"bike_line", "sent_once", "customer_order", "order_choice",
                                   "order_done", "journal"};

struct Tally {
  int changes = 0;
  int found = 0;
  int tails = 0;
  int tails_found = 0;
  int tails_unseen_without = 0;  // that the check without the print takes for whole
};

Cell other_cell(const Cell& cell, Random& random) {
  switch (random.below(6)) {
    case 0: return Cell();
    case 1: return Cell(static_cast<std::int64_t>(random.below(1000)));
    case 2: return Cell(std::string("other"));
    case 3: return Cell(std::string());
    default: break;
  }
  if (const auto* text = std::get_if<std::string>(&cell); text != nullptr && !text->empty()) {
    std::string changed = *text;
    char& letter = changed[random.below(changed.size())];
    letter = static_cast<char>(letter ^ (1 << random.below(5)));
    return changed;
  }
  if (const auto* whole = std::get_if<std::int64_t>(&cell)) return *whole + 1;
  if (const auto* real = std::get_if<double>(&cell)) return *real * (1 + 1e-12) + 1e-12;
  return Cell(std::string("x"));
}

/// Changes one cell; false when the table's own rules do not let it be so.
class Changer {
 public:
  Changer(Database& database, Random& random) : database_(database), random_(random) {}

  bool change() {
    table_ = kTables[random_.below(std::size(kTables))];
    const Rows rows = database_.run("select rowid, * from " + table_, {}).value();
    const Rows columns = database_.run("select name from pragma_table_info('" + table_ + "')", {})
                             .value();
    const Row& row = rows[random_.below(rows.size())];
    const std::size_t column = random_.below(columns.size());
    column_ = text(columns[column][0]);
    rowid_ = row[0];
    before_ = row[column + 1];
    const Cell after = other_cell(before_, random_);
    if (after == before_ || !put(after)) return false;
    const Rows now = database_.run("select " + column_ + " from " + table_ + " where rowid = ?",
                                   {rowid_}).value();
    return !now.empty() && now[0][0] != before_;
  }
  bool put_back() { return put(before_); }
  std::string what() const { return fmt::format("{}.{}", table_, column_); }

 private:
  bool put(const Cell& cell) {
    return database_.run("update " + table_ + " set " + column_ + " = ? where rowid = ?",
                         {cell, rowid_}).has_value();
  }

  Database& database_;
  Random& random_;
  std::string table_;
  std::string column_;
  Cell rowid_;
  Cell before_;
};

/// Cuts the journal after an entry, and the rows of the bike that the cut entries told of.
bool cut_tail(Database& database, std::int64_t from) {
  const Rows cut = database.run("select after from journal where seq >= ? order by seq",
                                {from}).value();
  const std::string& first = text(cut.front()[0]);
  const std::size_t at = first.find("[[");
  if (at == std::string::npos) return false;  // not of the bike's record
  const std::string number = first.substr(at + 2, first.find(',', at) - at - 2);
  const bool ok = database.run("delete from journal where seq >= ?", {from}).has_value() &&
                  database.run("delete from bike_line where number >= cast(? as integer)",
                               {number}).has_value() &&
                  database.run("delete from sent_once where number >= cast(? as integer)",
                               {number}).has_value();
  return ok;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("changes past the program that the check finds");
  std::string data;
  int wanted = 10'000;
  int tails = 60;
  std::uint64_t seed = 11;
  app.add_option("--data", data, "not needed here");
  app.add_option("--changes", wanted);
  app.add_option("--tails", tails);
  app.add_option("--seed", seed);
  CLI11_PARSE(app, argc, argv);

  const std::string path = std::filesystem::temp_directory_path() / "rollwright_tamper.book";
  const std::string kept = path + ".kept";
  const auto remove_all = [&path] {
    for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(path + end);
  };
  remove_all();
  const auto made = bench::make_years(path, {.bikes = 1});
  if (!made) {
    fmt::print(stderr, "tamper: {}\n", made.error().full());
    return 3;
  }
  Random random(seed);
  Tally tally;
  {
    auto database = open_sqlite(path).value();
    database->run_script("pragma foreign_keys = off; pragma synchronous = off").value();
    Book book = Book::open(path, false).value();
    Changer changer(*database, random);
    while (tally.changes < wanted) {
      if (!changer.change()) continue;
      ++tally.changes;
      const auto report = book.verify();
      if (!report || !report->whole) {
        ++tally.found;
      } else {
        fmt::print("not found: a change of {}\n", changer.what());
      }
      if (!changer.put_back()) {
        fmt::print(stderr, "tamper: a cell cannot be put back\n");
        return 3;
      }
    }
    if (!book.verify().value().whole) {
      fmt::print(stderr, "tamper: the book was not put back as it was\n");
      return 3;
    }
    database->run_script("pragma wal_checkpoint(truncate)").value();
  }
  std::filesystem::copy_file(path, kept, std::filesystem::copy_options::overwrite_existing);
  while (tally.tails < tails) {
    remove_all();
    std::filesystem::copy_file(kept, path);
    auto database = open_sqlite(path).value();
    const Rows last = database->run("select max(seq) from journal", {}).value();
    const std::string printed =
        text(database->run("select hash from journal order by seq desc limit 1", {}).value()[0][0]);
    const auto from = static_cast<std::int64_t>(
        2 + random.below(static_cast<std::uint64_t>(whole(last[0][0]) - 1)));
    if (!cut_tail(*database, from)) continue;
    database.reset();
    Book book = Book::open(path, false).value();
    ++tally.tails;
    const auto without = book.verify();
    if (without && without->whole) ++tally.tails_unseen_without;
    const auto with = book.verify(printed);
    if (!with || !with->whole) ++tally.tails_found;
  }
  remove_all();
  std::filesystem::remove(kept);
  const bool holds = tally.found == tally.changes && tally.tails_found == tally.tails;
  fmt::print("{} of {} changes found; {} of {} cut tails found by a printed hash ({} of them look "
             "whole without it)\n",
             tally.found, tally.changes, tally.tails_found, tally.tails,
             tally.tails_unseen_without);
  fmt::print(R"({{"name":"tamper","holds":{},"figures":{{"changes":{},"found":{},)"
             R"("tail_cut_found":{},"tails":{}}}}})"
             "\n",
             holds, tally.changes, tally.found, tally.tails_found == tally.tails, tally.tails);
  return holds ? 0 : 1;
}
