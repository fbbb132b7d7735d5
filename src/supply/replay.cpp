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

/// What was known on the eve of a month: what had come, and what was still open.
struct Known {
  std::vector<trade::Receipt> receipts;
  std::vector<StillOpen> open;
};

Known known_before(int month, const std::vector<trade::Receipt>& all) {
  const std::chrono::year_month_day first(std::chrono::year((month - 1) / 12),
                                          std::chrono::month(static_cast<unsigned>(month - 1) % 12 + 1),
                                          std::chrono::day(1));
  const Day eve = std::chrono::sys_days(first) - std::chrono::days(1);
  Known known;
  for (const trade::Receipt& receipt : all) {
    if (receipt.received <= eve) {
      known.receipts.push_back(receipt);
    } else if (receipt.ordered <= eve) {
      known.open.push_back({receipt.supplier, receipt.part, receipt.ordered, eve});
    }
  }
  return known;
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
    const Known known = known_before(month, receipts);
    const LeadTimes learned(priors, group_of, known.receipts, offers, {}, known.open);
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
