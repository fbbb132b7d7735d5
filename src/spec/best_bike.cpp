#include "spec/best_bike.hpp"

#include <array>
#include <memory>
#include <optional>
#include <tuple>

#include "spec/whole_sum.hpp"


namespace rollwright::spec {

namespace {

/// Down the diagram along the best bundles.
class Walk {
 public:
  Walk(const BikeQuestion& question, const Sweep<AddingCosts>& sweep)
      : in_(question), sweep_(sweep) {}

  std::vector<int> run() {
    const Diagram& diagram = in_.situation.diagram;
    std::vector<std::uint32_t> node(diagram.slots.size(), 0);
    std::vector<int> candidates(diagram.slots.size(), -1);
    for (std::size_t r = 0; r < diagram.roots.size(); ++r) {
      node[at(diagram.tree.roots[r])] = diagram.roots[r];
    }
    for (const int slot : diagram.tree.order) candidates[at(slot)] = step(slot, node);
    return candidates;
  }

 private:
  int step(int slot, std::vector<std::uint32_t>& node) const {
    const DiagramSlot& own = in_.situation.diagram.slots[at(slot)];
    const auto& children = in_.situation.diagram.tree.children[at(slot)];
    const Cost wanted = sweep_.below(slot, node[at(slot)]);
    const std::size_t end = own.first_bundle[node[at(slot)] + 1];
    for (std::size_t b = own.first_bundle[node[at(slot)]]; b < end; ++b) {
      if (own.level[b] > in_.level) continue;
      Cost below{};
      for (std::size_t k = 0; k < children.size(); ++k) {
        const std::uint32_t child = own.child[b * children.size() + k];
        below = AddingCosts::along(below, sweep_.below(children[k], child));
      }
      for (const std::uint16_t family : own.families_in(own.set[b])) {
        for (const int candidate : own.members[family]) {
          if (!counts(slot, candidate)) continue;
          if (AddingCosts::along(below, in_.costs[at(slot)][at(candidate)]) != wanted) continue;
          for (std::size_t k = 0; k < children.size(); ++k) {
            node[at(children[k])] = own.child[b * children.size() + k];
          }
          return candidate;
        }
      }
    }
    ROLLWRIGHT_PROMISE(false);  // the sweep found this value in some bundle
    return -1;
  }

  [[nodiscard]] bool counts(int slot, int candidate) const {
    const int decided = in_.situation.decided[at(slot)];
    return in_.outlook.usable[at(slot)][at(candidate)] != 0 &&
           (decided < 0 || decided == candidate);
  }

  const BikeQuestion& in_;
  const Sweep<AddingCosts>& sweep_;
};

/// Where sums could be broken.
class BranchAndBound {
 public:
  BranchAndBound(const BikeQuestion& question, Budget& budget)
      : in_(question), diagram_(question.situation.diagram), budget_(budget) {}

  std::optional<double> worth() {
    by_cost_.emplace(cost_input());
    if (AddingCosts::is_none(by_cost_->whole())) return std::nullopt;
    lay_bounds();
    return by_worth_ ? std::optional(worth_) : std::nullopt;
  }

  BestBike run() {
    by_cost_.emplace(cost_input());
    if (AddingCosts::is_none(by_cost_->whole())) return {};
    lay_bounds();
    node_.assign(diagram_.slots.size(), 0);
    chosen_.assign(diagram_.slots.size(), -1);
    options_.resize(diagram_.slots.size());
    Point start;
    for (std::size_t r = 0; r < diagram_.roots.size(); ++r) {
      const int slot = diagram_.tree.roots[r];
      node_[at(slot)] = diagram_.roots[r];
      start.open(*this, slot, node_[at(slot)], 1);
    }
    start.limit = limits_of_all_;
    branch(0, start);
    if (gave_up_) best_.state = BestBike::State::kGaveUp;
    return std::move(best_);
  }

 private:
  static constexpr std::size_t kSums = kMostWholeSums;

  /// What is settled so far plus the least that is open.
  struct Point {
    Cost cost;
    std::array<std::int64_t, kSums> amount = {};
    std::array<std::int64_t, kSums> limit = {};
    double weighed = 0;

    /// Adds (or with -1 takes off) what is best below a node.
    void open(const BranchAndBound& search, int slot, std::uint32_t node, int sign) {
      const Cost below = search.by_cost_->below(slot, node);
      cost.first += sign * below.first;
      cost.second += sign * below.second;
      for (std::size_t i = 0; i < search.by_amount_.size(); ++i) {
        amount[i] += sign * search.by_amount_[i]->below(slot, node);
      }
      if (search.by_worth_) weighed += sign * search.by_worth_->below(slot, node);
    }
  };
  struct Option {
    Point point;
    std::size_t bundle = 0;
    int candidate = 0;
  };

