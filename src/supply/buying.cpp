#include "supply/buying.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "base/working_days.hpp"
#include "supply/baskets.hpp"
#include "supply/kit_days.hpp"
#include "supply/kit_odds.hpp"

namespace rollwright::supply {
namespace {

constexpr double kWorkingDaysOfAYear = 250;

/// Pieces of one part that are bought together.
struct Lot {
  trade::PartId part;
  std::vector<Need> needs;  // by day
  int pieces = 0;
};

std::vector<Lot> lots_of(const std::vector<Cover>& covers, const BuyingSettings& settings) {
  std::map<trade::PartId, std::vector<Need>> by_part;
  for (const Cover& cover : covers) {
    if (cover.source == Source::kToBuy) by_part[cover.need.part].push_back(cover.need);
  }
  std::vector<Lot> lots;
  for (auto& [part, needs] : by_part) {
    std::sort(needs.begin(), needs.end(), [](const Need& a, const Need& b) {
      return std::tie(a.needed_by, a.order) < std::tie(b.needed_by, b.order);
    });
    bool is_first = true;
    for (const Need& need : needs) {
      const bool is_near =
          !is_first && working_days_between(lots.back().needs.front().needed_by, need.needed_by,
                                            settings.closed) <= settings.together_days;
      if (!is_near) lots.push_back({.part = part, .needs = {}});
      lots.back().needs.push_back(need);
      lots.back().pieces += need.quantity;
      is_first = false;
    }
  }
  return lots;
}

/// A supplier's line as it could be bought, with its days in working days from today.
struct Candidate {
  const trade::Offer* offer = nullptr;
  int quantity = 1;
  int days = 0;    // until it is here at the confidence that each line of its kit would need alike
  int latest = 0;  // with that; negative: over
  int first = 0;   // 1 when today's cut-off is over
  int last = 0;    // on which it is bought at the latest, for money to lie the shortest; >= first

  [[nodiscard]] bool is_in_time() const { return first <= latest; }
};

class Buyer {
 public:
  Buyer(const BuyingInput& input, const BuyingSettings& settings)
      : input_(input), settings_(settings) {
    for (const trade::Offer& offer : input.offers) {
      if (!offer.breaks.empty()) offers_[offer.part].push_back(&offer);
    }
    for (const trade::Supplier& supplier : input.suppliers) {
      supplier_index_[supplier.id] = static_cast<int>(terms_.size());
      suppliers_.push_back(&supplier);
      terms_.push_back(terms_of(supplier));
    }
    starts_ = is_working_day(settings.today, settings.closed)
                  ? settings.today
                  : add_working_days(settings.today, 1, settings.closed);
    for (Lot& lot : lots_of(input.covers, settings)) {
      const bool is_sold = std::ranges::any_of(offers_[lot.part], [this](const auto* offer) {
        return supplier_index_.contains(offer->supplier);
      });
      if (is_sold) {
        lots_.push_back(std::move(lot));
      } else {
        plan_.no_offer.insert(plan_.no_offer.end(), lot.needs.begin(), lot.needs.end());
      }
    }
  }

  BuyingPlan plan() {
    find_alike();
    choose();
    time_kits();
    choose();
    gather();
    add_kits();
    return std::move(plan_);
  }

 private:
  std::map<trade::OrderId, std::vector<std::size_t>> kit_lines() const {
    std::map<trade::OrderId, std::vector<std::size_t>> lines;
    for (std::size_t i = 0; i < lots_.size(); ++i) {
      for (const Need& need : lots_[i].needs) {
        if (!need.may_follow) lines[need.order].push_back(i);
      }
    }
    return lines;
  }

  void find_alike() {
    for (const auto& [order, lines] : kit_lines()) {
      alike_[order] = std::pow(settings_.kit_confidence, 1 / static_cast<double>(lines.size()));
    }
  }

