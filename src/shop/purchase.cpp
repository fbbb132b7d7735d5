#include "shop/purchase.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/goods_shelf.hpp"
#include "shop/order_input.hpp"
#include "shop/supply_side.hpp"
#include "supply/buying.hpp"
#include "trade/meant.hpp"

namespace rollwright::shop {
namespace {

constexpr int kMostOfOne = 10'000;
constexpr std::string_view kLinePrefix = "P-";

/// The number after the highest "P-" number of the book.
long long next_line_number(const State& state) {
  long long highest = 1000;
  for (const trade::PurchaseLine& line : state.held.purchases) {
    if (!line.id.starts_with(kLinePrefix)) continue;
    const auto number = to_whole(std::string_view(line.id).substr(kLinePrefix.size()));
    if (number) highest = std::max(highest, *number);
  }
  return highest + 1;
}

Result<const trade::Supplier*> supplier_named(const State& state, const std::string& id) {
  const auto found = state.suppliers.find(trade::SupplierId(id));
  if (found != state.suppliers.end()) return found->second;
  return refused("there is no supplier of this name" +
                     trade::meant(id, trade::names_in(state.suppliers)),
                 "supplier", id, Code::kNotFound);
}

Result<void> can_be_ordered(const State& state, const trade::Supplier& supplier,
                            const PiecesGiven& pieces) {
  const trade::PartId part(pieces.part);
  if (state.part(part) == nullptr) {
    return refused("the catalogue has no part of this number", "part", pieces.part,
                   Code::kNotFound);
  }
  const trade::Offer* offer = offer_of(state, supplier.id, part);
  if (offer == nullptr) {
    return refused(fmt::format("{} does not offer {}", supplier.name, state.name_of(part)), "part",
                   pieces.part);
  }
  if (pieces.quantity < 1 || pieces.quantity > kMostOfOne) {
    return refused(fmt::format("{}: this is a number of pieces from 1 to {}", pieces.part,
                               kMostOfOne),
                   "quantity", std::to_string(pieces.quantity), Code::kOutOfRange);
  }
  if (supply::in_packs(*offer, pieces.quantity) != pieces.quantity) {
    return refused(fmt::format("{} sells {} in packs of {}", supplier.name, state.name_of(part),
                               offer->pack),
                   "quantity", std::to_string(pieces.quantity), Code::kOutOfRange);
  }
  return {};
}

Result<void> can_be_placed(const GoodsInAt& at, const trade::Supplier& supplier,
                           const PurchaseGiven& given) {
  if (given.lines.empty()) {
    return refused("say which parts were ordered, and how many", "lines", {}, Code::kBadInput);
  }
  std::set<std::string> parts;
  for (const PiecesGiven& pieces : given.lines) {
    if (Result<void> ok = can_be_ordered(at.state, supplier, pieces); !ok) return ok;
    if (parts.insert(pieces.part).second) continue;
    return refused("this part comes twice; say once how many", "part", pieces.part,
                   Code::kBadInput);
  }
  if (!given.mode.empty()) {
    if (Result<void> ok = sends_by(at.state, supplier.id, given.mode); !ok) return ok;
  }
  if (given.confirmed && *given.confirmed < at.today) {
    return refused("a supplier's day is today or later", "confirmed", iso(*given.confirmed),
                   Code::kOutOfRange);
  }
  return one_line("note", given.note, kLongestNote);
}

/// Who waits for the part and has nothing coming, first needed first.
std::vector<const supply::Cover*> waiting_for(const std::vector<supply::Cover>& covers,
                                              const trade::PartId& part) {
  std::vector<const supply::Cover*> waiting;
  for (const supply::Cover& cover : covers) {
    if (cover.need.part == part && cover.source == supply::Source::kToBuy) waiting.push_back(&cover);
  }
  std::ranges::stable_sort(waiting, {}, [](const auto* cover) {
    return std::pair(cover->need.needed_by, cover->need.order);
  });
  return waiting;
}

}  // namespace

Result<std::vector<trade::PurchaseLine>> placed(const GoodsInAt& at,
                                                const std::vector<supply::Cover>& covers,
                                                const PurchaseGiven& given) {
  const auto supplier = supplier_named(at.state, given.supplier);
  if (!supplier) return std::unexpected(supplier.error());
  if (Result<void> ok = can_be_placed(at, **supplier, given); !ok) {
    return std::unexpected(ok.error());
  }
  std::vector<trade::PurchaseLine> lines;
  long long number = next_line_number(at.state);
  const auto add = [&](const PiecesGiven& pieces, int quantity,
                       const std::optional<trade::OrderId>& order) {
    lines.push_back({.id = fmt::format("{}{}", kLinePrefix, number++),
                     .supplier = (*supplier)->id,
                     .part = trade::PartId(pieces.part),
                     .quantity = quantity,
                     .order = order,
                     .placed = at.today,
                     .confirmed = given.confirmed,
                     .state = given.confirmed ? trade::PurchaseState::kConfirmed
                                              : trade::PurchaseState::kPlaced,
                     .mode = given.mode});
  };
  for (const PiecesGiven& pieces : given.lines) {
    int left = pieces.quantity;
    for (const supply::Cover* cover : waiting_for(covers, trade::PartId(pieces.part))) {
      const int named = std::min(left, cover->need.quantity);
      if (named == 0) break;
      add(pieces, named, cover->need.order);
      left -= named;
    }
    if (left > 0) add(pieces, left, std::nullopt);
  }
  return lines;
}

Result<BookedIn> given_up(const trade::PurchaseLine& held, const std::string& note) {
  if (Result<void> ok = one_line("note", note, kLongestNote); !ok) {
    return std::unexpected(ok.error());
  }
  const trade::GoodsIn pieces = trade::goods_in_of(held);
  const bool nothing_came = pieces.outstanding() == pieces.ordered && held.legs.empty();
  if (!trade::is_under_way(held.state) || held.state == trade::PurchaseState::kShipped ||
      !nothing_came) {
    return refused(fmt::format("line {} cannot be given up any more: it is {}. What comes of it goes "
                               "through goods-in, and back from there",
                               held.id, trade::word_of(held.state)),
                   "line", held.id);
  }
  BookedIn result{.line = held, .stock = {}, .receipt = {}, .why = {}};
  result.line.state = trade::PurchaseState::kCancelled;
  result.why = fmt::format("line {} given up: {} of {}{}", held.id, pieces_words(held.quantity),
                           held.part.text, note.empty() ? "" : "; " + note);
  return result;
}

}  // namespace rollwright::shop
