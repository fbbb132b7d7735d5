#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/shop.hpp"
#include "shop/small_stock.hpp"
#include "shop/supply_side.hpp"
#include "supply/cut_off.hpp"
#include "supply/loans.hpp"

namespace rollwright::shop {
namespace {

/// A kit is wanted complete in 97 of 100 cases: promises are told at 90 in 100, and the bench may be
/// late as well.
constexpr double kKitConfidence = 0.97;

using WhyForStock = std::map<trade::PartId, std::string>;

std::string article_of(const State& state, const supply::PurchaseProposal& proposal) {
  const trade::Offer* offer = offer_of(state, proposal.supplier, proposal.part);
  return offer == nullptr ? std::string() : offer->article;
}

BuyLine line_view(const State& state, const supply::PurchaseProposal& proposal,
                  const WhyForStock& why) {
  BuyLine line{.part = proposal.part.text,
               .name = state.name_of(proposal.part),
               .article = article_of(state, proposal),
               .quantity = proposal.quantity,
               .needed = proposal.needed,
               .orders = {},
               .order_by = proposal.order_by,
               .buy_on = proposal.buy_on,
               .needed_by = proposal.needed_by,
               .too_late = proposal.too_late,
               .in_time = proposal.in_time,
               .unit_cost_cents = proposal.unit_cost.cents,
               .total_cents = (proposal.unit_cost * proposal.quantity).cents,
               .lead_days_50 = supply::days_for(proposal.odds, 0.5),
               .lead_days_90 = supply::days_for(proposal.odds, 0.9),
               .why = {},
               .basis = proposal.basis};
  for (const trade::OrderId& order : proposal.orders) line.orders.push_back(order.text);
  if (proposal.for_stock > 0) line.why = why.at(proposal.part);
  return line;
}

std::string note_for(const trade::Supplier& supplier, const supply::SupplierBasket& basket,
                     const std::string& currency) {
  std::vector<std::string> notes;
  if (basket.surcharge.cents > 0) {
    notes.push_back(fmt::format("below the minimum of {} {}: {} {} extra",
                                shown(supplier.minimum_order), currency,
                                shown(basket.surcharge), currency));
  }
  if (basket.freight.cents > 0 && supplier.free_freight_over.cents > 0) {
    notes.push_back(fmt::format("{} {} more and freight is free",
                                shown(supplier.free_freight_over - basket.goods), currency));
  }
  return join(notes, "; ");
}

BuyGroup group_view(const State& state, const supply::SupplierBasket& basket,
                    const LocalTime& now, const WhyForStock& why) {
  BuyGroup group{
      .supplier = basket.supplier.text, .name = basket.supplier.text, .day = basket.day};
  for (const supply::PurchaseProposal& line : basket.lines) {
    group.lines.push_back(line_view(state, line, why));
  }
  group.goods_cents = basket.goods.cents;
  group.freight_cents = basket.freight.cents;
  group.surcharge_cents = basket.surcharge.cents;
  const auto supplier = state.suppliers.find(basket.supplier);
  if (supplier != state.suppliers.end()) {
    const trade::Supplier& known = *supplier->second;
    group.name = known.name;
    group.cut_off = fmt::format("{}:{:02}", known.cut_off_minute / 60, known.cut_off_minute % 60);
    const supply::CutOff clock =
        supply::cut_off_of(known, now.day, now.minute, state.settings.closed);
    group.dispatch = clock.dispatch;
    group.minutes_left = clock.minutes_left;
    group.clock = clock.words;
    group.note = note_for(known, basket, state.settings.currency);
  }
  return group;
}

KitView kit_view(const State& state, const supply::KitOdds& kit) {
  return {.order = kit.order.text,
          .day = kit.day,
          .to_buy = kit.to_buy,
          .under_way = kit.under_way,
          .complete = kit.complete,
          .weakest = kit.weakest.text,
          .weakest_name = state.name_of(kit.weakest),
          .weakest_there = kit.weakest_there};
}

int in_100(double chance) { return static_cast<int>(chance * 100 + 0.5); }

std::string loan_sentence(const State& state, const supply::Loan& loan) {
  return fmt::format(
      "Order {} could borrow {} of {} from order {}: its own ({}) is here by {} in {} of 100, and "
      "by {}, when order {} needs it, in {} of 100. Give {} the name of order {} if you do.",
      loan.borrower.text, loan.quantity, state.name_of(loan.part), loan.lender.text,
      loan.replacement, in_short(loan.borrower_needs), in_100(loan.without),
      in_short(loan.lender_needs), loan.lender.text, in_100(loan.replaced_in_time),
      loan.replacement, loan.lender.text);
}

std::string saving_sentence(const BuyView& view, const std::string& currency) {
  std::string text = fmt::format(" All orders together cost {} {} with freight and charges",
                                 shown(Money{view.cost_cents}), currency);
  const std::int64_t saved = view.when_needed_cents - view.cost_cents;
  if (saved > 0) {
    text += fmt::format(", {} {} less than each line bought by itself when needed",
                        shown(Money{saved}), currency);
  }
  return text + (view.proven ? "; nothing costs less." : ".");
}

std::string sentence_for(const BuyView& view, Day today, const std::string& currency) {
  int now = 0;
  int late = 0;
  int lines = 0;
  for (const BuyGroup& group : view.groups) {
    for (const BuyLine& line : group.lines) {
      ++lines;
      if (line.too_late) ++late;
      if (line.buy_on <= today) ++now;
    }
  }
  if (lines == 0) return "Nothing has to be bought for the agreed orders.";
  std::string text =
      fmt::format("{} {} to buy in {} {}.", lines, lines == 1 ? "line" : "lines",
                  view.groups.size(), view.groups.size() == 1 ? "order" : "orders");
  if (now > 0) {
    text += fmt::format(" {} {} best ordered today, before the cut-off.", now,
                        now == 1 ? "is" : "are");
  }
  if (late > 0) {
    text += fmt::format(" {} cannot be there in time any more with 97 kits in 100 complete, "
                        "even if ordered at once.",
                        late);
  }
  return text + saving_sentence(view, currency);
}

}  // namespace

Result<BuyView> Shop::buy() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const State& held = **current;
  std::vector<supply::Cover> covers = covers_of(trade_, held, time->day);
  const auto lead_times = lead_times_of(trade_, held);
  const supply::StockQuestion of_stock = stock_question(held, covers, *lead_times, time->day);
  const std::vector<supply::StockLine> stock = supply::stock_lines(of_stock);
  WhyForStock why;
  for (const supply::StockLine& line : stock) why[line.part] = supply::why_of(line);
  const std::vector<supply::Cover> for_shelf = supply::stock_needs(stock, of_stock);
  covers.insert(covers.end(), for_shelf.begin(), for_shelf.end());
  const supply::BuyingPlan plan = supply::plan_buying(
      {covers, held.held.offers, held.held.suppliers, held.held.purchases, *lead_times,
       [this](const supply::BasketQuestion& question) { return baskets_.answer(question); }},
      {.today = time->day, .minute = time->minute, .kit_confidence = kKitConfidence,
       .closed = held.settings.closed});
  BuyView view{.sentence = {}, .groups = {}, .kits = {}, .loans = {}, .no_offer = {},
               .cost_cents = plan.cost.cents, .when_needed_cents = plan.when_needed.cents,
               .proven = plan.proven};
  for (const supply::SupplierBasket& basket : plan.baskets) {
    view.groups.push_back(group_view(held, basket, *time, why));
  }
  for (const supply::KitOdds& kit : plan.kits) view.kits.push_back(kit_view(held, kit));
  for (const supply::Loan& loan :
       supply::possible_loans(covers, held.held.purchases, *lead_times,
                              {.today = time->day, .confidence = kKitConfidence,
                               .closed = held.settings.closed})) {
    view.loans.push_back(loan_sentence(held, loan));
  }
  for (const supply::Need& need : plan.no_offer) {
    view.no_offer.push_back(fmt::format("{} for order {}: no supplier on file sells it",
                                        held.name_of(need.part), need.order.text));
  }
  view.sentence = sentence_for(view, time->day, held.settings.currency);
  return view;
}

}  // namespace rollwright::shop
