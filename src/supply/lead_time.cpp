#include "supply/lead_time.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/working_days.hpp"

namespace rollwright::supply {
namespace {

/// So many receipts count as much as what was believed before.
constexpr double kPriorWeight = 4;
/// Nobody delivers within half a working day.
constexpr double kLeastDays = 0.5;
/// What is believed of a group that has no row of its own: a week, give or take.
const trade::Spread kUnknownGroup{.least = 0, .median = 5, .sigma = 0.7, .basis = "no history"};

double log_days(int working_days) {
  return std::log(std::max(kLeastDays, static_cast<double>(working_days)));
}

const trade::Spread& row_for(const trade::LeadTimePrior& prior, const std::string& availability) {
  if (availability == "importer") return prior.importer;
  if (availability == "made") return prior.made;
  return prior.stocked;
}

}  // namespace

void LeadTimes::Cell::add(double x) {
  ++count;
  const double step = x - mean;
  mean += step / count;
  squares += step * (x - mean);
}

LeadTimes::LeadTimes(const std::map<std::string, trade::LeadTimePrior>& priors,
                     const std::map<trade::PartId, std::string>& group_of,
                     const std::vector<trade::Receipt>& receipts)
    : priors_(priors), group_of_(group_of) {
  for (const trade::Receipt& receipt : receipts) {
    const auto group = group_of_.find(receipt.part);
    if (group == group_of_.end() || receipt.received < receipt.ordered) continue;
    const double x = log_days(working_days_between(receipt.ordered, receipt.received));
    cells_[{receipt.supplier, group->second}].add(x);
    const auto prior = priors_.find(group->second);
    const trade::Spread& believed =
        prior == priors_.end() ? kUnknownGroup : prior->second.stocked;
    against_prior_[receipt.supplier].add(
        x - std::log(std::max(kLeastDays, believed.least + believed.median)));
    if (receipt.promised) {
      const int late = std::max(0, working_days_between(*receipt.promised, receipt.received));
      lateness_[receipt.supplier].add(std::log1p(late));
      all_lateness_.add(std::log1p(late));
    }
  }
}

trade::Spread LeadTimes::of(const trade::Offer& offer) const {
  const auto group = group_of_.find(offer.part);
  const std::string group_name = group == group_of_.end() ? "" : group->second;
  const auto prior = priors_.find(group_name);
  const trade::Spread& believed =
      prior == priors_.end() ? kUnknownGroup : row_for(prior->second, offer.availability);
  double mean = std::log(std::max(kLeastDays, believed.least + believed.median));
  double variance = believed.sigma * believed.sigma;
  std::string basis = fmt::format("usual for {}", group_name.empty() ? "such parts" : group_name);

  const auto general = against_prior_.find(offer.supplier);
  if (general != against_prior_.end()) {
    const double weight = general->second.count / (general->second.count + kPriorWeight);
    mean += weight * general->second.mean;
    basis = fmt::format("{} receipts from this supplier, none of {}", general->second.count,
                        group_name);
  }
  // What is made to order or comes from the importer says nothing about the shelf, and the other
  // way round; receipts are taken as the supplier's ordinary way with the group.
  const auto cell = cells_.find({offer.supplier, group_name});
  if (cell != cells_.end() && offer.availability == "stocked") {
    const Cell& seen = cell->second;
    const double weight = seen.count / (seen.count + kPriorWeight);
    mean += weight * (seen.mean - mean);
    variance = (kPriorWeight * variance + seen.squares) / (kPriorWeight + seen.count);
    basis = fmt::format("{} receipts of {} from this supplier", seen.count, group_name);
  }
  return {.least = 0, .median = std::exp(mean), .sigma = std::sqrt(variance), .basis = basis};
}

trade::Spread LeadTimes::after_confirmed(const trade::SupplierId& supplier) const {
  // Believed before any history: a day late at the middle, with a long tail (common practice:
  // a supplier's day is a hope).
  double mean = std::log1p(1.0);
  double variance = 0.5;
  int count = 0;
  const auto learn = [&](const Cell& cell) {
    const double weight = cell.count / (cell.count + kPriorWeight);
    mean += weight * (cell.mean - mean);
    variance = (kPriorWeight * variance + cell.squares) / (kPriorWeight + cell.count);
    count = cell.count;
  };
  if (all_lateness_.count > 0) learn(all_lateness_);
  const auto own = lateness_.find(supplier);
  count = 0;
  if (own != lateness_.end()) learn(own->second);
  // 1 + days late is lognormal, so the least of the shifted lognormal is minus one day.
  return {.least = -1, .median = std::exp(mean), .sigma = std::sqrt(variance),
          .basis = fmt::format("{} confirmed deliveries from this supplier", count)};
}

}  // namespace rollwright::supply
