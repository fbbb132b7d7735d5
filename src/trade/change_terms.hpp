#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "trade/part.hpp"

/// What a change after signing rests on: data/trade/restocking.csv and change_work.csv
/// (docs/formats.md).
namespace rollwright::trade {

/// What suppliers keep for taking a part back.
struct Restocking {
  std::string availability;  // stocked, importer, made
  int percent = 0;           // of their price, 0 to 100
  std::string source;
};

/// The work that puts the part of a slot on the bike.
struct ChangeWork {
  SlotId slot;
  std::vector<std::string> work;    // operations
  std::vector<std::string> spoils;  // those after which the part is not new any more; among `work`
};

struct ChangeTerms {
  std::vector<Restocking> restocking;
  std::vector<ChangeWork> work;
};

/// Errors: kBadInput or kOutOfRange with file, line and field; kConflict for a row that is there twice.
[[nodiscard]] Result<std::vector<Restocking>> read_restocking(std::string_view csv,
                                                              std::string file);
[[nodiscard]] Result<std::vector<ChangeWork>> read_change_work(std::string_view csv,
                                                               std::string file);
/// Reads both of data/trade. Errors: those of the two, and of read_file.
[[nodiscard]] Result<ChangeTerms> load_change_terms(const std::string& folder);

}  // namespace rollwright::trade
