#pragma once

#include <string>
#include <vector>

#include "shop/state.hpp"
#include "trade/trade.hpp"

/// The numbers on pieces that come in: which are asked for, which are written down, where they are.
namespace rollwright::shop {

/// Whether each piece of the part carries its own number.
[[nodiscard]] bool asks_serial(const trade::Trade& trade, const State& state,
                               const trade::PartId& part);

/// Numbers and lot of pieces that come in.
struct MarksGiven {
  std::vector<std::string> serials;
  std::string lot;
  int pieces = 0;
  trade::PlaceOfPiece place = trade::PlaceOfPiece::kInStore;
  Day day = {};
};

/// Writes the numbers onto the line. With `asked` there must be one for each piece.
///
/// Errors: kBadInput for a number that is none (2 to 40 letters, digits and - . / _ #, one digit at
/// least) or a wrong count of them; kConflict for one that is given twice or noted already for a
/// piece of the same part.
[[nodiscard]] Result<void> add_marks(const State& state, trade::PurchaseLine& line, bool asked,
                                     const MarksGiven& given);

/// Moves the numbers of `pieces` from one place to another: those named, else all when there are no
/// more than the pieces. Errors: kNotFound for a number that is not there; kBadInput when it has to
/// be said which.
[[nodiscard]] Result<void> move_marks(trade::PurchaseLine& line, trade::PlaceOfPiece from,
                                      const MarksGiven& given);

}  // namespace rollwright::shop
