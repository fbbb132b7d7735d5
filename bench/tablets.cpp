// Twenty tablets write readings into the records of the demo's bikes at once, for a minute, each four
// times a second (`--every 0`: as fast as their answers come). Some answers are lost on the way and
// the tablet sends the same once more. With `--look` each asks how its bike is after each write, as a
// page does. Afterwards the book is opened: each reading that was acknowledged must be there once.
// Holds when none is lost or doubled and 99 of 100 answers to writes come within 100 ms.

#include <algorithm>
#include <atomic>
#include <chrono>
#include <filesystem>
#include <map>
#include <thread>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/random.hpp"
#include "book/book.hpp"
#include "http_client.hpp"
#include "server_process.hpp"

namespace {

using namespace rollwright;
using bench::ask;
using Steady = std::chrono::steady_clock;

/// A bike with an operation that is running and a reading of it.
struct Stand {
  std::string order;
  std::string operation;
  std::string reading;
  std::string value;    // empty for a plain pass or fail
  std::string tool;
};

std::string deed_body(const std::string& key, const nlohmann::json& deed) {
  return nlohmann::json{{"who", "mara"}, {"key", key}, {"deeds", {deed}}}.dump();
}

/// Starts an operation of the bike that has a reading Mara may take.
bool find_stand(int port, const std::string& order, std::vector<Stand>& stands) {
  const auto bike = nlohmann::json::parse(ask(port, "GET", "/api/bench/" + order).body);
  for (const auto& operation : bike["operations"]) {
    if (operation["standing"] != "open" || operation["readings"].empty()) continue;
    const std::string id = operation["operation"];
    const auto started = ask(port, "POST", "/api/bench/" + order + "/record",
                             deed_body("start " + order + id, {{"deed", "started"}, {"about", id}}));
    if (started.status != 200) continue;
    const auto& value = operation["readings"][0]["value"];
    Stand stand{.order = order, .operation = id, .reading = value["reading"], .value = {}, .tool = {}};
    if (!value["pass_or_fail"]) {
      const auto& limit = value["strictest"];
      const auto number = !value["target"].is_null()    ? value["target"]
                          : !limit["least"].is_null() ? limit["least"]
                                                      : limit["most"];
      stand.value = number.dump();
      if (value["dimension"] == "torque") stand.tool = "T3";
    }
    stands.push_back(stand);
    return true;
  }
  return false;
}

struct Tablet {
  std::vector<std::string> acknowledged;  // keys
  std::vector<double> ms;       // of answers to writes
  std::vector<double> look_ms;  // of how the bike is
  int refused = 0;
};

/// How long a tablet writes, how long after a write began the next one does, and whether it looks at
/// the bike in between.
struct Pace {
  Steady::time_point until;
  std::chrono::milliseconds every;
  bool looks = false;
};

double ms_since(Steady::time_point start) {
  return std::chrono::duration<double, std::milli>(Steady::now() - start).count();
}

double at_share(std::vector<double> ms, double share) {
  if (ms.empty()) return 0;
  std::ranges::sort(ms);
  return ms[static_cast<std::size_t>(share * static_cast<double>(ms.size() - 1))];
}

Tablet write_for(int port, const Stand& stand, int number, const Pace& pace) {
  Tablet tablet;
  Random random(static_cast<std::uint64_t>(number) + 1);
  std::this_thread::sleep_for(pace.every * random.uniform());
  for (int count = 0; Steady::now() < pace.until; ++count) {
    const Steady::time_point next = Steady::now() + pace.every;
    const std::string key = fmt::format("{}-{}", number, count);
    nlohmann::json deed = {{"deed", "read"}, {"about", stand.operation},
                           {"reading", stand.reading}, {"point", 1}, {"note", key}};
    if (stand.value.empty()) deed["outcome"] = "pass";
    if (!stand.value.empty()) deed["value"] = stand.value;
    if (!stand.tool.empty()) deed["tool"] = stand.tool;
    const int sends = random.below(20) == 0 ? 2 : 1;  // the first answer was lost
    for (int sent = 0; sent < sends; ++sent) {
      const Steady::time_point start = Steady::now();
      const bench::Answer answer = ask(port, "POST", "/api/bench/" + stand.order + "/record",
                                       deed_body(key, deed));
      tablet.ms.push_back(ms_since(start));
      if (answer.status != 200) {
        if (tablet.refused++ == 0) fmt::print(stderr, "tablets: {}\n", answer.body.substr(0, 300));
      } else if (sent == 0) {
        tablet.acknowledged.push_back(key);
      }
    }
    if (pace.looks) {
      const Steady::time_point start = Steady::now();
      if (ask(port, "GET", "/api/bench/" + stand.order).status != 200) ++tablet.refused;
      tablet.look_ms.push_back(ms_since(start));
    }
    std::this_thread::sleep_until(next);
  }
  return tablet;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("twenty tablets that write at once");
  std::string data;
  int count = 20;
  double seconds = 60;
  int every_ms = 250;
  bool looks = false;
  app.add_option("--data", data, "not needed here");
  app.add_option("--tablets", count);
  app.add_option("--seconds", seconds);
  app.add_option("--every", every_ms, "milliseconds from one write of a tablet to its next");
  app.add_flag("--look", looks, "each tablet asks how its bike is after each write");
  CLI11_PARSE(app, argc, argv);

  const auto folder = std::filesystem::temp_directory_path() / "rollwright_tablets";
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  const std::string path = folder / "book.sqlite";
  if (bench::run_quietly(fmt::format("'{}' --book '{}' make-book", ROLLWRIGHT_PROGRAM, path)) != 0 ||
      bench::run_quietly(fmt::format("'{}' --book '{}' import '{}'", ROLLWRIGHT_PROGRAM, path,
                                     ROLLWRIGHT_DEMO)) != 0) {
    fmt::print(stderr, "tablets: the demo cannot be imported\n");
    return 3;
  }
  std::vector<Tablet> tablets(static_cast<std::size_t>(count));
  std::vector<Stand> stands;
  {
    bench::ServerProcess server(ROLLWRIGHT_PROGRAM, path);
    const auto list = nlohmann::json::parse(ask(server.port(), "GET", "/api/bench").body);
    for (const auto& bike : list["bikes"]) {
      static_cast<void>(find_stand(server.port(), bike["order"], stands));
    }
    if (stands.empty()) {
      fmt::print(stderr, "tablets: no bike of the demo has a reading to take\n");
      return 3;
    }
    const auto until = Steady::now() + std::chrono::milliseconds(static_cast<int>(seconds * 1000));
    std::vector<std::thread> threads;
    for (int number = 0; number < count; ++number) {
      threads.emplace_back([&, number] {
        tablets[static_cast<std::size_t>(number)] = write_for(
            server.port(), stands[static_cast<std::size_t>(number) % stands.size()], number,
            {until, std::chrono::milliseconds(every_ms), looks});
      });
    }
    for (std::thread& thread : threads) thread.join();
  }
  book::Book book = book::Book::open(path, false).value();
  std::map<std::string, int> held;
  for (const Stand& stand : stands) {
    const auto lines = book.bike_lines(trade::OrderId(stand.order)).value();
    for (const trade::BikeLine& line : lines) {
      if (line.deed == trade::Deed::kRead) ++held[line.note];
    }
  }
  long long lost = 0;
  long long doubled = 0;
  long long refused = 0;
  std::vector<double> ms;
  std::vector<double> look_ms;
  for (const Tablet& tablet : tablets) {
    for (const std::string& key : tablet.acknowledged) lost += held.contains(key) ? 0 : 1;
    refused += tablet.refused;
    ms.insert(ms.end(), tablet.ms.begin(), tablet.ms.end());
    look_ms.insert(look_ms.end(), tablet.look_ms.begin(), tablet.look_ms.end());
  }
  for (const auto& [key, times] : held) doubled += times - 1;
  const double p99 = at_share(ms, 0.99);
  const auto report = book.verify();
  const bool whole = report && report->whole;
  fmt::print("{} tablets at {} bikes, {} readings held, {} writes a second; answers in {:.1f} ms "
             "(median), {:.1f} (99 of 100), {:.1f} (slowest); {} refused; the journal is {}\n",
             count, stands.size(), held.size(),
             static_cast<int>(static_cast<double>(ms.size()) / seconds), at_share(ms, 0.5), p99,
             at_share(ms, 1), refused, whole ? "whole" : "broken");
  if (looks) {
    fmt::print("how a bike is: {:.1f} ms (median), {:.1f} (99 of 100), {:.1f} (slowest)\n",
               at_share(look_ms, 0.5), at_share(look_ms, 0.99), at_share(look_ms, 1));
  }
  const bool holds = lost == 0 && doubled == 0 && refused == 0 && whole && p99 <= 100;
  fmt::print(R"({{"name":"tablets","holds":{},"figures":{{"tablets":{},"writes":{},"lost":{},)"
             R"("doubled":{},"p99_ms":{:.1f}}}}})"
             "\n",
             holds, count, ms.size(), lost, doubled, p99);
  std::filesystem::remove_all(folder);
  return holds ? 0 : 1;
}
