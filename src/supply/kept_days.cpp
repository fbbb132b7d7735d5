#include "supply/kept_days.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/working_days.hpp"

namespace rollwright::supply {
namespace {

constexpr int kMostEarly = 60;
constexpr double kWeight = 6;
constexpr std::array<int, 2> kAhead = {5, 15};       // working days; ends of the first two classes
constexpr std::array<double, 3> kLateMiddle = {1, 2, 4};

std::size_t class_of(int ahead) {
  return ahead <= kAhead[0] ? 0 : ahead <= kAhead[1] ? 1 : 2;
}

/// Shares of the days from kMostEarly early to kOddsDays late.
using Shares = std::vector<double>;
std::size_t place_of(int late) {
  return static_cast<std::size_t>(std::clamp(late, -kMostEarly, kOddsDays) + kMostEarly);
}

double late_below(double days, double middle) {
  return days <= 0 ? 0 : 0.5 * std::erfc(-std::log(days / middle) / std::numbers::sqrt2);
}

Shares believed_before(std::size_t which) {
  constexpr double kEarly = 0.15;
  constexpr double kOnTheDay = 0.35;
  Shares shares(place_of(kOddsDays) + 1, 0);
  // Early by one day half as often as by less, and so on: by two days in the mean.
  double left = kEarly;
  for (int early = 1; early < kMostEarly; ++early) {
    shares[place_of(-early)] = left / 2;
    left /= 2;
  }
  shares[place_of(0)] = kOnTheDay;
  const double middle = kLateMiddle[which] + 0.5;  // counted in whole days, rounded up
  for (int late = 1; late <= kOddsDays; ++late) {
    shares[place_of(late)] = (1 - kEarly - kOnTheDay) *
                             (late_below(late, middle) - late_below(late - 1, middle));
  }
  return shares;
}

void weigh_in(Shares& shares, const std::map<int, int>& seen) {
  double count = 0;
  for (const auto& [late, receipts] : seen) count += receipts;
  for (double& share : shares) share *= kWeight / (count + kWeight);
  for (const auto& [late, receipts] : seen) shares[place_of(late)] += receipts / (count + kWeight);
}

}  // namespace

KeptDays::KeptDays(const std::vector<trade::Receipt>& receipts) {
  for (const trade::Receipt& receipt : receipts) {
    if (!receipt.promised || receipt.received < receipt.ordered) continue;
    const int ahead = working_days_between(receipt.ordered, *receipt.promised);
    const int late = working_days_between(*receipt.promised, receipt.received);
    ++seen_[class_of(ahead)][receipt.supplier][late];
  }
}

int KeptDays::count(const trade::SupplierId& supplier, int ahead) const {
  const auto& seen = seen_[class_of(ahead)];
  const auto own = seen.find(supplier);
  int count = 0;
  if (own != seen.end()) {
    for (const auto& [late, receipts] : own->second) count += receipts;
  }
  return count;
}

DayOdds KeptDays::until_here(const trade::SupplierId& supplier, int ahead, int until) const {
  const std::size_t which = class_of(ahead);
  Counts others;
  for (const auto& [id, counts] : seen_[which]) {
    if (id == supplier) continue;
    for (const auto& [late, receipts] : counts) others[late] += receipts;
  }
  Shares shares = believed_before(which);
  weigh_in(shares, others);
  const auto own = seen_[which].find(supplier);
  if (own != seen_[which].end()) weigh_in(shares, own->second);

  // Day k from today is k - until days late; what should have come by today has not.
  DayOdds odds{.by = {0.0}};
  double left = 0;
  for (int late = -kMostEarly; late <= kOddsDays; ++late) {
    if (late > -until) left += shares[place_of(late)];
  }
  double sum = 0;
  for (int days = 1; days <= kOddsDays; ++days) {
    const int late = days - until;
    if (-kMostEarly <= late && late <= kOddsDays) sum += shares[place_of(late)];
    odds.by.push_back(left > 0 ? std::min(1.0, sum / left) : 0);
  }
  return odds;
}

}  // namespace rollwright::supply
