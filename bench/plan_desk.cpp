// Seconds of reading the agreed plan, of planning anew and of a move by hand with its odds, in the demo
// and in a book grown from it to some 200 open orders (each copied under other numbers, and the crew
// and stands several times as many). Beside the seconds that passed stand those of the processor, so
// that the machine's other work is seen. Every plan is checked by the checker that shares no code.

#include <algorithm>
#include <chrono>
#include <ctime>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "base/index.hpp"
#include "plan/check_shop_plan.hpp"
#include "shop/proposal.hpp"
#include "trade/load_trade.hpp"
#include "trade/shop_files.hpp"

namespace {

using namespace rollwright;

struct Spent {
  double passed = 0;
  double processor = 0;
};

template <class Run>
Spent timed(Run run) {
  const auto begin = std::chrono::steady_clock::now();
  const std::clock_t used = std::clock();
  run();
  return {std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count(),
          static_cast<double>(std::clock() - used) / CLOCKS_PER_SEC};
}

Spent middle(std::vector<Spent> all) {
  std::ranges::sort(all, {}, &Spent::passed);
  return all[all.size() / 2];
}

/// The live orders so many times, with as many more people and stands.
trade::ShopFiles grown(trade::ShopFiles files, int times, int crews) {
  const std::vector<trade::Order> orders = files.orders;
  const std::vector<trade::Person> people = files.people;
  for (int copy = 1; copy < times; ++copy) {
    for (trade::Order order : orders) {
      if (!trade::is_live(order.state)) continue;
      order.id = trade::OrderId(fmt::format("{}-{}", order.id.text, copy));
      if (order.promised) *order.promised += std::chrono::days(7 * copy);
      files.orders.push_back(std::move(order));
    }
  }
  for (int crew = 1; crew < crews; ++crew) {
    for (trade::Person person : people) {
      person.id = trade::PersonId(fmt::format("{}-{}", person.id.text, crew));
      files.people.push_back(std::move(person));
    }
  }
  for (trade::Area& area : files.areas) area.stands *= crews;
  return files;
}

class Desk {
 public:
  Desk(const trade::Trade& trade, trade::ShopFiles files)
      : trade_(trade), files_(std::move(files)), state_(shop::make_state(files_, 1)) {}

  shop::Proposal proposed(const shop::ProposalWish& wish, std::int64_t placements) {
    auto made = shop::propose(trade_, state_, now_, wish, {.placements = placements, .watch = {}});
    if (!made) {
      fmt::print(stderr, "plan-desk: {}\n", made.error().full());
      std::exit(3);
    }
    for (const std::string& sentence : plan::check_shop_plan(made->input, made->found.plan)) {
      fmt::print("{}\n", sentence);
      ++wrong;
    }
    return std::move(*made);
  }

  void agree(const shop::Proposal& proposal) {
    const trade::ShopFiles put = shop::to_agree(proposal, "owner", {});
    files_.agreed_plans = put.agreed_plans;
    files_.order_plans = put.order_plans;
    state_ = shop::make_state(files_, 2);
  }

  Spent read() {
    return timed([&] { static_cast<void>(shop::view_of_plan(trade_, *state_, now_)); });
  }

  /// A later start for the last operation of orders spread over the plan, where that can be.
  std::vector<shop::ProposalWish> moves(std::size_t count) const {
    std::vector<shop::ProposalWish> found;
    for (const auto& [id, plan] : state_->agreed->work) {
      const auto last = std::ranges::max_element(plan.work, {}, &trade::PlannedWork::start);
      for (int later = 1; later < 12; ++later) {
        shop::ProposalWish wish{.order = id.text, .operation = last->operation,
                                .person = last->person.text};
        wish.start = shop::local_text(last->start.day + std::chrono::days(later), 630);
        if (!shop::propose(trade_, state_, now_, wish, {.placements = 1, .watch = {}})) continue;
        found.push_back(wish);
        break;
      }
      if (found.size() == count) break;
    }
    return found;
  }

