#pragma once

#include <string>
#include <utility>

#include <fmt/format.h>

#include "shop/goods_in.hpp"

/// The shelf and the state of a line after goods-in; what refusals there have in common.
namespace rollwright::shop {

inline constexpr std::size_t kLongestNote = 200;

[[nodiscard]] inline std::string pieces_words(int count) {
  return count == 1 ? "1 piece" : fmt::format("{} pieces", count);
}

[[nodiscard]] inline std::unexpected<Error> refused(std::string sentence,
                                                    const char* field = "line",
                                                    std::string value = {},
                                                    Code code = Code::kRefused) {
  return refuse(code, std::move(sentence), {.field = field, .value = std::move(value)});
}

/// What is on the shelf of a part; nothing when it was never held.
[[nodiscard]] trade::Stock stock_of(const State& state, const trade::PartId& part);

/// Good pieces onto the shelf; put by for the line's order as far as it needs them. Returns how many
/// were put by.
[[nodiscard]] int shelve(const GoodsInAt& at, const trade::PurchaseLine& line, int pieces,
                         trade::Stock& stock);

/// Takes pieces off the shelf again: those put by for the line's order first, then free ones. Errors:
/// kRefused when what is left is put by for others.
[[nodiscard]] Result<void> unshelve(const trade::PurchaseLine& line, int pieces,
                                    trade::Stock& stock);

/// The state of a line whose pieces were counted; `put_by` of them were just put by.
[[nodiscard]] trade::PurchaseState state_after(const trade::PurchaseLine& line, int put_by);

}  // namespace rollwright::shop
