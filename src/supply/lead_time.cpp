#include "supply/lead_time.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "base/working_days.hpp"

namespace rollwright::supply {
namespace {

/// Nobody delivers within half a working day.
constexpr double kLeastDays = 0.5;
/// Of what comes is wrong, damaged or short, before anything is known of the supplier.
constexpr double kBadShare = 0.05;
constexpr double kBadWeight = 10;
/// So many pairs of deliveries that are not late together are believed to have been seen.
constexpr double kPairWeight = 30;
constexpr double kLeastTogether = 0.05;  // less is noise
constexpr double kMostTogether = 0.8;
constexpr const char* kStocked = "stocked";
/// What is believed of a group that has no row of its own: a week, give or take.
const trade::Spread kUnknownGroup{.least = 0, .median = 5, .sigma = 0.7, .basis = "no history"};

const trade::Spread& row_for(const trade::LeadTimePrior& prior, const std::string& road) {
  if (road == "importer") return prior.importer;
  if (road == "made") return prior.made;
  return prior.stocked;
}

/// The row as a lognormal without a least: its middle, and what lies between that and 90 in 100.
LeadHistory history_of(const trade::Spread& row) {
  const double middle = std::max(kLeastDays, row.least + row.median);
  const double high = std::max(middle, trade::quantile(row, 0.9));
  const double sigma = std::log(high / middle) / trade::inverse_normal(0.9);
  return {.middle_days = middle, .sigma = std::clamp(sigma, 0.05, 2.0), .days = {}};
}

std::string counted(int count, std::string_view one, std::string_view more) {
  return fmt::format("{} {}", count, count == 1 ? one : more);
}

}  // namespace

std::string in_words(const LeadEvidence& evidence) {
  const std::string group = evidence.group.empty() ? "such parts" : evidence.group;
  std::string words;
  if (evidence.of_supplier == 0) {
    words = fmt::format("usual for {}; no receipts from this supplier", group);
  } else if (evidence.of_kind == 0) {
    words = fmt::format("usual for {}, and {} of other kinds from this supplier", group,
                        counted(evidence.of_supplier, "receipt", "receipts"));
  } else {
    words = fmt::format("{} of {} from this supplier, {} in all",
                        counted(evidence.of_kind, "receipt", "receipts"), group,
                        evidence.of_supplier);
  }
  if (evidence.not_good > 0) {
    words += fmt::format("; {} of these wrong, damaged or short", evidence.not_good);
  }
  if (evidence.open > 0) {
    words += fmt::format("; and {} of {} not here yet, {}{}",
                         counted(evidence.open, "line", "lines"), group,
                         evidence.open == 1 ? "after " : "the first for ",
                         counted(evidence.longest, "working day", "working days"));
  }
  return words;
}

std::map<trade::PartId, std::string> lead_time_groups(const trade::Trade& trade,
                                                      const std::vector<trade::Part>& parts) {
  std::map<trade::PartId, std::string> group_of;
  for (const trade::Part& part : parts) {
    const auto kind = trade.kinds.find(part.kind);
    if (kind != trade.kinds.end()) group_of[part.id] = kind->second.lead_time_group;
  }
  return group_of;
}

LeadTimes::LeadTimes(const std::map<std::string, trade::LeadTimePrior>& priors,
                     const std::map<trade::PartId, std::string>& group_of,
                     const std::vector<trade::Receipt>& receipts,
                     const std::vector<trade::Offer>& offers, Roads by_road,
                     const std::vector<StillOpen>& open)
    : priors_(priors), group_of_(group_of), kept_(receipts), roads_(std::move(by_road)) {
  for (const trade::Offer& offer : offers) road_[{offer.supplier, offer.part}] = offer.availability;
  std::vector<trade::Receipt> used;
  for (const trade::Receipt& receipt : receipts) {
    if (!group_of_.contains(receipt.part) || receipt.received < receipt.ordered) continue;
    used.push_back(receipt);
    const Key key = key_of(receipt.supplier, receipt.part);
    const auto history = histories_.try_emplace(key, nothing_seen(key)).first;
    ++history->second.days[working_days_between(receipt.ordered, receipt.received)];
    Supplied& supplied = suppliers_[receipt.supplier];
    ++supplied.count;
    if (receipt.condition != "good") ++supplied.not_good;
  }
  for (const StillOpen& line : open) {
    const int waited = working_days_between(line.ordered, line.open_on);
    if (!group_of_.contains(line.part) || waited < 1) continue;
    const Key key = key_of(line.supplier, line.part);
    ++histories_.try_emplace(key, nothing_seen(key)).first->second.open[waited];
    suppliers_.try_emplace(line.supplier);
  }
  for (const trade::Offer& offer : offers) {
    const Key key = key_of(offer.supplier, offer.part);
    histories_.try_emplace(key, nothing_seen(key));
    suppliers_.try_emplace(offer.supplier);
  }
  // Every group has its cell for what is stocked: replacements come on that road.
  std::vector<Key> roads;
  for (const auto& [key, history] : histories_) roads.push_back(key);
  for (Key& key : roads) {
    std::get<2>(key) = kStocked;
    histories_.try_emplace(key, nothing_seen(key));
  }
  for (const auto& [supplier, supplied] : suppliers_) learn_supplier(supplier);
  learn_together(used);
}

LeadTimes::Key LeadTimes::key_of(const trade::SupplierId& supplier,
                                 const trade::PartId& part) const {
  const auto group = group_of_.find(part);
  const auto road = road_.find({supplier, part});
  return {supplier, group == group_of_.end() ? "" : group->second,
          road == road_.end() ? kStocked : road->second};
}

LeadHistory LeadTimes::nothing_seen(const Key& key) const {
  const auto prior = priors_.find(std::get<1>(key));
  return history_of(prior == priors_.end() ? kUnknownGroup
                                           : row_for(prior->second, std::get<2>(key)));
}

double LeadTimes::bad_share(const trade::SupplierId& supplier) const {
  const auto found = suppliers_.find(supplier);
  const Supplied supplied = found == suppliers_.end() ? Supplied{} : found->second;
  return (supplied.not_good + kBadWeight * kBadShare) / (supplied.count + kBadWeight);
}

LeadTimes::Cell LeadTimes::cell_from(const Key& key, const LeadBelief& belief,
                                     const DayOdds& again) const {
  Cell cell{
      .delivery = next_delivery(belief), .again = again, .good = {}, .spread = {}, .evidence = {}};
  const trade::SupplierId& supplier = std::get<0>(key);
  cell.good = mixed(then(cell.delivery, again), cell.delivery, bad_share(supplier));
  cell.evidence = {.group = std::get<1>(key), .unsure = belief.unsure};
  const auto history = histories_.find(key);
  if (history != histories_.end()) {
    for (const auto& [days, count] : history->second.days) cell.evidence.of_kind += count;
    for (const auto& [days, count] : history->second.open) {
      cell.evidence.open += count;
      cell.evidence.longest = std::max(cell.evidence.longest, days);
    }
  }
  const auto supplied = suppliers_.find(supplier);
  if (supplied != suppliers_.end()) {
    cell.evidence.of_supplier = supplied->second.count;
    cell.evidence.not_good = supplied->second.not_good;
  }
  cell.spread = spread_like(cell.good);
  cell.spread.basis = in_words(cell.evidence);
  return cell;
}

void LeadTimes::learn_supplier(const trade::SupplierId& supplier) {
  std::vector<Key> keys;
  std::vector<LeadHistory> kinds;
  for (auto at = histories_.lower_bound({supplier, "", ""});
       at != histories_.end() && std::get<0>(at->first) == supplier; ++at) {
    keys.push_back(at->first);
    kinds.push_back(at->second);
  }
  const std::vector<LeadBelief> beliefs = learn(kinds);
  std::map<std::string, DayOdds> from_stock;  // by group
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const auto& [id, group, road] = keys[i];
    if (road == kStocked) from_stock[group] = next_delivery(beliefs[i]);
  }
  for (std::size_t i = 0; i < keys.size(); ++i) {
    cells_[keys[i]] = cell_from(keys[i], beliefs[i], from_stock.at(std::get<1>(keys[i])));
  }
}

