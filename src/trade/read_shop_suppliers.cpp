#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/shop_reading.hpp"

namespace rollwright::trade {
namespace {

constexpr int kMostInAnOffer = 1'000'000;

int read_ship_days(TableReader& reader, int fallback) {
  const std::vector<std::string> words = reader.texts("ship_days");
  if (!reader.has("ship_days")) return fallback;
  const std::vector<std::string>& known = weekday_words();
  int days = 0;
  for (const std::string& word : words) {
    const auto found = std::ranges::find(known, word);
    if (found == known.end()) {
      reader.problem("ship_days", Code::kBadInput, "weekdays are written " + join(known, ", "),
                     word);
    } else {
      days |= 1 << (found - known.begin());
    }
  }
  if (words.empty()) {
    reader.problem("ship_days", Code::kBadInput, "a supplier ships on one weekday at least");
  }
  return days;
}

constexpr double kMostReadyDays = 365;
const std::vector<std::string> kOfferRoads = {"stocked", "importer", "made"};

/// Names that have to be among the known ones.
void check_known(TableReader& reader, std::string_view key, const std::vector<std::string>& words,
                 const std::vector<std::string>& known, std::string_view what) {
  for (const std::string& word : words) {
    if (std::ranges::count(known, word) > 0) continue;
    reader.problem(key, Code::kBadInput,
                   fmt::format("no {} is called so; there are {}", what, listed(known)), word);
  }
}

void read_ready_days(TableReader& reader, FreightWay& way) {
  way.ready_low = reader.number("ready_low", 0.5, kMostReadyDays).value_or(way.ready_low);
  way.ready_high = reader.number("ready_high", 0.5, kMostReadyDays).value_or(way.ready_low + 1);
  if (way.ready_high <= way.ready_low) {
    reader.problem("ready_high", Code::kContradiction, "this is a number of days above ready_low");
  }
}

FreightWay read_way(ShopReading& reading, TableReader& reader) {
  FreightWay way{.mode = reader.text("mode"), .carrier = reader.text_or("carrier", "parcel")};
  std::vector<std::string> carriers = all_carriers();
  std::erase(carriers, "any");
  check_known(reader, "carrier", {way.carrier}, carriers, "carrier");
  way.legs = reader.texts("legs");
  if (way.legs.empty()) reader.missing("legs", "name legs of freight_legs.csv");
  const std::vector<std::string>& legs = reading.known.freight_legs;
  if (!legs.empty()) check_known(reader, "legs", way.legs, legs, "leg");
  way.availability = reader.texts("availability");
  check_known(reader, "availability", way.availability, kOfferRoads, "availability");
  read_ready_days(reader, way);
  way.price = read_money(reader, "price").value_or(Money{});
  way.per_kg = read_money(reader, "per_kg").value_or(Money{});
  reader.finish();
  return way;
}

void read_ways(ShopReading& reading, TableReader& supplier, Supplier& into) {
  for (const TomlValue* table : supplier.tables("way")) {
    TableReader reader(*table, supplier.file(), reading.problems);
    FreightWay way = read_way(reading, reader);
    if (std::ranges::count(into.ways, way.mode, &FreightWay::mode) > 0) {
      reader.problem("mode", Code::kConflict, "this mode is there twice; keep one", way.mode);
      continue;
    }
    into.ways.push_back(std::move(way));
  }
}

void read_claim_days(ShopReading& reading, TableReader& supplier, Supplier& into) {
  const TomlValue* table = supplier.table("claim_days");
  if (table == nullptr) return;
  TableReader reader(*table, supplier.file(), reading.problems);
  for (const std::string& word : all_troubles()) {
    const std::optional<int> days = reader.whole(word, 0, 365);
    if (days) into.claim_days[*trouble_named(word)] = *days;
  }
  reader.finish();
}

void read_supplier(ShopReading& reading, TableReader& reader) {
  Supplier supplier{.id = SupplierId(reader.text("id")), .name = reader.text("name")};
  supplier.minimum_order = read_money(reader, "minimum_order").value_or(Money{});
  supplier.small_order_charge = read_money(reader, "small_order_charge").value_or(Money{});
  supplier.freight = read_money(reader, "freight").value_or(Money{});
  supplier.free_freight_over = read_money(reader, "free_freight_over").value_or(Money{});
  const std::string cut_off = reader.text_or("cut_off", "14:00");
  const std::optional<int> minute = parse_clock_time(cut_off);
  if (!minute) {
    reader.problem("cut_off", Code::kBadInput, "a time of day is written 14:00", cut_off);
  }
  supplier.cut_off_minute = minute.value_or(supplier.cut_off_minute);
  supplier.ship_days = read_ship_days(reader, supplier.ship_days);
  read_ways(reading, reader, supplier);
  read_claim_days(reading, reader, supplier);
  reader.finish();
  if (supplier.id.empty()) return;
  const auto& held = reading.files.suppliers;
  if (std::ranges::count(held, supplier.id, &Supplier::id) > 0) {
    return reader.problem("id", Code::kConflict, "this supplier is there twice; keep one",
                          supplier.id.text);
  }
  reading.suppliers.insert(supplier.id.text);
  reading.files.suppliers.push_back(std::move(supplier));
}

/// What one row of offers.csv says beside its price break.
struct OfferRow {
  Offer offer;
  PriceBreak price;
};

std::optional<OfferRow> read_offer_row(ShopReading& reading, CsvRowReader& row) {
  OfferRow read;
  read.offer.supplier = SupplierId(named_supplier(reading, row));
  read.offer.part = PartId(named_part(reading, row));
  read.offer.article = row.cell("article");
  read.price.from_quantity = row.whole_or_none("from_quantity", 1, kMostInAnOffer).value_or(1);
  read.price.unit_cost = row.money("unit_cost").value_or(Money{});
  read.offer.pack = row.whole_or_none("pack", 1, kMostInAnOffer).value_or(1);
  read.offer.availability = row.word("availability", {"stocked", "importer", "made"}, "stocked");
  read.offer.as_of = row.day("as_of").value_or(Day{});
  return row.is_good() ? std::optional(std::move(read)) : std::nullopt;
}

/// A further row of an offer may add a price break and nothing else.
void add_break(CsvRowReader& row, const OfferRow& read, Offer& offer) {
  const auto differs = [&row](std::string_view heading) {
    row.problem(heading, Code::kContradiction,
                "an earlier row of the same supplier and part says otherwise");
  };
  if (read.offer.article != offer.article) return differs("article");
  if (read.offer.pack != offer.pack) return differs("pack");
  if (read.offer.availability != offer.availability) return differs("availability");
  if (read.offer.as_of != offer.as_of) return differs("as_of");
  const auto at = std::ranges::lower_bound(offer.breaks, read.price.from_quantity, {},
                                           &PriceBreak::from_quantity);
  if (at != offer.breaks.end() && at->from_quantity == read.price.from_quantity) {
    return row.problem("from_quantity", Code::kConflict,
                       "the price from this quantity on is there twice; keep one row");
  }
  offer.breaks.insert(at, read.price);
}

}  // namespace

void read_suppliers(ShopReading& reading, const ShopFile& file) {
  reading.all_suppliers = read_root(reading, file, [&](TableReader& root) {
    for (const TomlValue* supplier : root.tables("supplier")) {
      TableReader reader(*supplier, file.name, reading.problems);
      read_supplier(reading, reader);
    }
  });
}

void read_offers(ShopReading& reading, const ShopFile& file) {
  std::map<std::pair<SupplierId, PartId>, std::size_t> places;
  read_rows(reading, file, {"supplier", "part", "unit_cost", "as_of"},
            {"article", "from_quantity", "pack", "availability"}, [&](CsvRowReader& row) {
              std::optional<OfferRow> read = read_offer_row(reading, row);
              if (!read) return;
              const auto [place, is_new] = places.emplace(
                  std::pair(read->offer.supplier, read->offer.part), reading.files.offers.size());
              if (is_new) {
                read->offer.breaks.push_back(read->price);
                reading.files.offers.push_back(std::move(read->offer));
              } else {
                add_break(row, *read, reading.files.offers[place->second]);
              }
            });
}

}  // namespace rollwright::trade
