// Ten invented years of a shop in one book: how long it takes the real server to say which bikes are
// on a lot, and to open a bike's whole history; and what memory it takes. Holds when the slowest of
// the lots asked comes within 20 ms and the slowest history within 50 ms, after the first of each.

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/random.hpp"
#include "http_client.hpp"
#include "invented_years.hpp"
#include "server_process.hpp"

namespace {

using namespace rollwright::bench;
using Clock = std::chrono::steady_clock;

double ms_since(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

struct Asked {
  std::vector<double> ms;
  bool all_found = true;

  void ask(int port, const std::string& target, std::string_view must_hold) {
    const Clock::time_point start = Clock::now();
    const Answer answer = rollwright::bench::ask(port, "GET", target);
    ms.push_back(ms_since(start));
    if (answer.status != 200 || answer.body.find(must_hold) == std::string::npos) {
      all_found = false;
      fmt::print(stderr, "trace: {} gave {} {}\n", target, answer.status, answer.body.substr(0, 200));
    }
  }
  double at(double share) {
    std::ranges::sort(ms);
    return ms[static_cast<std::size_t>(share * static_cast<double>(ms.size() - 1))];
  }
};

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("a lot and a history among ten invented years of bikes");
  std::string data;
  YearsWish wish;
  int asks = 100;
  app.add_option("--data", data, "not needed here");
  app.add_option("--bikes", wish.bikes);
  app.add_option("--asks", asks, "lots and histories asked for");
  CLI11_PARSE(app, argc, argv);

  const auto folder = std::filesystem::temp_directory_path() / "rollwright_trace";
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  const std::string book = folder / "book.sqlite";
  const int made_book =
      run_quietly(fmt::format("'{}' --book '{}' make-book", ROLLWRIGHT_PROGRAM, book)) +
      run_quietly(fmt::format("'{}' --book '{}' import '{}'", ROLLWRIGHT_PROGRAM, book,
                              ROLLWRIGHT_DEMO));
  const Clock::time_point start = Clock::now();
  const auto made = make_years(book, wish);
  if (made_book != 0 || !made) {
    fmt::print(stderr, "trace: {}\n", made ? "the demo cannot be imported" : made.error().full());
    return 3;
  }
  fmt::print("made {} bikes, {} parts, {} readings in {:.0f} s; the book takes {} MiB\n",
             made->bikes, made->fitted, made->readings, ms_since(start) / 1000,
             std::filesystem::file_size(book) >> 20);

  ServerProcess server(ROLLWRIGHT_PROGRAM, book);
  const Clock::time_point first = Clock::now();
  const Answer warm = ask(server.port(), "GET", "/api/orders");
  fmt::print("first answer after {:.0f} ms\n", ms_since(first));
  if (warm.status != 200) fmt::print(stderr, "trace: {}\n", warm.body.substr(0, 300));
  rollwright::Random random(wish.seed);
  Asked lots;
  Asked histories;
  const auto lots_made = static_cast<std::uint64_t>(made->fitted / 1000);
  lots.ask(server.port(), "/api/trace?lot_from=" + lot_called(0), "\"certain\"");
  histories.ask(server.port(), fmt::format("/api/bikes/{}/history", wish.first_order),
                "\"deed\":\"read\"");
  // What a program does for the first time takes longer; it is said apart.
  fmt::print("first lot {:.1f} ms, first history {:.1f} ms\n", lots.at(1), histories.at(1));
  lots.ms.clear();
  histories.ms.clear();
  for (int each = 0; each < asks; ++each) {
    const std::string lot = lot_called(static_cast<int>(random.below(std::max<std::uint64_t>(
        lots_made, 1))));
    lots.ask(server.port(), "/api/trace?lot_from=" + lot, "\"certain\"");
    const auto bike = static_cast<int>(random.below(static_cast<std::uint64_t>(wish.bikes)));
    histories.ask(server.port(), fmt::format("/api/bikes/{}/history", wish.first_order + bike),
                  "\"deed\":\"read\"");
  }
  // The two pages that a shop has open all day look over the visits of all bikes.
  Asked today;
  Asked bench;
  today.ask(server.port(), "/api/today", "\"to come back\"");
  bench.ask(server.port(), "/api/bench", "\"bikes\"");
  fmt::print("first today {:.0f} ms, first list of the bench {:.0f} ms\n", today.at(1), bench.at(1));
  today.ms.clear();
  bench.ms.clear();
  for (int each = 0; each < std::min(asks, 20); ++each) {
    today.ask(server.port(), "/api/today", "\"to come back\"");
    bench.ask(server.port(), "/api/bench", "\"bikes\"");
  }
  const double memory = server.memory_mib();
  const double lot_ms = lots.at(1);
  const double history_ms = histories.at(1);
  fmt::print("a lot (about {} bikes): median {:.1f} ms, slowest {:.1f} ms; a history: median {:.1f} "
             "ms, slowest {:.1f} ms; server {:.0f} MiB\n",
             1000 / wish.parts_each, lots.at(0.5), lot_ms, histories.at(0.5), history_ms, memory);
  fmt::print("today: median {:.1f} ms, slowest {:.1f} ms; the list of the bench: median {:.1f} ms, "
             "slowest {:.1f} ms\n",
             today.at(0.5), today.at(1), bench.at(0.5), bench.at(1));
  if (!lots.all_found || !histories.all_found || !today.all_found || !bench.all_found) return 3;
  const bool holds = lot_ms <= 20 && history_ms <= 50;
  fmt::print(R"({{"name":"trace","holds":{},"figures":{{"bikes":{},"parts":{},"readings":{},)"
             R"("lot_ms":{:.1f},"history_ms":{:.1f},"today_ms":{:.1f},"bench_ms":{:.1f},)"
             R"("server_mib":{:.0f}}}}})"
             "\n",
             holds, made->bikes, made->fitted, made->readings, lot_ms, history_ms, today.at(1),
             bench.at(1), memory);
  std::filesystem::remove_all(folder);
  return holds ? 0 : 1;
}
