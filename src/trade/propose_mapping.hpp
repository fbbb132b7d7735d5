#pragma once

#include <optional>
#include <string>
#include <vector>

#include "trade/take_in.hpp"

namespace rollwright::trade {

/// One column of a list with what it shows and what is proposed for it.
struct SeenColumn {
  std::string heading;
  std::vector<std::string> first_values;  // the first three that are filled
  std::vector<std::string> words;         // its different values, when there are at most 24
  int filled = 0;                         // rows in which it says something
  SheetColumn proposal;                   // goes_to is empty when nothing fits
  std::string why;                        // in a sentence
};

struct ProposedMapping {
  ColumnMapping mapping;
  std::vector<SeenColumn> columns;  // in the order of the list
  std::string kind_why;
  std::string decimal_why;
};

/// Proposes what the columns of a list say, from their headings, their values, and what the book
/// already knows of the supplier's articles. `saved` is how the supplier's lists were read before;
/// columns that it names are read so again. A proposal is only that: a person looks at it.
[[nodiscard]] ProposedMapping propose_mapping(const Trade& trade, const SupplierSheet& sheet,
                                              const SupplierId& supplier,
                                              const HeldCatalogue& held,
                                              const std::optional<ColumnMapping>& saved);

}  // namespace rollwright::trade
