// Walking a long journal: how many entries a second are proved to follow from one another, and how
// long the whole check takes with every row of the tables held against the journal. Holds from
// 100,000 entries a second.

#include <chrono>
#include <filesystem>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "book/book.hpp"
#include "invented_years.hpp"

int main(int argc, char** argv) {
  using namespace rollwright;
  using Clock = std::chrono::steady_clock;
  CLI::App app("entries of a long journal proved in a second");
  std::string data;
  bench::YearsWish wish{.bikes = 5'000};
  app.add_option("--data", data, "not needed here");
  app.add_option("--bikes", wish.bikes);
  CLI11_PARSE(app, argc, argv);

  const auto path = std::filesystem::temp_directory_path() / "rollwright_journal.book";
  const auto remove_all = [&path] {
    for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(path.string() + end);
  };
  remove_all();
  const auto made = bench::make_years(path, wish);
  if (!made) {
    fmt::print(stderr, "journal: {}\n", made.error().full());
    return 3;
  }
  const auto seconds_of = [](const auto& run) {
    const Clock::time_point start = Clock::now();
    const auto report = run();
    return std::pair(report, std::chrono::duration<double>(Clock::now() - start).count());
  };
  auto database = book::open_sqlite(path).value();
  const auto [chain, chain_s] = seconds_of([&] { return book::verify_chain(*database); });
  database.reset();
  book::Book book = book::Book::open(path, false).value();
  const auto [whole, whole_s] = seconds_of([&] { return book.verify(); });
  remove_all();
  if (!chain || !whole || !chain->whole || !whole->whole) {
    fmt::print(stderr, "journal: {}\n", !whole ? whole.error().full() : whole->sentence);
    return 3;
  }
  const double rate = static_cast<double>(chain->entries) / chain_s;
  fmt::print("{} entries proved in {:.2f} s; with {} rows of records and all tables {:.2f} s\n",
             chain->entries, chain_s, made->fitted + made->readings + 40 * made->bikes, whole_s);
  fmt::print(R"({{"name":"journal","holds":{},"figures":{{"entries":{},"entries_per_second":{:.0f},)"
             R"("whole_check_s":{:.2f}}}}})"
             "\n",
             rate >= 100'000, chain->entries, rate, whole_s);
  return rate >= 100'000 ? 0 : 1;
}
