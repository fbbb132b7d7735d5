#include "supply/baskets.hpp"

#include <coin/Cbc_C_Interface.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <tuple>

#include "base/result.hpp"

namespace rollwright::supply {
namespace {

constexpr int kMostNodes = 2000;

std::size_t at(int index) { return static_cast<std::size_t>(index); }

using OrderOf = std::pair<int, int>;  // supplier, day

const BasketOption& option_of(const BasketQuestion& question, std::size_t line, int option) {
  return question.lines[line][at(option)];
}

double holding_of(const BasketQuestion& question, const BasketOption& option, int day) {
  return question.holding * static_cast<double>(option.goods.cents) * (option.latest - day);
}

Money cost_of(const BasketQuestion& question, const std::vector<BoughtLine>& lines) {
  std::map<OrderOf, Money> goods;
  Money cost;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const BasketOption& option = option_of(question, i, lines[i].option);
    goods[{option.supplier, lines[i].day}] += option.goods;
    cost += option.goods;
  }
  for (const auto& [order, sum] : goods) {
    cost += extra_for(question.suppliers[at(order.first)], sum);
  }
  return cost;
}

double holding_of(const BasketQuestion& question, const std::vector<BoughtLine>& lines) {
  double sum = 0;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    sum += holding_of(question, option_of(question, i, lines[i].option), lines[i].day);
  }
  return sum;
}

std::vector<BoughtLine> each_when_needed(const BasketQuestion& question) {
  std::vector<BoughtLine> lines;
  for (const auto& options : question.lines) {
    const auto cheapest = std::min_element(
        options.begin(), options.end(), [](const BasketOption& a, const BasketOption& b) {
          return std::tie(a.goods, a.supplier) < std::tie(b.goods, b.supplier);
        });
    lines.push_back({static_cast<int>(cheapest - options.begin()), cheapest->latest});
  }
  return lines;
}

/// The programme, column by column and row by row. The solver takes names; none are needed.
class Programme {
 public:
  explicit Programme(const BasketQuestion& question)
      : question_(question), model_(Cbc_newModel(), &Cbc_deleteModel) {
    Cbc_setLogLevel(model_.get(), 0);
    Cbc_setObjSense(model_.get(), 1);
    for (std::size_t i = 0; i < question.lines.size(); ++i) {
      for (const BasketOption& option : question.lines[i]) {
        days_[option.supplier].insert(option.latest);
      }
    }
    add_orders();
    add_lines();
    add_thresholds();
  }

  std::vector<BoughtLine> solve(bool& proven) {
    // Cents are whole; a gap below one is none.
    Cbc_setAllowableGap(model_.get(), 0.5);
    Cbc_setMaximumNodes(model_.get(), kMostNodes);
    Cbc_solve(model_.get());
    proven = Cbc_isProvenOptimal(model_.get()) != 0;
    const double* found = Cbc_bestSolution(model_.get());
    std::vector<BoughtLine> lines(question_.lines.size());
    if (found == nullptr) return {};
    for (const Column& column : columns_) {
      if (found[column.index] > 0.5) lines[column.line] = column.bought;
    }
    return lines;
  }

 private:
  struct Column {
    int index = 0;
    std::size_t line = 0;
    BoughtLine bought;
  };
  struct Order {
    int goes_out = 0;  // columns
    int free = -1;
    int enough = -1;
    std::vector<int> columns;
    std::vector<double> goods;
  };

  int add_column(double cost) {
    Cbc_addCol(model_.get(), "", 0, 1, cost, 1, 0, nullptr, nullptr);
    return columns_count_++;
  }
  void add_row(const std::vector<int>& columns, const std::vector<double>& factors, char sense,
               double right) {
    Cbc_addRow(model_.get(), "", static_cast<int>(columns.size()), columns.data(), factors.data(),
               sense, right);
  }