  /// When each lot is best ordered from whom it was first chosen from, for the kit that asks soonest.
  void time_kits() {
    for (const auto& [order, lots] : kit_lines()) {
      const Day day = day_needed(lots_[lots.front()], order);
      KitQuestion question{.parts = {}, .in_hand = 0,
                           .until = working_days_between(starts_, day, settings_.closed),
                           .confidence = settings_.kit_confidence};
      std::vector<DayOdds> odds;
      std::vector<KitPart> parts;
      for (const std::size_t lot : lots) {
        odds.push_back(input_.lead_times.odds(*chosen_[lot].offer));
        parts.push_back({.cost = cost_for(lot, order)});
      }
      add_under_way(order, question, odds, parts);
      for (std::size_t i = 0; i < parts.size(); ++i) parts[i].by = &odds[i].by;
      question.parts = std::move(parts);
      const KitDays days = kit_days(question);
      for (std::size_t i = 0; i < lots.size(); ++i) {
        const auto [best, is_new] = best_day_.try_emplace(lots[i], days.wait[i]);
        if (!is_new) best->second = std::min(best->second, days.wait[i]);
      }
    }
    first_chosen_ = chosen_;
  }

  double cost_for(std::size_t lot, const trade::OrderId& order) const {
    int pieces = 0;
    for (const Need& need : lots_[lot].needs) pieces += need.order == order ? need.quantity : 0;
    const Candidate& way = chosen_[lot];
    return static_cast<double>((unit_cost(*way.offer, way.quantity) * pieces).cents);
  }

  /// What is in hand for the kit, and what was asked for already.
  void add_under_way(const trade::OrderId& order, KitQuestion& question,
                     std::vector<DayOdds>& odds, std::vector<KitPart>& parts) const {
    for (const Cover& cover : input_.covers) {
      if (cover.need.order != order || cover.source == Source::kToBuy) continue;
      const auto offers = offers_.find(cover.need.part);
      const double cost = offers == offers_.end() ? 0 : static_cast<double>(
          (unit_cost(*offers->second.front(), cover.need.quantity) * cover.need.quantity).cents);
      const auto line = std::ranges::find(input_.purchases, cover.purchase,
                                          &trade::PurchaseLine::id);
      if (cover.source == Source::kShelf || line == input_.purchases.end()) {
        question.in_hand += cost;
      } else if (!cover.need.may_follow) {
        odds.push_back(input_.lead_times.left(*line, starts_, settings_.closed));
        parts.push_back({.cost = cost, .to_buy = false});
      }
    }
  }

  /// Lines of one supplier and calendar week are one delivery's luck.
  using Week = std::pair<trade::SupplierId, int>;
  Week week_of(const trade::SupplierId& supplier, Day day) const {
    return {supplier, static_cast<int>((day.time_since_epoch().count() + 3) / 7)};
  }
  Week week_of(std::size_t lot) const {
    return week_of(chosen_[lot].offer->supplier, day_of(bought_[lot].day));
  }

  double confidence_of(const Lot& lot) const {
    double confidence = settings_.kit_confidence;
    for (const Need& need : lot.needs) {
      const auto wanted = alike_.find(need.order);
      if (!need.may_follow && wanted != alike_.end()) {
        confidence = std::max(confidence, wanted->second);
      }
    }
    return confidence;
  }

  Day day_of(int index) const {
    return index == 0 ? starts_ : add_working_days(starts_, index, settings_.closed);
  }

  Candidate candidate(std::size_t i, const trade::Offer& offer) const {
    const Lot& lot = lots_[i];
    const auto supplier = static_cast<std::size_t>(supplier_index_.at(offer.supplier));
    const bool is_over = starts_ == settings_.today &&
                         settings_.minute >= suppliers_[supplier]->cut_off_minute;
    const int until =
        working_days_between(starts_, lot.needs.front().needed_by, settings_.closed);
    const int days = input_.lead_times.days(offer, confidence_of(lot));
    Candidate way{.offer = &offer, .quantity = cheapest_quantity(offer, lot.pieces),
                  .days = days, .latest = until - days, .first = is_over ? 1 : 0};
    const auto best = best_day_.find(i);
    // From another supplier as much sooner or later as its deliveries take longer or shorter.
    int last = best == best_day_.end() ? way.latest
                                       : best->second + first_chosen_[i].days - days;
    const bool is_for_kits_only = std::ranges::none_of(lot.needs, &Need::may_follow);
    if (!is_for_kits_only) last = std::min(last, way.latest);
    way.last = std::max(way.first, last);
    return way;
  }