  int wrong = 0;
  [[nodiscard]] std::size_t orders() const { return state_->agreed->work.size(); }

 private:
  const trade::Trade& trade_;
  trade::ShopFiles files_;
  shop::LocalTime now_{.day = parse_day("2026-11-25").value(), .minute = 525};
  std::shared_ptr<const shop::State> state_;
};

struct Figures {
  std::size_t orders = 0;
  Spent read;
  Spent anew;
  Spent move;     // searching and saying it
  Spent said;     // of that: what changes and the odds
};

Figures figures_of(Desk& desk, int runs) {
  Figures figures;
  desk.agree(desk.proposed({}, shop::kReplanPlacements));
  figures.orders = desk.orders();
  std::vector<Spent> read;
  std::vector<Spent> anew;
  std::vector<Spent> moved;
  std::vector<Spent> said;
  for (int run = 0; run < runs; ++run) {
    read.push_back(desk.read());
    anew.push_back(timed([&] {
      static_cast<void>(shop::view_of(desk.proposed({}, shop::kReplanPlacements)));
    }));
  }
  for (const shop::ProposalWish& wish : desk.moves(at(runs))) {
    moved.push_back(timed([&] {
      const shop::Proposal proposal = desk.proposed(wish, shop::kMovePlacements);
      said.push_back(timed([&] { static_cast<void>(shop::view_of(proposal)); }));
    }));
  }
  figures.read = middle(read);
  figures.anew = middle(anew);
  if (!moved.empty()) figures.move = middle(moved);
  if (!said.empty()) figures.said = middle(said);
  return figures;
}

void print(const char* name, const Figures& f) {
  fmt::print("{}: {} orders; seconds passed (of the processor): read {:.3f} ({:.3f}), anew {:.3f} "
             "({:.3f}), a move {:.3f} ({:.3f}), of it saying what it does {:.3f} ({:.3f})\n",
             name, f.orders, f.read.passed, f.read.processor, f.anew.passed, f.anew.processor,
             f.move.passed, f.move.processor, f.said.passed, f.said.processor);
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("times the plan's desk in the demo and in a book of some 200 open orders");
  std::string data;
  int runs = 5;
  int times = 8;
  int crews = 4;
  app.add_option("--data", data, "not needed here");
  app.add_option("--runs", runs)->check(CLI::Range(1, 100));
  app.add_option("--times", times, "the demo's live orders so many times")->check(CLI::Range(1, 40));
  app.add_option("--crews", crews, "the demo's people and stands")->check(CLI::Range(1, 10));
  CLI11_PARSE(app, argc, argv);

  const trade::LoadedTrade loaded = trade::load_trade(ROLLWRIGHT_ROOT "/data/trade");
  const auto read = trade::read_shop_files(loaded.trade, ROLLWRIGHT_ROOT "/data/demo");
  Desk demo(loaded.trade, read.files);
  const Figures small = figures_of(demo, runs);
  print("demo", small);
  Desk large(loaded.trade, grown(read.files, times, crews));
  const Figures big = figures_of(large, runs);
  print("grown", big);
  const bool holds = demo.wrong == 0 && large.wrong == 0 && small.move.processor < 2.0;
  fmt::print(R"({{"name":"plan-desk","holds":{},"figures":{{"orders":{},"read":{:.3f},)"
             R"("anew":{:.3f},"move":{:.3f},"orders_grown":{},"read_grown":{:.3f},)"
             R"("anew_grown":{:.3f},"move_grown":{:.3f},"broken_rules":{}}}}})"
             "\n",
             holds, small.orders, small.read.processor, small.anew.processor, small.move.processor,
             big.orders, big.read.processor, big.anew.processor, big.move.processor,
             demo.wrong + large.wrong);
  return holds ? 0 : 1;
}