  void add_orders() {
    for (const auto& [supplier, days] : days_) {
      const BasketTerms& terms = question_.suppliers[at(supplier)];
      const auto freight = static_cast<double>(terms.freight.cents);
      const auto charge = terms.minimum.cents > 0 ? static_cast<double>(terms.charge.cents) : 0.0;
      for (const int day : days) {
        Order& order = orders_[{supplier, day}];
        order.goes_out = add_column(freight + charge);
        if (freight > 0 && terms.free_over.cents > 0) order.free = add_column(-freight);
        if (charge > 0) order.enough = add_column(-charge);
      }
    }
  }

  void add_lines() {
    for (std::size_t i = 0; i < question_.lines.size(); ++i) {
      std::vector<int> ways;
      for (std::size_t k = 0; k < question_.lines[i].size(); ++k) {
        const BasketOption& option = question_.lines[i][k];
        for (const int day : days_[option.supplier]) {
          if (day > option.latest) break;
          Order& order = orders_[{option.supplier, day}];
          const auto goods = static_cast<double>(option.goods.cents);
          const int column = add_column(goods + holding_of(question_, option, day));
          columns_.push_back({column, i, {static_cast<int>(k), day}});
          ways.push_back(column);
          order.columns.push_back(column);
          order.goods.push_back(goods);
          add_row({column, order.goes_out}, {1, -1}, 'L', 0);
        }
      }
      add_row(ways, std::vector<double>(ways.size(), 1), 'E', 1);
    }
  }

  /// Goods reach `least` times the column that says so.
  void add_threshold(const Order& order, int column, Money least) {
    if (column < 0) return;
    std::vector<int> columns = order.columns;
    std::vector<double> goods = order.goods;
    columns.push_back(column);
    goods.push_back(-static_cast<double>(least.cents));
    add_row(columns, goods, 'G', 0);
    add_row({column, order.goes_out}, {1, -1}, 'L', 0);
  }
  void add_thresholds() {
    for (const auto& [which, order] : orders_) {
      const BasketTerms& terms = question_.suppliers[at(which.first)];
      add_threshold(order, order.free, terms.free_over);
      add_threshold(order, order.enough, terms.minimum);
    }
  }

  const BasketQuestion& question_;
  std::unique_ptr<Cbc_Model, void (*)(Cbc_Model*)> model_;
  std::map<int, std::set<int>> days_;  // supplier -> days on which an order may go out
  std::map<OrderOf, Order> orders_;
  std::vector<Column> columns_;
  int columns_count_ = 0;
};

BasketAnswer solved(const BasketQuestion& question) {
  const std::vector<BoughtLine> needed = each_when_needed(question);
  BasketAnswer answer{.lines = needed, .cost = {}, .when_needed = cost_of(question, needed)};
  const std::vector<BoughtLine> found = Programme(question).solve(answer.proven);
  // A search cut short may end above the plain way.
  const auto all = [&](const std::vector<BoughtLine>& lines) {
    return static_cast<double>(cost_of(question, lines).cents) + holding_of(question, lines);
  };
  if (!found.empty() && all(found) <= all(needed)) answer.lines = found;
  answer.cost = cost_of(question, answer.lines);
  answer.holding_cents = holding_of(question, answer.lines);
  return answer;
}

}  // namespace

BasketTerms terms_of(const trade::Supplier& supplier) {
  return {.minimum = supplier.minimum_order, .charge = supplier.small_order_charge,
          .free_over = supplier.free_freight_over, .freight = supplier.freight};
}

Money extra_for(const BasketTerms& terms, Money goods) {
  Money extra;
  const bool free = terms.free_over.cents > 0 && goods >= terms.free_over;
  if (!free) extra += terms.freight;
  if (goods < terms.minimum) extra += terms.charge;
  return extra;
}

BasketAnswer cheapest_baskets(const BasketQuestion& question) {
  if (question.lines.empty()) return {.lines = {}, .cost = {}, .when_needed = {}, .proven = true};
  static std::mutex one_at_a_time;  // the solver keeps state of its own
  const std::lock_guard lock(one_at_a_time);
  return solved(question);
}

}  // namespace rollwright::supply
