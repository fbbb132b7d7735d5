#include "supply/stock_list.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "base/working_days.hpp"
#include "supply/buying.hpp"

namespace rollwright::supply {
namespace {

constexpr double kStockConfidence = 0.90;
constexpr double kDaysOfAYear = 250;
constexpr double kDaysOfAWeek = 5;
constexpr int kMostPieces = 200;  // of one occasion; more is no small stock

struct Use {
  std::map<int, int> by_pieces;  // occasions that took so many
  int occasions = 0;
  int pieces = 0;
  Day since = Day::max();
};

std::map<trade::PartId, Use> use_of(const StockQuestion& question, const StockTerms& terms) {
  std::map<trade::PartId, Use> uses;
  const Day first = add_working_days(question.today, -terms.window_days, question.closed);
  for (const trade::Used& used : question.used) {
    if (used.day < first || used.day > question.today || used.quantity > kMostPieces) continue;
    Use& use = uses[used.part];
    ++use.by_pieces[used.quantity];
    ++use.occasions;
    use.pieces += used.quantity;
    use.since = std::min(use.since, used.day);
  }
  return uses;
}

const trade::Offer* cheapest(const std::vector<trade::Offer>& offers, const trade::PartId& part) {
  const trade::Offer* best = nullptr;
  for (const trade::Offer& offer : offers) {
    if (offer.part != part || offer.breaks.empty()) continue;
    if (best == nullptr || unit_cost(offer, 1) < unit_cost(*best, 1)) best = &offer;
  }
  return best;
}

SmallStock stock_of(const StockQuestion& question, const StockTerms& terms, const Use& use,
                    const trade::Offer& offer) {
  const int days = std::max(1, working_days_between(use.since, question.today, question.closed));
  SmallStock stock{.occasions_per_day = std::clamp(use.occasions / static_cast<double>(days),
                                                   0.001, 20.0),
                   .pieces = {},
                   .lead = question.lead_times.odds(offer),
                   .order_cost = static_cast<double>(terms.order_cost.cents),
                   .holding_per_day = static_cast<double>(unit_cost(offer, 1).cents) *
                                      terms.holding_per_year / kDaysOfAYear,
                   .lacking_per_day = static_cast<double>(terms.lacking_per_day.cents)};
  stock.pieces.assign(static_cast<std::size_t>(use.by_pieces.rbegin()->first), 0);
  for (const auto& [pieces, occasions] : use.by_pieces) {
    stock.pieces[static_cast<std::size_t>(pieces - 1)] =
        occasions / static_cast<double>(use.occasions);
  }
  return stock;
}

void count_held(const StockQuestion& question, StockLine& line) {
  for (const trade::Stock& stock : question.stock) {
    if (stock.part != line.part) continue;
    line.free = trade::free_pieces(stock);
  }
  std::map<std::string, bool> is_free;
  for (const trade::PurchaseLine& purchase : question.purchases) {
    if (purchase.part != line.part || purchase.order) continue;
    is_free[purchase.id] = true;
    line.under_way += trade::pieces_to_come(purchase);
  }
  line.on_shelf = line.free;
  for (const Cover& cover : question.covers) {
    if (cover.need.part != line.part) continue;
    const bool of_shelf = cover.source == Source::kShelf && !cover.put_by;
    if (of_shelf) line.on_shelf -= cover.need.quantity;
    if (of_shelf || is_free.contains(cover.purchase)) line.taken += cover.need.quantity;
  }
}

void look_ahead(const StockQuestion& question, const SmallStock& stock, StockLine& line) {
  DayOdds until = stock.lead;
  for (const trade::PurchaseLine& purchase : question.purchases) {
    if (purchase.part != line.part || purchase.order || trade::pieces_to_come(purchase) == 0) {
      continue;
    }
    DayOdds left = question.lead_times.left(purchase, question.today, question.closed);
    if (!line.next.empty() && days_for(until, 0.5) <= days_for(left, 0.5)) continue;
    line.next = purchase.id;
    until = std::move(left);
  }
  line.next_days = days_for(until, 0.9);
  if (const auto lacking = chance_lacking(stock, std::max(0, line.on_shelf), until)) {
    line.run_out = *lacking;
  }
}

}  // namespace

std::vector<StockLine> stock_lines(const StockQuestion& question, const StockTerms& terms) {
  std::vector<StockLine> lines;
  for (const auto& [part, use] : use_of(question, terms)) {
    const trade::Offer* offer = cheapest(question.offers, part);
    if (offer == nullptr || use.occasions < terms.fewest_occasions) continue;
    const SmallStock stock = stock_of(question, terms, use, *offer);
    const Result<StockLevels> levels = best_levels(stock);
    if (!levels) continue;  // it costs more to keep than to lack, or never comes
    const Result<StockCourse> course = course_of(stock, *levels);
    if (!course) continue;
    StockLine line{.part = part, .supplier = offer->supplier, .levels = *levels,
                   .at_hand = course->at_hand, .occasions = use.occasions, .pieces = use.pieces,
                   .since = use.since,
                   .per_week = kDaysOfAWeek * stock.occasions_per_day * use.pieces / use.occasions,
                   .next = {}, .run_out = {}};
    count_held(question, line);
    look_ahead(question, stock, line);
    const int position = line.free + line.under_way - line.taken;
    if (position <= levels->at) line.to_buy = in_packs(*offer, levels->up_to - position);
    lines.push_back(std::move(line));
  }
  return lines;
}

std::vector<Cover> stock_needs(const std::vector<StockLine>& lines,
                               const StockQuestion& question) {
  std::vector<Cover> needs;
  for (const StockLine& line : lines) {
    if (line.to_buy == 0) continue;
    const trade::Offer* offer = cheapest(question.offers, line.part);
    const int days = question.lead_times.days(*offer, kStockConfidence);
    Cover cover{.need = {.order = {}, .part = line.part, .quantity = line.to_buy,
                         .needed_by = add_working_days(question.today, days + 1, question.closed),
                         .may_follow = true},
                .source = Source::kToBuy};
    needs.push_back(std::move(cover));
  }
  return needs;
}

std::string used_of(const StockLine& line) {
  return fmt::format("{} used on {} occasions since {}", line.pieces, line.occasions,
                     rollwright::in_words(line.since, true));
}

std::string why_of(const StockLine& line) {
  return fmt::format("{} free and under way; at {} or fewer it is bought up to {}: {}",
                     line.free + line.under_way - line.taken, line.levels.at, line.levels.up_to,
                     used_of(line));
}

}  // namespace rollwright::supply
