#include "build/applicable.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "build/traits.hpp"

namespace rollwright::build {
namespace {

using Operations = std::vector<trade::Operation>;

/// The trade's operations by number: where each stands, whom it waits for, whether it applies.
struct Network {
  const Operations* operations = nullptr;
  std::vector<std::vector<std::size_t>> after;
  std::vector<bool> applies;
};

Result<Network> network_of(const Operations& operations, const std::set<std::string>& traits) {
  std::map<std::string, std::size_t> number;
  for (std::size_t i = 0; i < operations.size(); ++i) number[operations[i].id] = i;
  Network network{.operations = &operations};
  for (const trade::Operation& operation : operations) {
    network.applies.push_back(applies(operation.when, traits));
    std::vector<std::size_t>& after = network.after.emplace_back();
    for (const std::string& before : operation.after) {
      const auto found = number.find(before);
      if (found == number.end()) {
        return refuse(Code::kNotFound,
                      fmt::format("{} waits for {}, which is no operation", operation.id, before),
                      {operation.file, operation.line, "after", before});
      }
      after.push_back(found->second);
    }
  }
  return network;
}

/// Every operation after all that it waits for, or the refusal that names one in the loop.
Result<std::vector<std::size_t>> loop_free_order(const Network& network) {
  enum class Mark { kNew, kOpen, kDone };
  std::vector<Mark> marks(network.after.size(), Mark::kNew);
  std::vector<std::size_t> order;
  std::vector<std::pair<std::size_t, std::size_t>> path;  // operation, next predecessor to visit
  for (std::size_t start = 0; start < marks.size(); ++start) {
    if (marks[start] != Mark::kNew) continue;
    path.emplace_back(start, 0);
    marks[start] = Mark::kOpen;
    while (!path.empty()) {
      auto& [at, next] = path.back();
      if (next == network.after[at].size()) {
        marks[at] = Mark::kDone;
        order.push_back(at);
        path.pop_back();
        continue;
      }
      const std::size_t before = network.after[at][next++];
      if (marks[before] == Mark::kOpen) {
        return refuse(Code::kContradiction,
                      fmt::format("{} waits for itself over its predecessors",
                                  (*network.operations)[before].id));
      }
      if (marks[before] == Mark::kDone) continue;
      marks[before] = Mark::kOpen;
      path.emplace_back(before, 0);
    }
  }
  return order;
}

/// Per operation, the applicable ones it waits for once all others are bridged.
std::vector<std::set<std::size_t>> bridged(const Network& network,
                                           const std::vector<std::size_t>& order) {
  std::vector<std::set<std::size_t>> waits(network.after.size());
  for (const std::size_t at : order) {
    for (const std::size_t before : network.after[at]) {
      if (network.applies[before]) {
        waits[at].insert(before);
      } else {
        waits[at].insert(waits[before].begin(), waits[before].end());
      }
    }
  }
  return waits;
}

/// Rank of each area: the order in which the trade's list mentions them.
std::map<std::string, int> area_ranks(const Operations& operations) {
  std::map<std::string, int> ranks;
  for (const trade::Operation& operation : operations) {
    ranks.emplace(operation.area, static_cast<int>(ranks.size()));
  }
  return ranks;
}

std::vector<std::size_t> working_order(const Network& network,
                                       const std::vector<std::set<std::size_t>>& waits) {
  const Operations& operations = *network.operations;
  const std::map<std::string, int> ranks = area_ranks(operations);
  std::set<std::size_t> open;
  for (std::size_t i = 0; i < operations.size(); ++i) {
    if (network.applies[i]) open.insert(i);
  }
  std::vector<std::size_t> order;
  std::string area;
  while (!open.empty()) {
    const auto ready = [&](std::size_t i) {
      return std::ranges::none_of(waits[i], [&open](std::size_t w) { return open.contains(w); });
    };
    const auto rank = [&](std::size_t i) {
      return operations[i].area == area ? -1 : ranks.at(operations[i].area);
    };
    std::optional<std::size_t> best;
    for (const std::size_t i : open) {
      if (ready(i) && (!best || rank(i) < rank(*best))) best = i;
    }
    ROLLWRIGHT_PROMISE(best.has_value());  // loops were refused before
    open.erase(*best);
    order.push_back(*best);
    area = operations[*best].area;
  }
  return order;
}

double middle_of(const trade::Operation& operation) {
  return (operation.minutes_low + operation.minutes_high) / 2;
}

LongestChain longest_chain(const Operations& operations, const std::vector<std::size_t>& order,
                           const std::vector<std::set<std::size_t>>& waits) {
  std::map<std::size_t, LongestChain> until;
  LongestChain longest;
  for (const std::size_t at : order) {
    LongestChain& here = until[at];
    for (const std::size_t before : waits[at]) {
      here.low = std::max(here.low, until[before].low);
      here.middle = std::max(here.middle, until[before].middle);
      here.high = std::max(here.high, until[before].high);
    }
    here.low += operations[at].minutes_low;
    here.middle += middle_of(operations[at]);
    here.high += operations[at].minutes_high;
    longest.low = std::max(longest.low, here.low);
    longest.middle = std::max(longest.middle, here.middle);
    longest.high = std::max(longest.high, here.high);
  }
  return longest;
}

}  // namespace

Result<ApplicableOperations> applicable_operations(const Operations& operations,
                                                   const std::set<std::string>& traits) {
  const Result<Network> network = network_of(operations, traits);
  if (!network) return std::unexpected(network.error());
  const Result<std::vector<std::size_t>> loop_free = loop_free_order(*network);
  if (!loop_free) return std::unexpected(loop_free.error());
  const std::vector<std::set<std::size_t>> waits = bridged(*network, *loop_free);
  const std::vector<std::size_t> order = working_order(*network, waits);

  ApplicableOperations applicable;
  for (const std::size_t at : order) {
    const trade::Operation& operation = operations[at];
    ApplicableStep& step = applicable.steps.emplace_back();
    step.operation = &operation;
    if (applies(operation.hands_when, traits)) step.hands = operation.hands;
    for (const std::size_t before : waits[at]) step.after.push_back(operations[before].id);
    applicable.minutes_low += operation.minutes_low;
    applicable.minutes_high += operation.minutes_high;
    applicable.middle_minutes_by_area[operation.area] += middle_of(operation);
  }
  applicable.chain = longest_chain(operations, order, waits);
  return applicable;
}

}  // namespace rollwright::build