  /// Those that keep the day; when nobody does, the soonest alone.
  std::vector<Candidate> candidates(std::size_t i) const {
    std::vector<Candidate> all;
    for (const trade::Offer* offer : offers_.at(lots_[i].part)) {
      if (supplier_index_.contains(offer->supplier)) all.push_back(candidate(i, *offer));
    }
    std::vector<Candidate> in_time;
    std::ranges::copy_if(all, std::back_inserter(in_time), &Candidate::is_in_time);
    if (!in_time.empty()) return in_time;
    return {*std::ranges::min_element(all, [](const Candidate& a, const Candidate& b) {
      return std::make_tuple(a.first + a.days, a.offer->supplier) <
             std::make_tuple(b.first + b.days, b.offer->supplier);
    })};
  }

  void choose() {
    BasketQuestion question{.suppliers = terms_, .lines = {},
                            .holding = settings_.holding_per_year / kWorkingDaysOfAYear};
    std::vector<std::vector<Candidate>> ways;
    for (std::size_t i = 0; i < lots_.size(); ++i) {
      ways.push_back(candidates(i));
      std::vector<BasketOption> options;
      for (const Candidate& way : ways.back()) {
        options.push_back({.supplier = supplier_index_.at(way.offer->supplier),
                           .latest = way.last,
                           .goods = unit_cost(*way.offer, way.quantity) * way.quantity});
      }
      question.lines.push_back(std::move(options));
    }
    const BasketAnswer answer = input_.solve(question);
    bought_ = answer.lines;
    chosen_.clear();
    for (std::size_t i = 0; i < lots_.size(); ++i) {
      chosen_.push_back(ways[i][static_cast<std::size_t>(bought_[i].option)]);
    }
    plan_.cost = answer.cost;
    plan_.when_needed = answer.when_needed;
    plan_.proven = answer.proven;
  }

  PurchaseProposal proposal(std::size_t i) const {
    const Lot& lot = lots_[i];
    const Candidate& way = chosen_[i];
    const Day needed = lot.needs.front().needed_by;
    const DayOdds odds = input_.lead_times.odds(*way.offer);
    const int left = working_days_between(starts_, needed, settings_.closed) - way.first;
    const bool too_late = within(odds, left) < settings_.kit_confidence;
    PurchaseProposal line{.supplier = way.offer->supplier, .part = lot.part, .needed = lot.pieces,
                          .quantity = way.quantity, .orders = {},
                          .needed_by = needed,
                          .order_by = day_of_latest(too_late ? way.latest : way.last),
                          .buy_on = day_of(bought_[i].day),
                          .too_late = too_late,
                          .unit_cost = unit_cost(*way.offer, way.quantity),
                          .odds = odds,
                          .basis = in_words(input_.lead_times.evidence(*way.offer)),
                          .confidence = 0};
    for (const Need& need : lot.needs) {
      if (need.order.empty()) {
        line.for_stock += need.quantity;
      } else {
        line.orders.push_back(need.order);
      }
    }
    line.in_time = in_time(line, line.buy_on, line.needed_by);
    line.confidence = line.too_late ? confidence_of(lot)
                                    : in_time(line, line.order_by, line.needed_by);
    return line;
  }
  Day day_of_latest(int index) const {
    return index >= 0 ? day_of(index) : add_working_days(starts_, index, settings_.closed);
  }
  double in_time(const PurchaseProposal& line, Day bought, Day needed) const {
    return within(line.odds, working_days_between(bought, needed, settings_.closed));
  }

  void gather() {
    std::map<std::pair<Day, trade::SupplierId>, SupplierBasket> baskets;
    for (std::size_t i = 0; i < lots_.size(); ++i) {
      PurchaseProposal line = proposal(i);
      SupplierBasket& basket = baskets[{line.buy_on, line.supplier}];
      basket.supplier = line.supplier;
      basket.day = line.buy_on;
      basket.goods += line.unit_cost * line.quantity;
      lines_.push_back(line);
      basket.lines.push_back(std::move(line));
    }
    for (auto& [which, basket] : baskets) {
      const BasketTerms& terms =
          terms_[static_cast<std::size_t>(supplier_index_.at(basket.supplier))];
      basket.surcharge = basket.goods < terms.minimum ? terms.charge : Money{};
      basket.freight = extra_for(terms, basket.goods) - basket.surcharge;
      std::sort(basket.lines.begin(), basket.lines.end(), [](const auto& a, const auto& b) {
        return std::tie(a.order_by, a.part) < std::tie(b.order_by, b.part);
      });
      plan_.baskets.push_back(std::move(basket));
    }
  }

  struct KitLine {
    trade::PartId part;
    Week week;
    double there = 0;
  };

