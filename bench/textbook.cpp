// Worked examples of textbooks beside our own calculations: lots, levels of stock, queues, kits,
// net plans. Each number of the file is a row; a row is outside when it differs by more than half a
// unit of the last digit that the file gives, but at least by 2e-6 of the number.

#include <algorithm>
#include <cmath>
#include <string>

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "plan/lot_size.hpp"
#include "plan/queue_wait.hpp"
#include "plan/stock_level.hpp"

namespace {

using namespace rollwright;
using nlohmann::json;

struct Rows {
  int rows = 0;
  int outside = 0;

  void add(const std::string& what, double told, double ours) {
    ++rows;
    const std::string digits = fmt::format("{}", told);
    const std::size_t point = digits.find('.');
    const double decimals =
        point == std::string::npos ? 0 : static_cast<double>(digits.size() - point - 1);
    // Whole numbers are whole counts or money, so they are held to two decimals.
    const double unit = decimals == 0 ? 0.01 : std::pow(10, -decimals);
    if (std::abs(told - ours) <= std::max(0.51 * unit, 2e-6 * std::abs(told))) return;
    ++outside;
    fmt::print("{}: {} told, {:.6f} ours.\n", what, told, ours);
  }
  void add_all(const std::string& what, const json& told, const std::vector<int>& ours) {
    add(what + ", periods", static_cast<double>(told.size()), static_cast<double>(ours.size()));
    for (std::size_t t = 0; t < std::min(told.size(), ours.size()); ++t) {
      add(fmt::format("{} {}", what, t + 1), told[t].get<double>(), ours[t]);
    }
  }
  void add_lots(const std::string& what, const json& told, const plan::LotPlan& ours) {
    add(what + ", number of lots", static_cast<double>(told.size()),
        static_cast<double>(ours.lots.size()));
    for (std::size_t i = 0; i < std::min(told.size(), ours.lots.size()); ++i) {
      add(what + ", period", told[i][0].get<double>(), ours.lots[i].period + 1);
      add(what + ", pieces", told[i][1].get<double>(), ours.lots[i].pieces);
    }
  }
};

plan::LotSeries series_of(const json& demand, const json& setup, double keep) {
  plan::LotSeries series{.demand = demand.get<std::vector<double>>(), .keep_cost = keep};
  series.order_cost = setup.is_array()
                          ? setup.get<std::vector<double>>()
                          : std::vector<double>(series.demand.size(), setup.get<double>());
  return series;
}

void judge_first_lots(const json& told, Rows& rows) {
  const double keep = told.at("holding_per_unit_period").get<double>();
  const plan::LotSeries series = series_of(told.at("demand"), told.at("setup"), keep);
  const plan::LotPlan best = plan::cheapest_lots(series).value();
  rows.add("lots of 1958, cost", told.at("optimal_cost").get<double>(), best.cost);
  rows.add_lots("lots of 1958", told.at("optimal_orders"), best);
  for (std::size_t end = 1; end <= series.demand.size(); ++end) {
    plan::LotSeries part = series;
    part.demand.resize(end);
    part.order_cost.resize(end);
    rows.add("lots of 1958, cost of the first months",
             told.at("prefix_optimal_costs")[end - 1].get<double>(),
             plan::cheapest_lots(part).value().cost);
  }
}

void judge_lots(const std::string& name, const json& told, const char* demand, Rows& rows) {
  const plan::LotSeries series =
      series_of(told.at(demand), told.at("setup"), told.at("holding").get<double>());
  const plan::LotPlan best = plan::cheapest_lots(series).value();
  rows.add(name + ", cheapest", told.at("wagner_whitin_cost").get<double>(), best.cost);
  rows.add_lots(name + ", cheapest", told.at("wagner_whitin_orders"), best);
  const auto by = [&](plan::LotRule rule) { return plan::lots_by_rule(series, rule).value(); };
  rows.add(name + ", lot for lot", told.at("lot_for_lot_cost").get<double>(),
           by(plan::LotRule::kEachPeriod).cost);
  const std::pair<const char*, plan::LotRule> rules[] = {
      {"silver_meal", plan::LotRule::kCostPerPeriod},
      {"least_unit_cost", plan::LotRule::kCostPerPiece},
      {"part_period_balancing", plan::LotRule::kBalance}};
  for (const auto& [key, rule] : rules) {
    const plan::LotPlan ours = by(rule);
    rows.add(name + ", " + key, told.at(key).at("cost").get<double>(), ours.cost);
    rows.add_lots(name + ", " + key, told.at(key).at("orders"), ours);
  }
  double mean = 0;
  for (const double each : series.demand) mean += each / static_cast<double>(series.demand.size());
  rows.add(name + ", usual quantity", told.at("eoq").get<double>(),
           plan::usual_quantity({mean, series.order_cost[0], series.keep_cost, 0}).value());
}

void judge_levels(const json& told, Rows& rows) {
  const json& once = told.at("newsvendor_mac");
  const double cu = once.at("cu").get<double>();
  const double co = once.at("co").get<double>();
  const plan::NormalDemand season{once.at("mean").get<double>(), once.at("sd").get<double>()};
  rows.add("buying once, ratio", once.at("critical_ratio").get<double>(), cu / (cu + co));
  rows.add("buying once, z", once.at("z").get<double>(), plan::normal_level(cu / (cu + co)));
  rows.add("buying once", once.at("q_star").get<double>(), plan::buy_once(season, cu, co).value());
  const json& again = told.at("qr_harvey");
  const plan::NormalDemand demand{again.at("lead_time_demand_mean").get<double>(),
                                  again.at("lead_time_demand_sd").get<double>()};
  const plan::StockCosts costs{again.at("annual_demand").get<double>(),
                               again.at("setup").get<double>(),
                               again.at("holding").get<double>(),
                               again.at("penalty_per_unit_short").get<double>()};
  const auto steps = plan::order_levels(demand, costs).value();
  const json& told_steps = again.at("iterations_Q_R");
  for (std::size_t i = 0; i < told_steps.size(); ++i) {
    rows.add("order level, quantity of a step", told_steps[i][0].get<double>(), steps[i].quantity);
    rows.add("order level, level of a step", told_steps[i][1].get<double>(), steps[i].level);
  }
  const json& end = again.at("converged");
  const double z = (steps.back().level - demand.mean) / demand.sd;
  rows.add("order level, quantity", end.at("Q").get<double>(), steps.back().quantity);
  rows.add("order level", end.at("R").get<double>(), steps.back().level);
  rows.add("order level, z", end.at("z").get<double>(), z);
  rows.add("order level, missing", end.at("n_R").get<double>(), demand.sd * plan::normal_loss(z));
  rows.add("order level, safety", end.at("safety_stock").get<double>(),
           steps.back().level - demand.mean);
  rows.add("order level, cost", end.at("annual_cost").get<double>(),
           plan::year_cost(demand, costs, steps.back()));
  for (const int share : {95, 98, 99}) {
    const json& fill = again.at(fmt::format("fill_rate_{}_with_Q100", share));
    rows.add("level for a share", fill.at("R").get<double>(),
             plan::level_for_share(demand, 100, share / 100.0).value());
    rows.add("level for a share, z", fill.at("z").get<double>(),
             plan::normal_level_of_loss(fill.at("L_z").get<double>()));
  }
  for (const auto& [key, loss] : told.at("unit_normal_loss_L").items()) {
    if (key == "src") continue;
    rows.add("loss at " + key, loss.get<double>(), plan::normal_loss(std::stod(key)));
  }
  const json& way = told.at("lead_time_demand_random_lt");
  const plan::NormalDemand under_way =
      plan::demand_under_way({way.at("d").get<double>(), way.at("sd_d").get<double>()},
                             way.at("L").get<double>(), way.at("sd_L").get<double>());
  rows.add("demand under way", way.at("sigma_LTD").get<double>(), under_way.sd);
  rows.add("safety for it", way.at("safety_stock_95").get<double>(),
           under_way.sd * plan::normal_level(0.95));
}

void judge_queues(const json& told, Rows& rows) {
  for (const json& row : told.at("mmc").at("rows")) {
    const auto queue = plan::queue_length(row[0].get<int>(), row[1].get<double>()).value();
    const std::string what = fmt::format("queue of {} stands, {} offered", row[0].get<int>(),
                                         row[1].get<double>());
    const double ours[] = {queue.all_free, queue.lost, queue.must_wait, queue.waiting,
                           queue.present};
    for (std::size_t i = 0; i < 5; ++i) rows.add(what, row[i + 2].get<double>(), ours[i]);
  }
  for (const json& row : told.at("kingman_vut").at("rows_m_u_ca2_ce2_CTq_over_te")) {
    rows.add("wait", row[4].get<double>(),
             plan::queue_wait({row[0].get<int>(), row[1].get<double>(), row[2].get<double>(),
                               row[3].get<double>()})
                 .value());
  }
}

void judge_chances(const json& told, Rows& rows) {
  for (const auto& [parts, chance] : told.at("kit_availability").at("p_each_0.95").items()) {
    rows.add("kit of " + parts, chance.get<double>(), std::pow(0.95, std::stoi(parts)));
  }
  for (const auto& [parts, chance] :
       told.at("kit_availability").at("p_each_needed_for_kit_0.95").items()) {
    rows.add("part of a kit of " + parts, chance.get<double>(),
             std::pow(0.95, 1.0 / std::stoi(parts)));
  }
  for (const auto& [n, mean] : told.at("expected_max_std_normal").items()) {
    if (n == "src") continue;
    rows.add("largest of " + n, mean.get<double>(), plan::largest_normal(std::stoi(n)));
  }
  for (const auto& [n, mean] : told.at("expected_max_exp1").items()) {
    if (n == "src") continue;
    rows.add("longest of " + n, mean.get<double>(), plan::largest_exponential(std::stoi(n)));
  }
  const json& pert = told.at("pert");
  const auto points = pert.at("a_m_b").get<std::vector<double>>();
  const plan::ThreePoint ours = plan::three_point(points.at(0), points.at(1), points.at(2));
  rows.add("three points, mean", pert.at("mean").get<double>(), ours.mean);
  rows.add("three points, variance", pert.at("variance").get<double>(), ours.variance);
}

void judge_net_plan(const json& told, Rows& rows) {
  plan::NeedSeries series{.needed = told.at("gross").get<std::vector<int>>(),
                          .coming = told.at("scheduled_receipts").get<std::vector<int>>(),
                          .on_hand = told.at("on_hand").get<int>(),
                          .lead_periods = told.at("lead_time").get<int>()};
  for (const auto& [key, pack] : {std::pair{"lot_for_lot", 0}, std::pair{"foq50", 50}}) {
    series.pack = pack;
    const plan::NetPlan ours = plan::net_plan(series).value();
    const json& one = told.at(key);
    rows.add_all("net plan, on hand", one.at("projected_on_hand"), ours.on_hand);
    rows.add_all("net plan, received", one.at("planned_receipts"), ours.received);
    rows.add_all("net plan, placed", one.at("planned_releases"), ours.placed);
    if (one.contains("net")) rows.add_all("net plan, missing", one.at("net"), ours.missing);
  }
}

Rows judge(const json& told) {
  Rows rows;
  judge_first_lots(told.at("wagner_whitin_1958"), rows);
  judge_lots("ten weeks", told.at("hopp_spearman_roadhog"), "demand", rows);
  judge_lots("valves", told.at("nahmias_trumpet"), "net_requirements", rows);
  judge_levels(told, rows);
  judge_queues(told, rows);
  judge_chances(told, rows);
  judge_net_plan(told.at("mrp_record"), rows);
  return rows;
}

}  // namespace

int main(int argc, char** argv) {
  std::string data = ROLLWRIGHT_ROOT "/../shared";
  CLI::App app{"Worked examples of textbooks beside our own calculations."};
  app.add_option("--data", data, "folder that holds reference/planning")
      ->envname("ROLLWRIGHT_SHARED");
  CLI11_PARSE(app, argc, argv);
  const std::string file = data + "/reference/planning/textbook-checks.json";
  const auto text = read_file(file);
  if (!text) {
    fmt::print(stderr, "The examples are missing: {}.\n", text.error().sentence);
    return 3;
  }
  try {
    const Rows rows = judge(json::parse(*text));
    const bool holds = rows.rows > 100 && rows.outside == 0;
    fmt::print("{} numbers compared, {} outside.\n", rows.rows, rows.outside);
    fmt::print("{{\"name\":\"textbook\",\"holds\":{},"
               "\"figures\":{{\"rows\":{},\"outside\":{}}}}}\n",
               holds, rows.rows, rows.outside);
    return holds ? 0 : 1;
  } catch (const json::exception& trouble) {
    fmt::print(stderr, "{} is not laid out as expected: {}\n", file, trouble.what());
    return 3;
  }
}
