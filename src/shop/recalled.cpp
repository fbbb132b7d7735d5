#include "shop/recalled.hpp"

#include <algorithm>
#include <map>

namespace rollwright::shop {
namespace {

using trade::Certainty;

/// The day on which a purchase line's first pieces came.
std::optional<Day> came_on(const State& state, const std::string& purchase) {
  const auto line = std::ranges::find(state.held.purchases, purchase, &trade::PurchaseLine::id);
  if (line == state.held.purchases.end() || !line->came) return std::nullopt;
  return line->came->first_arrival;
}

/// By place, what the record says is there now.
std::map<std::string, std::vector<const trade::BikeLine*>> in_places(
    const std::vector<trade::BikeLine>& lines) {
  std::map<std::string, std::vector<const trade::BikeLine*>> places;
  for (const trade::BikeLine& line : lines) {
    auto& held = places[line.about];
    if (line.deed == trade::Deed::kKitted || line.deed == trade::Deed::kOn) {
      held.push_back(&line);
    } else if (line.deed == trade::Deed::kOff) {
      std::erase_if(held, [&](const trade::BikeLine* on) {
        return on->part == line.part && on->serial == line.serial && on->lot == line.lot;
      });
    }
  }
  return places;
}

}  // namespace

std::set<trade::PartId> parts_meant(const State& state, const trade::Recall& recall) {
  std::set<trade::PartId> parts;
  for (const trade::Part& part : state.held.parts) {
    if (means(recall, part)) parts.insert(part.id);
  }
  return parts;
}

std::vector<RecalledPiece> recalled_pieces(const State& state, const trade::Recall& recall,
                                           const RecordOfBike& bike) {
  const auto is_meant = [&](const trade::PartId& id) {
    const trade::Part* part = state.part(id);
    return part == nullptr ? id == recall.part : means(recall, *part);
  };
  const auto places = in_places(bike.lines);
  std::vector<RecalledPiece> pieces;
  for (const auto& [slot, held] : places) {
    for (const trade::BikeLine* line : held) {
      if (!is_meant(line->part)) continue;
      const Certainty certainty = trade::certainty_of(
          recall, {.serial = line->serial, .lot = line->lot,
                   .came = came_on(state, line->came_by), .bound = day_of(line->at)});
      if (certainty == Certainty::kNot) continue;
      pieces.push_back({.slot = slot, .part = line->part, .serial = line->serial,
                        .lot = line->lot, .certainty = certainty, .bound = true});
    }
  }
  if (bike.order.state == trade::OrderState::kCancelled) return pieces;
  for (const auto& [slot, part] : bike.order.choices) {
    const auto held = places.find(slot.text);
    if (held != places.end() && !held->second.empty()) continue;  // the record knows better
    if (!is_meant(part)) continue;
    pieces.push_back({.slot = slot.text, .part = part,
                      .certainty = trade::certainty_of(recall, {}), .bound = false});
  }
  return pieces;
}

bool was_handed_over(trade::OrderState state) {
  return trade::is_over(state) && state != trade::OrderState::kCancelled;
}

RecallsNow recalls_now(const State& state, const trade::ShopFiles& put) {
  RecallsNow now{.recalls = state.held.recalls, .steps = state.held.recall_steps};
  for (const trade::Recall& recall : put.recalls) {
    const auto held = std::ranges::find(now.recalls, recall.number, &trade::Recall::number);
    if (held == now.recalls.end()) {
      now.recalls.push_back(recall);
    } else {
      *held = recall;
    }
  }
  now.steps.insert(now.steps.end(), put.recall_steps.begin(), put.recall_steps.end());
  return now;
}

const trade::RecallStep* last_step(const RecallsNow& now, const std::string& recall,
                                   const trade::OrderId& order) {
  const trade::RecallStep* last = nullptr;
  for (const trade::RecallStep& step : now.steps) {
    if (step.recall != recall || step.order != order) continue;
    if (last == nullptr || last->number <= step.number) last = &step;
  }
  return last;
}

std::vector<std::string> recalls_on(const State& state, const RecallsNow& now,
                                    const RecordOfBike& bike) {
  std::vector<std::string> numbers;
  for (const trade::Recall& recall : now.recalls) {
    if (recall.closed || recalled_pieces(state, recall, bike).empty()) continue;
    const trade::RecallStep* last = last_step(now, recall.number, bike.order.id);
    if (last != nullptr && last->status == trade::RecallStatus::kFixed) continue;
    numbers.push_back(recall.number);
  }
  return numbers;
}

std::vector<trade::RecallStep> fixed_by_visit(const State& state, const RecordOfBike& bike,
                                              const trade::RecallStep& step) {
  const auto visit = std::ranges::find(bike.lines.rbegin(), bike.lines.rend(), trade::Deed::kVisit,
                                       &trade::BikeLine::deed);
  const std::vector<trade::BikeLine> before(bike.lines.begin(), visit.base());
  const RecallsNow now = recalls_now(state);
  std::vector<trade::RecallStep> steps;
  for (const trade::Recall& recall : now.recalls) {
    if (recall.closed || !recalled_pieces(state, recall, bike).empty()) continue;
    const trade::RecallStep* last = last_step(now, recall.number, bike.order.id);
    const bool is_fixed = last != nullptr && last->status == trade::RecallStatus::kFixed;
    const bool had = !recalled_pieces(state, recall, {.order = bike.order, .lines = before}).empty();
    if (is_fixed || (last == nullptr && !had)) continue;
    trade::RecallStep& fixed = steps.emplace_back(step);
    fixed.recall = recall.number;
    fixed.order = bike.order.id;
    fixed.number = last == nullptr ? 1 : last->number + 1;
    fixed.status = trade::RecallStatus::kFixed;
  }
  return steps;
}

}  // namespace rollwright::shop
