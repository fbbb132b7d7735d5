#include "supply/loans.hpp"

#include <algorithm>
#include <tuple>

#include "base/working_days.hpp"

namespace rollwright::supply {
namespace {

double here_by(const DayOdds& left, Day day, const LoanSettings& settings) {
  return within(left, working_days_between(settings.today, day, settings.closed));
}

/// Lenders of a part, the one who needs it last first.
std::vector<Cover*> in_the_house(std::vector<Cover>& covers, const Cover& wanting) {
  std::vector<Cover*> held;
  for (Cover& cover : covers) {
    if (cover.source == Source::kShelf && cover.need.part == wanting.need.part &&
        cover.need.order != wanting.need.order &&
        cover.need.needed_by > wanting.need.needed_by) {
      held.push_back(&cover);
    }
  }
  std::sort(held.begin(), held.end(), [](const Cover* a, const Cover* b) {
    return std::tie(b->need.needed_by, a->need.order) < std::tie(a->need.needed_by, b->need.order);
  });
  return held;
}

}  // namespace

std::vector<Loan> possible_loans(const std::vector<Cover>& covers,
                                 const std::vector<trade::PurchaseLine>& purchases,
                                 const LeadTimes& lead_times, const LoanSettings& settings) {
  std::vector<Cover> left_to_lend = covers;
  std::vector<Cover> waiting;
  std::ranges::copy_if(covers, std::back_inserter(waiting), [](const Cover& cover) {
    return cover.source == Source::kPurchase && !cover.need.may_follow;
  });
  std::sort(waiting.begin(), waiting.end(), [](const Cover& a, const Cover& b) {
    return std::tie(a.need.needed_by, a.need.order, a.need.part) <
           std::tie(b.need.needed_by, b.need.order, b.need.part);
  });
  std::vector<Loan> loans;
  for (const Cover& cover : waiting) {
    const auto line = std::ranges::find(purchases, cover.purchase, &trade::PurchaseLine::id);
    if (line == purchases.end()) continue;
    const DayOdds left = lead_times.left(*line, settings.today, settings.closed);
    const double without = here_by(left, cover.need.needed_by, settings);
    if (without >= settings.confidence) continue;
    for (Cover* held : in_the_house(left_to_lend, cover)) {
      const double back = here_by(left, held->need.needed_by, settings);
      if (held->need.quantity < cover.need.quantity || back < settings.confidence) continue;
      held->need.quantity -= cover.need.quantity;
      loans.push_back({.part = cover.need.part, .quantity = cover.need.quantity,
                       .lender = held->need.order, .borrower = cover.need.order,
                       .lender_needs = held->need.needed_by,
                       .borrower_needs = cover.need.needed_by, .replacement = line->id,
                       .without = without, .replaced_in_time = back});
      break;
    }
  }
  return loans;
}

}  // namespace rollwright::supply
