#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/shop_reading.hpp"

namespace rollwright::trade {
namespace {

constexpr int kMostPieces = 1'000'000;

std::vector<std::string> purchase_words() {
  std::vector<std::string> words;
  for (int state = 0; state <= static_cast<int>(PurchaseState::kCancelled); ++state) {
    words.emplace_back(word_of(static_cast<PurchaseState>(state)));
  }
  return words;
}

void check_days(CsvRowReader& row, const PurchaseLine& line, bool has_placed) {
  const bool was_placed = line.state != PurchaseState::kWanted;
  if (was_placed && !has_placed) {
    row.problem(
        "placed", Code::kBadInput,
        fmt::format("a line that is {} was placed on some day; say which", word_of(line.state)));
  }
  if (line.state == PurchaseState::kConfirmed && !line.confirmed) {
    row.problem("confirmed", Code::kBadInput,
                "a confirmed line has the day that the supplier named");
  }
  if (has_placed && line.confirmed && *line.confirmed < line.placed) {
    row.problem("confirmed", Code::kContradiction, "this day lies before the line was placed");
  }
}

/// "getting ready 2026-10-21|sea passage 2026-11-20": the legs behind the goods.
std::vector<LegDone> read_legs(CsvRowReader& row) {
  std::vector<LegDone> legs;
  for (const std::string& piece : split(row.cell("legs_done"), '|')) {
    const std::string text(trim(piece));
    if (text.empty()) continue;
    const std::size_t space = text.rfind(' ');
    const Result<Day> day = parse_day(space == std::string::npos ? "" : text.substr(space + 1));
    if (!day) {
      row.problem("legs_done", Code::kBadInput,
                  "legs are written with the day on which each was done, as in sea passage "
                  "2026-11-20, parted by |");
      return {};
    }
    legs.push_back({.leg = std::string(trim(text.substr(0, space))), .day = *day});
    if (legs.size() > 1 && legs[legs.size() - 2].day > *day) {
      row.problem("legs_done", Code::kContradiction, "a leg is done before the one that it follows");
    }
  }
  return legs;
}

/// What was wrong with a line that stands in quarantine or was short.
void read_claim(CsvRowReader& row, PurchaseLine& line) {
  if (row.cell("trouble").empty()) return;
  const std::optional<Trouble> trouble = trouble_named(row.cell("trouble"));
  if (!trouble) {
    return row.problem("trouble", Code::kBadInput, "this is " + listed(all_troubles()));
  }
  const std::optional<Day> found = row.day("found");
  const std::optional<Day> tell_by = row.day("tell_by");
  if (!found || !tell_by) return;
  line.claims.push_back({.trouble = *trouble, .pieces = line.quantity, .carrier = "parcel",
                         .found = *found, .tell_by = *tell_by, .terms = "as imported"});
}

PurchaseLine read_purchase(ShopReading& reading, CsvRowReader& row) {
  PurchaseLine line{.id = row.text("id")};
  line.supplier = SupplierId(named_supplier(reading, row));
  line.part = PartId(named_part(reading, row));
  line.quantity = row.whole("quantity", 1, kMostPieces).value_or(1);
  const std::string order = named_order(reading, row, false);
  if (!order.empty()) line.order = OrderId(order);
  const std::optional<Day> placed = row.day_or_none("placed");
  line.placed = placed.value_or(Day{});
  line.confirmed = row.day_or_none("confirmed");
  const std::string state = row.word("state", purchase_words(), "Placed");
  line.state = purchase_state_named(state).value_or(PurchaseState::kPlaced);
  line.mode = row.cell("mode");
  line.legs = read_legs(row);
  read_claim(row, line);
  if (row.is_good()) check_days(row, line, placed.has_value());
  return line;
}

Receipt read_receipt(ShopReading& reading, CsvRowReader& row) {
  Receipt receipt;
  receipt.supplier = SupplierId(named_supplier(reading, row));
  receipt.part = PartId(named_part(reading, row));
  receipt.quantity = row.whole("quantity", 1, kMostPieces).value_or(1);
  const std::optional<Day> ordered = row.day("ordered");
  receipt.ordered = ordered.value_or(Day{});
  receipt.promised = row.day_or_none("promised");
  const std::optional<Day> received = row.day("received");
  receipt.received = received.value_or(Day{});
  receipt.condition = row.word("condition", {"good", "damaged", "wrong", "short"}, "good");
  if (ordered && received && *received < *ordered) {
    row.problem("received", Code::kContradiction, "this day lies before the one it was ordered");
  }
  if (ordered && receipt.promised && *receipt.promised < *ordered) {
    row.problem("promised", Code::kContradiction, "this day lies before the one it was ordered");
  }
  return receipt;
}

/// Pieces of one part put by for one order, taken out of what is on the shelf.
void put_by(CsvRowReader& row, Stock& stock, const OrderId& order, int quantity) {
  int all = quantity;
  for (const auto& [other, pieces] : stock.put_by) {
    if (other == order) {
      return row.problem("order", Code::kConflict,
                         "this part is put by for this order in an earlier row; keep one");
    }
    all += pieces;
  }
  if (all > stock.on_shelf) {
    return row.problem("quantity", Code::kContradiction,
                       fmt::format("with this {} pieces are put by, but {} are on the shelf", all,
                                   stock.on_shelf));
  }
  stock.put_by.emplace_back(order, quantity);
}

}  // namespace

void read_stock(ShopReading& reading, const ShopFile& file) {
  std::set<std::string> seen;
  reading.all_stock = read_rows(reading, file, {"part", "on_shelf"}, {}, [&](CsvRowReader& row) {
    Stock stock{.part = PartId(named_part(reading, row))};
    stock.on_shelf = row.whole("on_shelf", 0, kMostPieces).value_or(0);
    if (!stock.part.empty() && !seen.insert(stock.part.text).second) {
      return row.problem("part", Code::kConflict, "this part is there twice; keep one row");
    }
    if (row.is_good()) reading.files.stock.push_back(std::move(stock));
  });
}

void read_put_by(ShopReading& reading, const ShopFile& file) {
  std::map<std::string, Stock*> held;
  for (Stock& stock : reading.files.stock) held[stock.part.text] = &stock;
  read_rows(reading, file, {"part", "order", "quantity"}, {}, [&](CsvRowReader& row) {
    const std::string part = named_part(reading, row);
    const OrderId order(named_order(reading, row, true));
    const std::optional<int> quantity = row.whole("quantity", 1, kMostPieces);
    if (!row.is_good()) return;
    const auto stock = held.find(part);
    if (stock == held.end()) {
      if (!reading.all_stock) return;
      return row.problem("part", Code::kContradiction,
                         "what is put by is part of the stock, but stock.csv among these files has "
                         "no row for this part");
    }
    put_by(row, *stock->second, order, *quantity);
  });
}

void read_purchases(ShopReading& reading, const ShopFile& file) {
  std::map<std::string, int> first;
  read_rows(reading, file, {"id", "supplier", "part", "quantity", "state"},
            {"order", "placed", "confirmed", "mode", "legs_done", "trouble", "found", "tell_by"},
            [&](CsvRowReader& row) {
              PurchaseLine line = read_purchase(reading, row);
              if (line.id.empty()) return;
              const auto [before, is_new] = first.emplace(line.id, row.line());
              if (!is_new) {
                return row.problem(
                    "id", Code::kConflict,
                    fmt::format("this number is given twice, first in line {}", before->second));
              }
              if (row.is_good()) reading.files.purchases.push_back(std::move(line));
            });
}

void read_receipts(ShopReading& reading, const ShopFile& file) {
  read_rows(reading, file, {"supplier", "part", "quantity", "ordered", "received"},
            {"promised", "condition"}, [&](CsvRowReader& row) {
              Receipt receipt = read_receipt(reading, row);
              if (row.is_good()) reading.files.receipts.push_back(std::move(receipt));
            });
}

void read_used(ShopReading& reading, const ShopFile& file) {
  std::set<std::string> seen;
  read_rows(reading, file, {"part", "day", "quantity"}, {"for"}, [&](CsvRowReader& row) {
    Used used{.part = PartId(named_part(reading, row))};
    used.day = row.day("day").value_or(Day{});
    used.quantity = row.whole("quantity", 1, kMostPieces).value_or(1);
    used.what_for = row.cell("for");
    if (!row.is_good()) return;
    if (!seen.insert(used.part.text + " " + iso(used.day) + " " + used.what_for).second) {
      return row.problem("part", Code::kConflict,
                         "this part, day and purpose are there twice; add them up in one row");
    }
    reading.files.used.push_back(std::move(used));
  });
}

}  // namespace rollwright::trade
