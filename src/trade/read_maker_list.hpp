#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "trade/maker_list.hpp"
#include "trade/trade.hpp"

namespace rollwright::trade {

/// What a maker's list may name.
struct MakerListTerms {
  const Trade& trade;
  const BuildTemplate& build;
  const std::map<PartId, const Part*>& parts;     // the catalogue
  std::map<std::string, PartId> articles;         // the maker's own numbers
};

struct ReadMakerList {
  std::vector<MakerLine> lines;
  Problems problems;  // all of them, in line order; the list is good only when empty
};

/// Reads a maker's list as CSV: position, quantity, and part or article, options, serial, note
/// (docs/formats.md). The order form's own columns that a maker does not fill in are passed over.
///
/// A line names a position of this build, a setting, or "other". Its part is one of the catalogue
/// that may stand there, by our number or by the maker's article; an article that the catalogue does
/// not have is kept as it is. Problems: kBadInput for the file itself, missing and unknown columns,
/// empty cells, and a line that names no part; kNotFound for a position or part; kContradiction when
/// part and article are not the same or the part does not go there; kOutOfRange for the quantity;
/// kConflict for a serial number or a setting that is there twice.
[[nodiscard]] ReadMakerList read_maker_list(const MakerListTerms& terms, std::string_view csv,
                                            const std::string& file);

/// The same for lines that were typed in: problems name "lines[2].part" counted from 0.
[[nodiscard]] ReadMakerList judge_maker_lines(const MakerListTerms& terms,
                                              std::vector<MakerLine> lines);

}  // namespace rollwright::trade
