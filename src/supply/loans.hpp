#pragma once

#include <string>
#include <vector>

#include "supply/lead_time.hpp"
#include "supply/needs.hpp"

namespace rollwright::supply {

/// Pieces in the house that one order could lend another, because the other's own purchase will be
/// here before the lender needs them.
struct Loan {
  trade::PartId part;
  int quantity = 1;
  trade::OrderId lender;
  trade::OrderId borrower;
  Day lender_needs = {};
  Day borrower_needs = {};
  std::string replacement;        // the borrower's purchase; it gets the lender's name
  double without = 0;             // chance that the borrower has its part on its day, unlent
  double replaced_in_time = 0;    // chance that the lender has it back on its day
};

struct LoanSettings {
  Day today = {};
  double confidence = 0.90;  // of being replaced in time; also: what is likelier needs no loan
  std::vector<Day> closed;
};

/// Loans worth a look. Nothing is lent by itself: a person decides and gives the purchase the
/// lender's name.
///
/// Method:   each need whose purchase is less likely than the confidence to be here on its day, the
///           most urgent first, looks for pieces in the house of an order that needs them later;
///           the latest lender whose day the purchase keeps with the confidence. Only a purchase under
///           way is a replacement: what is still to buy replaces nothing.
/// Ignores:  lending part of a purchase; chains of loans.
[[nodiscard]] std::vector<Loan> possible_loans(const std::vector<Cover>& covers,
                                               const std::vector<trade::PurchaseLine>& purchases,
                                               const LeadTimes& lead_times,
                                               const LoanSettings& settings);

}  // namespace rollwright::supply
