// Kills the server at random moments while a client writes, and looks afterwards for every write
// that was acknowledged.
//
// The client puts one of two bells on one order, again and again, each time over the revision it
// was last told. A write is acknowledged when its answer came
// whole. After each kill the book is opened again: the stored revision must be the last one
// acknowledged, or one more (written, but killed before the answer), the bell must be the one that
// revision wrote, and the journal must verify.

#include <chrono>
#include <filesystem>
#include <thread>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/random.hpp"
#include "http_client.hpp"
#include "server_process.hpp"

namespace {

using rollwright::Random;
using namespace rollwright::bench;

constexpr const char* kOrder = "2041";  // an offer of the demo: its parts may still change
constexpr const char* kBells[] = {"AC-0001", "AC-0002"};

struct Tally {
  long long acknowledged = 0;
  long long lost = 0;
  int broken_journals = 0;
  int cycles = 0;
};

/// What the book says of the order now.
struct Stored {
  long long revision = -1;
  std::string bell;
};

Stored stored(int port) {
  const Answer answer = ask(port, "GET", fmt::format("/api/orders/{}", kOrder));
  Stored found{.revision = number_in(answer.body, "revision"), .bell = {}};
  const std::size_t slot = answer.body.find("\"slot\":\"bell\"");
  const std::size_t part = answer.body.find("\"id\":\"", slot);
  if (slot != std::string::npos && part != std::string::npos) {
    found.bell = answer.body.substr(part + 6, 7);
  }
  return found;
}

/// Writes until the server is gone; gives the last acknowledged revision.
long long write_until_gone(int port, long long revision, Tally& tally) {
  while (true) {
    const Answer answer =
        ask(port, "PUT", fmt::format("/api/orders/{}/choices/bell", kOrder),
            fmt::format(R"({{"part":"{}","revision":{}}})", kBells[revision % 2], revision));
    if (answer.status != 200) return revision;
    revision = number_in(answer.body, "revision");
    ++tally.acknowledged;
  }
}

void one_cycle(const std::string& program, const std::string& book, Random& random, Tally& tally) {
  long long acknowledged = 0;
  {
    ServerProcess server(program, book);
    const Stored before = stored(server.port());
    const auto after = std::chrono::milliseconds(20 + random.below(600));
    std::thread killer([&server, after] {
      std::this_thread::sleep_for(after);
      server.kill_now();
    });
    acknowledged = write_until_gone(server.port(), before.revision, tally);
    killer.join();
  }
  ServerProcess again(program, book);
  const Stored now = stored(again.port());
  const bool kept = now.revision == acknowledged || now.revision == acknowledged + 1;
  // Revision r was written by the request that saw r - 1.
  const bool right = now.revision < 1 || now.bell == kBells[(now.revision - 1) % 2];
  if (!kept || !right) {
    ++tally.lost;
    fmt::print("   lost: acknowledged {}, stored {} with {}\n", acknowledged, now.revision,
               now.bell);
  }
  again.kill_now();
  if (run_quietly(fmt::format("'{}' --book '{}' verify", program, book)) != 0) {
    ++tally.broken_journals;
  }
  ++tally.cycles;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("kills the server while a client writes");
  std::string data;
  int cycles = 50;
  std::uint64_t seed = 1;
  app.add_option("--data", data, "not needed here");
  app.add_option("--cycles", cycles);
  app.add_option("--seed", seed);
  CLI11_PARSE(app, argc, argv);

  const std::string program = ROLLWRIGHT_PROGRAM;
  const std::filesystem::path folder =
      std::filesystem::temp_directory_path() / fmt::format("rollwright-kill-{}", ::getpid());
  std::filesystem::create_directories(folder);
  const std::string book = folder / "shop.book";
  if (run_quietly(fmt::format("'{0}' --book '{1}' make-book && '{0}' --book '{1}' import '{2}'",
                              program, book, ROLLWRIGHT_DEMO)) != 0) {
    fmt::print(stderr, "kill: the demo book cannot be made\n");
    return 3;
  }
  Random random(seed);
  Tally tally;
  for (int i = 0; i < cycles; ++i) one_cycle(program, book, random, tally);
  std::filesystem::remove_all(folder);
  const bool holds = tally.lost == 0 && tally.broken_journals == 0 && tally.acknowledged > cycles;
  fmt::print("{} kills, {} writes acknowledged, {} lost, {} journals broken (seed {})\n",
             tally.cycles, tally.acknowledged, tally.lost, tally.broken_journals, seed);
  fmt::print(R"({{"name":"kill","holds":{},"figures":{{"cycles":{},"acknowledged":{},"lost":{},)"
             R"("broken_journals":{}}}}})"
             "\n",
             holds, tally.cycles, tally.acknowledged, tally.lost, tally.broken_journals);
  return holds ? 0 : 1;
}
