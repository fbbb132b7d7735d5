#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "trade/sheet_row.hpp"

namespace rollwright::trade {

/// What the catalogue holds beside a supplier's list: by number, and this supplier's offers.
struct HeldCatalogue {
  std::map<std::string, const Part*> parts;
  std::map<std::string, const Offer*> offers;                  // of the supplier, by part
  std::map<std::string, std::vector<const Offer*>> articles;   // of the supplier, by article
};
[[nodiscard]] HeldCatalogue held_catalogue(const std::vector<Part>& parts,
                                           const std::vector<Offer>& offers,
                                           const SupplierId& supplier);

/// How a list is taken in, beside its mapping.
struct TakeInTerms {
  SupplierId supplier;
  std::string source;  // of the facts: "Quay Street Cycle Supply: autumn.csv"
  Day day = {};        // of the list
  /// Measured facts that a person lets go for the list's word: part number and attribute.
  std::set<std::pair<std::string, std::string>> take_over;
};

enum class RowFate { kNew, kChanged, kSame, kRefused };
[[nodiscard]] std::string_view word_of(RowFate fate);  // "new", "changed", "same", "refused"

struct ValueChange {
  std::string what;  // "customer price", an attribute's name
  std::string from;  // empty: there was none
  std::string to;
};

/// The list states otherwise than what was measured here.
struct MeasuredElsewise {
  std::string attribute;
  std::string name;
  std::string measured;
  std::string by;
  Day date = {};
  std::string listed;
  bool taken_over = false;
};

/// What taking in one row would do.
struct RowOutcome {
  int line = 0;
  RowFate fate = RowFate::kSame;
  std::string article;
  std::string part;
  std::string name;
  KindId kind;
  std::vector<ValueChange> changes;
  std::vector<MeasuredElsewise> contradictions;
  std::vector<std::string> notes;
  Problems problems;
  std::optional<Part> part_after;    // when the part is new or changes
  std::optional<Offer> offer_after;  // when the offer is new or changes
};

/// Judges each row against the catalogue.
///
/// A row belongs to the part that the supplier offers under its article number, else to the part
/// whose number is the mapping's `new_number` and the article number, else to a new part of that
/// number. What a list leaves empty stays as it is. A measured fact stays unless a person lets it
/// go. A price from a quantity that the list does not name stays while it is no dearer than the
/// list's price for fewer.
[[nodiscard]] std::vector<RowOutcome> judge_rows(const Trade& trade, const SupplierSheet& sheet,
                                                 const ColumnMapping& mapping,
                                                 const std::vector<SheetRow>& rows,
                                                 const HeldCatalogue& held,
                                                 const TakeInTerms& terms);

/// The refused rows as they came, with a further column that says why; for mending and taking in
/// again with the same mapping. Empty when none was refused.
[[nodiscard]] std::string refused_rows_csv(const SupplierSheet& sheet,
                                           const std::vector<RowOutcome>& outcomes);

}  // namespace rollwright::trade
