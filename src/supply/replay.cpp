#include "supply/replay.hpp"

#include <algorithm>
#include <chrono>

#include "base/working_days.hpp"

namespace rollwright::supply {
namespace {

int month_of(Day day) {
  const std::chrono::year_month_day date(day);
  return static_cast<int>(date.year()) * 12 + static_cast<int>(unsigned{date.month()});
}

std::vector<trade::Receipt> received_before(int month, const std::vector<trade::Receipt>& all) {
  std::vector<trade::Receipt> past;
  std::ranges::copy_if(all, std::back_inserter(past), [month](const trade::Receipt& receipt) {
    return month_of(receipt.received) < month;
  });
  return past;
}

}  // namespace

std::vector<ReplayedDelivery> replay_deliveries(
    const std::map<std::string, trade::LeadTimePrior>& priors,
    const std::map<trade::PartId, std::string>& group_of,
    const std::vector<trade::Receipt>& receipts, const std::vector<trade::Offer>& offers,
    Day from) {
  std::map<std::pair<trade::SupplierId, trade::PartId>, const trade::Offer*> offer_of;
  for (const trade::Offer& offer : offers) offer_of[{offer.supplier, offer.part}] = &offer;
  std::map<int, std::vector<const trade::Receipt*>> months;
  for (const trade::Receipt& receipt : receipts) {
    if (receipt.ordered >= from && receipt.received >= receipt.ordered &&
        offer_of.contains({receipt.supplier, receipt.part})) {
      months[month_of(receipt.ordered)].push_back(&receipt);
    }
  }
  std::vector<ReplayedDelivery> replayed;
  for (const auto& [month, of_month] : months) {
    const LeadTimes learned(priors, group_of, received_before(month, receipts), offers);
    for (const trade::Receipt* receipt : of_month) {
      const trade::Offer& offer = *offer_of.at({receipt->supplier, receipt->part});
      const int days = std::max(1, working_days_between(receipt->ordered, receipt->received));
      const DayOdds odds = learned.delivery(offer);
      ReplayedDelivery one{.receipt = receipt, .days = days, .below = within(odds, days - 1)};
      one.on_day = within(odds, days) - one.below;
      replayed.push_back(one);
    }
  }
  return replayed;
}

}  // namespace rollwright::supply
