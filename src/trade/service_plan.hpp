#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "trade/trade.hpp"

namespace rollwright::trade {

/// From low to high.
struct ServiceSpan {
  int low = 0;
  int high = 0;
};

/// One visit of the service plan; data/trade/service_plan.csv (docs/formats.md). By distance, time or
/// hours ridden, whichever comes first. The maker's book wins over all of it.
struct ServiceVisit {
  std::string name;        // "first service": unique, without a comma
  bool repeats = false;    // every so often, else once
  std::optional<ServiceSpan> km;
  std::optional<ServiceSpan> weeks;
  std::optional<int> hours;   // ridden
  std::string trait;       // bikes that it is for; empty: all
  std::string work;
  std::vector<std::string> operations;  // of the trade's care, that it asks for; at least one
  std::string source;
};

/// "every 1500 to 2500 km or 26 weeks, whichever comes first"; distances and hours halved for bikes
/// that carry cargo or children.
[[nodiscard]] std::string when_in_words(const ServiceVisit& visit, bool halved);

/// Errors: the first problem with file, line, field and value: kBadInput, kOutOfRange, kNotFound for
/// a trait or an operation of care that the trade does not have, kConflict for a visit that is there
/// twice.
[[nodiscard]] Result<std::vector<ServiceVisit>> read_service_plan(std::string_view csv,
                                                                  const std::string& file,
                                                                  const Trade& trade);
/// Reads service_plan.csv of data/trade. Errors: as above, and those of read_file.
[[nodiscard]] Result<std::vector<ServiceVisit>> load_service_plan(const std::string& folder,
                                                                  const Trade& trade);

}  // namespace rollwright::trade