  void add_kits() {
    std::map<trade::OrderId, std::vector<KitLine>> kits;
    std::map<trade::OrderId, KitOdds> odds;
    for (const auto& [order, lines] : kit_lines()) {
      for (const std::size_t line : lines) {
        const Day day = day_needed(lots_[line], order);
        const PurchaseProposal& bought = lines_[line];
        kits[order].push_back({bought.part, week_of(line), in_time(bought, bought.buy_on, day)});
        KitOdds& kit = odds[order];
        kit.day = day;
        ++kit.to_buy;
      }
    }
    for (const Cover& cover : input_.covers) {
      if (cover.source != Source::kPurchase || cover.need.may_follow) continue;
      const auto line = std::ranges::find(input_.purchases, cover.purchase,
                                          &trade::PurchaseLine::id);
      if (line == input_.purchases.end()) continue;
      const int until =
          working_days_between(settings_.today, cover.need.needed_by, settings_.closed);
      const DayOdds left = input_.lead_times.left(*line, settings_.today, settings_.closed);
      kits[cover.need.order].push_back(
          {cover.need.part, week_of(line->supplier, line->placed), within(left, until)});
      KitOdds& kit = odds[cover.need.order];
      kit.day = cover.need.needed_by;
      ++kit.under_way;
    }
    for (auto& [order, kit] : odds) {
      kit.order = order;
      reckon(kit, kits[order]);
      plan_.kits.push_back(kit);
    }
    std::sort(plan_.kits.begin(), plan_.kits.end(), [](const KitOdds& a, const KitOdds& b) {
      return std::tie(a.day, a.order) < std::tie(b.day, b.order);
    });
  }

  static Day day_needed(const Lot& lot, const trade::OrderId& order) {
    for (const Need& need : lot.needs) {
      if (need.order == order) return need.needed_by;
    }
    return lot.needs.front().needed_by;
  }

  void reckon(KitOdds& kit, const std::vector<KitLine>& lines) const {
    std::map<Week, LateTogether> weeks;
    for (const KitLine& line : lines) {
      LateTogether& week = weeks[line.week];
      week.correlation = input_.lead_times.late_together(line.week.first);
      week.there.push_back(line.there);
      if (line.there < kit.weakest_there || kit.weakest.empty()) {
        kit.weakest = line.part;
        kit.weakest_there = line.there;
      }
    }
    std::vector<LateTogether> groups;
    for (auto& [week, group] : weeks) groups.push_back(std::move(group));
    kit.complete = all_there(groups);
  }

  const BuyingInput& input_;
  const BuyingSettings& settings_;
  Day starts_ = {};  // the first working day, today if it is one
  std::map<trade::PartId, std::vector<const trade::Offer*>> offers_;
  std::map<trade::SupplierId, int> supplier_index_;
  std::vector<const trade::Supplier*> suppliers_;
  std::vector<BasketTerms> terms_;
  std::vector<Lot> lots_;
  std::map<trade::OrderId, double> alike_;  // chance that each line of a kit would need alike
  std::map<std::size_t, int> best_day_;     // by lot
  std::vector<Candidate> first_chosen_;     // by lot, for which those are
  std::vector<Candidate> chosen_;           // by lot
  std::vector<BoughtLine> bought_;          // by lot
  std::vector<PurchaseProposal> lines_;
  BuyingPlan plan_;
};

}  // namespace

Money unit_cost(const trade::Offer& offer, int quantity) {
  ROLLWRIGHT_PROMISE(!offer.breaks.empty());
  Money cost = offer.breaks.front().unit_cost;
  for (const trade::PriceBreak& step : offer.breaks) {
    if (step.from_quantity <= quantity) cost = step.unit_cost;
  }
  return cost;
}

int in_packs(const trade::Offer& offer, int quantity) {
  const int pack = std::max(1, offer.pack);
  return (quantity + pack - 1) / pack * pack;
}

int cheapest_quantity(const trade::Offer& offer, int needed) {
  int best = in_packs(offer, needed);
  for (const trade::PriceBreak& step : offer.breaks) {
    if (step.from_quantity <= needed) continue;
    const int more = in_packs(offer, step.from_quantity);
    if (unit_cost(offer, more) * more < unit_cost(offer, best) * best) best = more;
  }
  return best;
}

BuyingPlan plan_buying(const BuyingInput& input, const BuyingSettings& settings) {
  return Buyer(input, settings).plan();
}

}  // namespace rollwright::supply
