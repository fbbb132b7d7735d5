#pragma once

#include <memory>
#include <vector>

#include "shop/recall_desk.hpp"
#include "shop/recalled.hpp"

namespace rollwright::shop {

struct TouchedBike {
  const trade::Order* order = nullptr;
  std::vector<RecalledPiece> pieces;
};

/// One recall and everything it touches.
struct RecallDesk::Touched {
  std::shared_ptr<const State> state;
  RecallsNow now;
  const trade::Recall* recall = nullptr;  // of the state
  std::vector<TouchedBike> bikes;         // by order
};

/// Bikes of the state that a recall has pieces on. Errors: those of Book::find_marks.
[[nodiscard]] Result<std::vector<TouchedBike>> touched_bikes(book::Book& book, const State& state,
                                                             const trade::Recall& recall);

[[nodiscard]] RecallLine recall_line(const State& state, const RecallsNow& now,
                                     const trade::Recall& recall,
                                     const std::vector<TouchedBike>& bikes);
[[nodiscard]] std::vector<RecalledStock> recalled_stock(const State& state,
                                                        const trade::Recall& recall);
/// "lots L10 to L20"; empty for every piece.
[[nodiscard]] std::string ranges_in_words(const trade::Recall& recall);
[[nodiscard]] RecalledBike recalled_bike(const trade::Trade& trade, const RecallDesk::Touched& at,
                                         const TouchedBike& bike, const RecalledPiece& piece);

}  // namespace rollwright::shop