const LeadTimes::Cell& LeadTimes::cell(const Key& key, Cell& room) const {
  const auto known = cells_.find(key);
  if (known != cells_.end()) return known->second;
  // A kind or road of which nothing came and nothing is on offer: from the supplier's others.
  const Key stocked(std::get<0>(key), std::get<1>(key), kStocked);
  std::vector<LeadHistory> kinds = {nothing_seen(key)};
  if (!histories_.contains(stocked)) kinds.push_back(nothing_seen(stocked));
  std::size_t from_stock = 1;
  for (const auto& [other, history] : histories_) {
    if (std::get<0>(other) != std::get<0>(key)) continue;
    if (other == stocked) from_stock = kinds.size();
    kinds.push_back(history);
  }
  const std::vector<LeadBelief> beliefs = learn(kinds);
  return room = cell_from(key, beliefs.front(), next_delivery(beliefs[from_stock]));
}

const LeadTimes::Cell& LeadTimes::cell(const trade::Offer& offer, Cell& room) const {
  Key key = key_of(offer.supplier, offer.part);
  std::get<2>(key) = offer.availability;
  return cell(key, room);
}

DayOdds LeadTimes::delivery(const trade::Offer& offer) const {
  Cell room;
  return cell(offer, room).delivery;
}

DayOdds LeadTimes::odds(const trade::Offer& offer) const {
  Cell room;
  return cell(offer, room).good;
}

