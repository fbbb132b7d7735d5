#pragma once

#include <map>
#include <string>
#include <vector>

#include "trade/supplier.hpp"
#include "trade/trade.hpp"

namespace rollwright::supply {

/// How long deliveries take, learned from what came: one spread of working days per supplier and
/// group of part kinds.
///
/// Method:   logarithms of the working days of good receipts are normal within a cell (supplier,
///           group). The mean of a cell is shrunk to its supplier's general lateness against the
///           priors, which is itself shrunk to the priors: few receipts say little. Weights are
///           n / (n + 4): four receipts count as much as what was believed before. The sigma is
///           pooled with the prior's in the same way.
/// Source:   shrinkage as in any text on empirical Bayes (from memory); the weight 4 is our choice.
/// Ignores:  season and trend; deliveries in parts.
/// Accuracy: tested by recovery from simulated receipts.
class LeadTimes {
 public:
  /// `group_of` gives the lead-time group of each part.
  LeadTimes(const std::map<std::string, trade::LeadTimePrior>& priors,
            const std::map<trade::PartId, std::string>& group_of,
            const std::vector<trade::Receipt>& receipts);

  /// Working days from placing the order to goods-in for this offer.
  [[nodiscard]] trade::Spread of(const trade::Offer& offer) const;

  /// How much later than confirmed this supplier delivers, in working days, as a spread around the
  /// confirmed day (from the supplier's receipts with a promise; few data shrunk to all suppliers').
  [[nodiscard]] trade::Spread after_confirmed(const trade::SupplierId& supplier) const;

 private:
  struct Cell {
    int count = 0;
    double mean = 0;      // of the logarithm of working days
    double squares = 0;   // sum of squared deviations
    void add(double x);
  };
  std::map<std::string, trade::LeadTimePrior> priors_;
  std::map<trade::PartId, std::string> group_of_;
  std::map<std::pair<trade::SupplierId, std::string>, Cell> cells_;
  std::map<trade::SupplierId, Cell> against_prior_;  // log of real over expected
  std::map<trade::SupplierId, Cell> lateness_;       // log of 1 + working days late
  Cell all_lateness_;
};

}  // namespace rollwright::supply