  SweepInput<AddingCosts>& cost_input() {
    cost_input_.emplace(SweepInput<AddingCosts>{
        .diagram = diagram_, .level = in_.level,
        .own = best_of_families<AddingCosts>(
            in_.situation, in_.outlook,
            [&](int d, int i) { return in_.costs[at(d)][at(i)]; })});
    return *cost_input_;
  }

  void lay_bounds() {
    const auto& sums = in_.outlook.sums;
    amount_inputs_.reserve(sums.size());
    for (const HeldSum& sum : sums) {
      amount_inputs_.push_back({.diagram = diagram_, .level = in_.level,
                                .own = best_of_families<Adding>(
                                    in_.situation, in_.outlook,
                                    [&](int d, int i) { return sum.amount[at(d)][at(i)]; })});
      by_amount_.push_back(std::make_unique<Sweep<Adding>>(amount_inputs_.back()));
    }
    limits_of_all_.fill(HeldSum::kNoLimit);
    widest_limit_.resize(sums.size());
    for (std::size_t s = 0; s < sums.size(); ++s) {
      limits_of_all_[s] = sums[s].limit_of_all;
      for (int d = 0; d < in_.situation.slots(); ++d) widest_limit_[s].push_back(widest(s, d));
    }
    for (std::size_t s = 0; s < sums.size(); ++s) {
      for (const std::int64_t limit : widest_limit_[s]) {
        limits_of_all_[s] = std::min(limits_of_all_[s], limit);
      }
    }
    find_worth();
  }

  /// The widest limit that any candidate of the slot leaves.
  [[nodiscard]] std::int64_t widest(std::size_t sum, int d) const {
    std::int64_t limit = -1;
    const auto& own = in_.outlook.sums[sum].limit[at(d)];
    for (int i = 0; i < static_cast<int>(own.size()); ++i) {
      if (counts(d, i)) limit = std::max(limit, own[at(i)]);
    }
    return limit;
  }

  [[nodiscard]] bool counts(int d, int i) const {
    const int decided = in_.situation.decided[at(d)];
    return in_.outlook.usable[at(d)][at(i)] != 0 && (decided < 0 || decided == i);
  }

  void find_worth() {
    if (in_.outlook.sums.empty() || limits_of_all_[0] >= HeldSum::kNoLimit) return;
    worth_ = in_.worth ? *in_.worth : worth_at(limits_of_all_[0]);
    worth_input_.emplace(SweepInput<Weighing>{
        .diagram = diagram_, .level = in_.level,
        .own = best_of_families<Weighing>(in_.situation, in_.outlook,
                                          [&](int d, int i) { return weighed(d, i); })});
    by_worth_.emplace(*worth_input_);
  }

  /// The least worth at which the best bike keeps the limit: there the bound is highest.
  double worth_at(std::int64_t limit) {
    double low = 0;
    double high = 1;
    const auto is_light = [&](double worth) { return amount_at(worth) <= limit; };
    for (int i = 0; i < 8 && !is_light(high); ++i) high *= 8;
    for (int i = 0; i < 16; ++i) {
      const double middle = low + (high - low) / 2;
      (is_light(middle) ? high : low) = middle;
    }
    return high;
  }

  [[nodiscard]] double weighed(int d, int i) const {
    return static_cast<double>(in_.costs[at(d)][at(i)].first) +
           worth_ * static_cast<double>(in_.outlook.sums[0].amount[at(d)][at(i)]);
  }

  [[nodiscard]] std::int64_t amount_at(double worth) {
    worth_ = worth;
    using Watched = Watching<Weighing, 1>;
    const SweepInput<Watched> input{
        .diagram = diagram_, .level = in_.level,
        .own = best_of_families<Watched>(in_.situation, in_.outlook, [&](int d, int i) {
          return Watched::Value{.cost = weighed(d, i),
                                .amount = {in_.outlook.sums[0].amount[at(d)][at(i)]}};
        })};
    return Sweep<Watched>(input).whole().amount[0];
  }

  void branch(std::size_t depth, const Point& point) {
    if (gave_up_ || is_hopeless(point)) return;
    if (!budget_.spend()) {
      gave_up_ = true;
      return;
    }
    if (depth == diagram_.tree.order.size()) {
      best_ = {.state = BestBike::State::kFound, .cost = point.cost, .candidates = chosen_};
      return;
    }
    const int slot = diagram_.tree.order[depth];
    const auto& children = diagram_.tree.children[at(slot)];
    list_options(depth, slot, point);
    const std::uint32_t node = node_[at(slot)];
    for (std::size_t o = 0; o < options_[depth].size(); ++o) {
      const Option option = options_[depth][o];
      for (std::size_t k = 0; k < children.size(); ++k) {
        node_[at(children[k])] =
            diagram_.slots[at(slot)].child[option.bundle * children.size() + k];
      }
      chosen_[at(slot)] = option.candidate;
      branch(depth + 1, option.point);
      node_[at(slot)] = node;
    }
  }