int LeadTimes::days(const trade::Offer& offer, double p) const {
  Cell room;
  return days_for(cell(offer, room).good, p);
}

trade::Spread LeadTimes::of(const trade::Offer& offer) const {
  Cell room;
  return cell(offer, room).spread;
}

LeadEvidence LeadTimes::evidence(const trade::Offer& offer) const {
  Cell room;
  return cell(offer, room).evidence;
}

int LeadTimes::ahead_of(const trade::PurchaseLine& line) {
  // What has left the supplier is as near as a day confirmed for this week.
  constexpr int kOnTheRoad = 5;
  const int ahead = working_days_between(line.placed, *line.confirmed);
  return line.state == trade::PurchaseState::kShipped ? std::min(ahead, kOnTheRoad) : ahead;
}

const trade::FreightWay* LeadTimes::way_of(const trade::PurchaseLine& line) const {
  return roads_.way_of(line, std::get<2>(key_of(line.supplier, line.part)));
}

DayOdds LeadTimes::left(const trade::PurchaseLine& line, Day today,
                        const std::vector<Day>& closed) const {
  const Key key = key_of(line.supplier, line.part);
  Cell room;
  const Cell& usual = cell(key, room);
  const auto good_from = [&](const DayOdds& delivery) {
    return mixed(then(delivery, usual.again), delivery, bad_share(line.supplier));
  };
  if (line.state == trade::PurchaseState::kAtGoodsIn) {
    return good_from({.by = {0.0, 1.0}});  // here, and looked at by tomorrow
  }
  const std::string& availability = std::get<2>(key);
  if (const auto on_road = roads_.left(line, availability, today, closed)) {
    return good_from(*on_road);
  }
  const DayOdds learned = good_from(
      line.confirmed ? kept_.until_here(line.supplier, ahead_of(line),
                                        working_days_between(today, *line.confirmed, closed))
                     : given_not_yet(usual.delivery, working_days_between(trade::waited_since(line),
                                                                          today, closed)));
  const trade::FreightWay* way = roads_.way_of(line, availability);
  const trade::FreightWay* first = roads_.usual_way(line.supplier, availability);
  if (way == first || way == nullptr || first == nullptr) return learned;
  const int gone = static_cast<int>((today - trade::waited_since(line)).count());
  const DayOdds by_first = good_from(roads_.whole(*first, gone, today, closed));
  const int by_learned = days_for(learned, 0.5);
  const int by_legs = days_for(by_first, 0.5);
  if (by_legs > kOddsDays || by_learned > kOddsDays) return learned;
  return moved(good_from(roads_.whole(*way, gone, today, closed)), by_learned - by_legs);
}

