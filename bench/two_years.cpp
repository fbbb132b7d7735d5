// The same two years of an invented shop, run in three ways: parts bought on the last day on which
// they still come in time and work in the promise's own order; parts bought at once and the bike
// promised first done first; parts bought at once and first come, first served. Customers, the days
// told to them, deliveries of the same day, minutes and illness are the same in all three
// (simulated_luck.hpp). Holds when our way has no more late bikes than first come, first served,
// less money on the shelf than due dates, and moves people no more.

#include <map>
#include <string>
#include <vector>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "simulated_shop.hpp"

namespace {

using namespace rollwright;

struct Figures {
  int bikes = 0;
  int late = 0;
  double days_late = 0;      // of those that are
  double kit_wait = 0;       // days, summed
  double days_to_ready = 0;  // from agreeing, summed
  double shelf_euros = 0;    // summed over shops
  double moved = 0;          // a week, summed over shops
  int shops = 0;

  void add(const bench::Course& course) {
    ++shops;
    shelf_euros += course.shelf_euros;
    moved += course.moved_per_week;
    for (const bench::Outcome& order : course.orders) {
      if (!order.counted) continue;
      ++bikes;
      if (!order.kept()) ++late;
      if (!order.ready) continue;
      if (!order.kept()) days_late += static_cast<double>((*order.ready - order.told).count());
      kit_wait += order.kit_wait_days;
      days_to_ready += static_cast<double>((*order.ready - order.agreed).count());
    }
  }
  double late_share() const { return static_cast<double>(late) / bikes; }
  std::string json() const {
    return fmt::format(R"({{"late_share":{:.3f},"kit_wait_days":{:.1f},"shelf_eur":{:.0f},)"
                       R"("moved_per_week":{:.1f}}})",
                       late_share(), kit_wait / bikes, shelf_euros / shops, moved / shops);
  }
};

void print_row(std::string_view name, const Figures& figures) {
  fmt::print("{:<11} {:>5} bikes, {:4.1f} % late by {:4.1f} days in the mean; ready after {:4.1f} "
             "days; kits wait {:4.1f} days; EUR {:6.0f} on the shelf; {:5.1f} moved a week\n",
             name, figures.bikes, 100 * figures.late_share(),
             figures.late > 0 ? figures.days_late / figures.late : 0,
             figures.days_to_ready / figures.bikes, figures.kit_wait / figures.bikes,
             figures.shelf_euros / figures.shops, figures.moved / figures.shops);
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("two years of a simulated shop, run in three ways");
  std::string data;
  std::string root = ROLLWRIGHT_ROOT;
  bench::Running ours{.turns = {.by_due = true, .longest_chain = true, .spare_seniors = true},
                      .buy_at_once = false, .look_ahead = true, .plan = true};
  std::vector<std::uint64_t> seeds = {21, 22};
  app.add_option("--data", data, "not needed here");
  app.add_option("--root", root, "folder that holds data/trade and data/demo");
  app.add_option("--seeds", seeds, "each a shop of its own luck")->delimiter(',');
  app.add_option("--draws", ours.draws, "of each promise");
  app.add_option("--days", ours.days_counted, "in which orders are counted");
  app.add_option("--orders", ours.orders_a_week, "agreed in a week");
  app.add_flag("!--no-plan", ours.plan, "ours goes by turns as the promise does, without a plan");
  app.add_option("--kit", ours.kit_confidence, "with which a kit is bought, 0 to 1");
  CLI11_PARSE(app, argc, argv);

  const auto catalogue = bench::read_catalogue(root);
  if (!catalogue) {
    fmt::print(stderr, "two-years: {}\n", catalogue.error().full());
    return 3;
  }
  Figures by_us;
  Figures due_date;
  Figures first_come;
  for (const std::uint64_t seed : seeds) {
    const bench::Course course = bench::run_shop(*catalogue, seed, ours);
    by_us.add(course);
    bench::Running other = ours;
    for (const bench::Outcome& order : course.orders) other.told[order.id] = order.told;
    other.buy_at_once = true;
    other.plan = false;
    other.turns = {.by_due = true};
    due_date.add(bench::run_shop(*catalogue, seed, other));
    other.turns = {.by_due = false};
    first_come.add(bench::run_shop(*catalogue, seed, other));
  }
  if (by_us.bikes == 0) {
    fmt::print(stderr, "two-years: no order was agreed in that time\n");
    return 3;
  }
  print_row("ours", by_us);
  print_row("due date", due_date);
  print_row("first come", first_come);
  const bool holds = by_us.late_share() <= first_come.late_share() &&
                     by_us.shelf_euros < due_date.shelf_euros && by_us.moved <= first_come.moved;
  fmt::print(R"({{"name":"two-years","holds":{},"figures":{{"ours":{},"due_date":{},)"
             R"("first_come":{},"shops":{},"bikes":{}}}}})"
             "\n",
             holds, by_us.json(), due_date.json(), first_come.json(), seeds.size(), by_us.bikes);
  return holds ? 0 : 1;
}