  void list_options(std::size_t depth, int slot, Point point) {
    const DiagramSlot& own = diagram_.slots[at(slot)];
    const auto& children = diagram_.tree.children[at(slot)];
    auto& options = options_[depth];
    options.clear();
    const std::uint32_t node = node_[at(slot)];
    point.open(*this, slot, node, -1);
    for (std::size_t b = own.first_bundle[node]; b < own.first_bundle[node + 1]; ++b) {
      if (own.level[b] > in_.level) continue;
      Point below = point;
      bool is_dead = false;
      for (std::size_t k = 0; k < children.size() && !is_dead; ++k) {
        const std::uint32_t child = own.child[b * children.size() + k];
        is_dead = AddingCosts::is_none(by_cost_->below(children[k], child));
        if (!is_dead) below.open(*this, children[k], child, 1);
      }
      for (const std::uint16_t family : own.families_in(own.set[b])) {
        for (const int candidate : own.members[family]) {
          if (is_dead || !counts(slot, candidate)) continue;
          options.push_back({with(below, slot, candidate), b, candidate});
          if (is_hopeless(options.back().point)) options.pop_back();
        }
      }
    }
    std::ranges::stable_sort(options, {}, [&](const Option& option) {
      return std::tuple(by_worth_ ? option.point.weighed : 0.0, option.point.cost.first,
                        option.point.cost.second);
    });
  }

  [[nodiscard]] Point with(Point point, int slot, int candidate) const {
    const Cost& cost = in_.costs[at(slot)][at(candidate)];
    point.cost.first += cost.first;
    point.cost.second += cost.second;
    for (std::size_t s = 0; s < in_.outlook.sums.size(); ++s) {
      const HeldSum& sum = in_.outlook.sums[s];
      point.amount[s] += sum.amount[at(slot)][at(candidate)];
      point.limit[s] = std::min(point.limit[s], sum.limit[at(slot)][at(candidate)]);
    }
    if (by_worth_) point.weighed += weighed(slot, candidate);
    return point;
  }

  [[nodiscard]] bool is_hopeless(const Point& point) const {
    for (std::size_t s = 0; s < in_.outlook.sums.size(); ++s) {
      if (point.amount[s] > point.limit[s]) return true;
    }
    if (best_.state != BestBike::State::kFound) return false;
    if (point.cost >= best_.cost) return true;
    if (!by_worth_ || point.limit[0] >= HeldSum::kNoLimit) return false;
    // Room for rounding, so that a bike as good as the best is never lost to it.
    const double bound = point.weighed - worth_ * static_cast<double>(point.limit[0]);
    return bound > static_cast<double>(best_.cost.first) + 0.01;
  }

  const BikeQuestion& in_;
  const Diagram& diagram_;
  Budget& budget_;
  std::optional<SweepInput<AddingCosts>> cost_input_;
  std::optional<Sweep<AddingCosts>> by_cost_;
  std::vector<SweepInput<Adding>> amount_inputs_;
  std::vector<std::unique_ptr<Sweep<Adding>>> by_amount_;
  std::optional<SweepInput<Weighing>> worth_input_;
  std::optional<Sweep<Weighing>> by_worth_;
  double worth_ = 0;
  std::array<std::int64_t, kSums> limits_of_all_ = {};
  std::vector<std::vector<std::int64_t>> widest_limit_;  // by sum and slot
  std::vector<std::uint32_t> node_;
  std::vector<int> chosen_;
  std::vector<std::vector<Option>> options_;  // by depth
  BestBike best_;
  bool gave_up_ = false;
};

}  // namespace

std::optional<double> worth_of_amount(const BikeQuestion& question) {
  if (question.outlook.sums.empty() || question.situation.diagram.nothing) return std::nullopt;
  Budget none;
  return BranchAndBound(question, none).worth();
}

BestBike best_bike(const BikeQuestion& question, Budget& budget) {
  if (question.situation.diagram.nothing ||
      question.situation.diagram.base_level > question.level) {
    return {};
  }
  if (!question.outlook.sums.empty()) return BranchAndBound(question, budget).run();
  const SweepInput<AddingCosts> input{
      .diagram = question.situation.diagram, .level = question.level,
      .own = best_of_families<AddingCosts>(
          question.situation, question.outlook,
          [&](int d, int i) { return question.costs[at(d)][at(i)]; })};
  const Sweep<AddingCosts> sweep(input);
  if (AddingCosts::is_none(sweep.whole())) return {};
  return {.state = BestBike::State::kFound, .cost = sweep.whole(),
          .candidates = Walk(question, sweep).run()};
}

}  // namespace rollwright::spec
