#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "trade/operation.hpp"

namespace rollwright::trade {

/// Something that has to come with a bike from its maker; data/trade/maker_papers.csv.
struct MakerPaper {
  std::string paper;   // what it is: unique
  std::string trait;   // bikes that it is for; empty: all
  std::string source;
};

/// Errors: the first problem with file, line, field and value: kBadInput, kNotFound for a trait that
/// is not among `traits`, kConflict for a paper that is there twice.
[[nodiscard]] Result<std::vector<MakerPaper>> read_maker_papers(
    std::string_view csv, const std::string& file, const std::map<std::string, Trait>& traits);
/// Reads maker_papers.csv of data/trade. Errors: as above, and those of read_file.
[[nodiscard]] Result<std::vector<MakerPaper>> load_maker_papers(
    const std::string& folder, const std::map<std::string, Trait>& traits);

}  // namespace rollwright::trade