std::string LeadTimes::basis_of_left(const trade::PurchaseLine& line, Day today,
                                     const std::vector<Day>& closed) const {
  const Key key = key_of(line.supplier, line.part);
  if (line.state == trade::PurchaseState::kAtGoodsIn) return "at goods-in, to be looked at";
  if (roads_.left(line, std::get<2>(key), today, closed)) {
    return fmt::format("{} done {}, then usual legs of freight", line.legs.back().leg,
                       in_short(line.legs.back().day));
  }
  const trade::FreightWay* way = roads_.way_of(line, std::get<2>(key));
  if (way != nullptr && way != roads_.usual_way(line.supplier, std::get<2>(key))) {
    return fmt::format("ready in {:g} to {:g} days, then {}", way->ready_low, way->ready_high,
                       join(way->legs, ", "));
  }
  if (line.confirmed) {
    return fmt::format(
        "{} from this supplier that were confirmed about as far ahead",
        counted(kept_.count(line.supplier, ahead_of(line)), "delivery", "deliveries"));
  }
  Cell room;
  const Cell& usual = cell(key, room);
  const int gone = working_days_between(trade::waited_since(line), today, closed);
  return fmt::format("{}; not here after {}", in_words(usual.evidence),
                     counted(gone, "working day", "working days"));
}

int LeadTimes::receipts_behind(const trade::PurchaseLine& line, Day today,
                               const std::vector<Day>& closed) const {
  const Key key = key_of(line.supplier, line.part);
  if (line.state == trade::PurchaseState::kAtGoodsIn) return 0;
  if (roads_.left(line, std::get<2>(key), today, closed)) return 0;
  if (line.confirmed) return kept_.count(line.supplier, ahead_of(line));
  Cell room;
  return cell(key, room).evidence.of_kind;
}

trade::Spread LeadTimes::left_as_spread(const trade::PurchaseLine& line, Day today,
                                        const std::vector<Day>& closed) const {
  trade::Spread spread = spread_like(left(line, today, closed));
  spread.basis = basis_of_left(line, today, closed);
  return spread;
}

void LeadTimes::learn_together(const std::vector<trade::Receipt>& receipts) {
  using Week = std::pair<trade::SupplierId, int>;
  struct Sums {
    int count = 0;
    double score = 0;
    double square = 0;
  };
  std::map<Week, Sums> weeks;
  for (const trade::Receipt& receipt : receipts) {
    const DayOdds& odds = cells_.at(key_of(receipt.supplier, receipt.part)).delivery;
    const int days = std::max(1, working_days_between(receipt.ordered, receipt.received));
    const double place = (within(odds, days - 1) + within(odds, days)) / 2;
    const double score = trade::inverse_normal(std::clamp(place, 0.002, 0.998));
    const int week = static_cast<int>((receipt.ordered.time_since_epoch().count() + 3) / 7);
    Sums& sums = weeks[{receipt.supplier, week}];
    ++sums.count;
    sums.score += score;
    sums.square += score * score;
  }
  struct Pairs {
    Sums all;
    double product = 0;
    double count = 0;
  };
  std::map<trade::SupplierId, Pairs> suppliers;
  for (const auto& [week, sums] : weeks) {
    Pairs& pairs = suppliers[week.first];
    pairs.product += (sums.score * sums.score - sums.square) / 2;
    pairs.count += sums.count * (sums.count - 1) / 2.0;
    pairs.all.count += sums.count;
    pairs.all.square += sums.square;
  }
  for (const auto& [supplier, pairs] : suppliers) {
    const double variance = pairs.all.square / pairs.all.count;
    const double together = pairs.product / (pairs.count + kPairWeight) / variance;
    suppliers_[supplier].late_together =
        together < kLeastTogether ? 0 : std::min(together, kMostTogether);
  }
}

double LeadTimes::late_together(const trade::SupplierId& supplier) const {
  const auto found = suppliers_.find(supplier);
  return found == suppliers_.end() ? 0 : found->second.late_together;
}

}  // namespace rollwright::supply
