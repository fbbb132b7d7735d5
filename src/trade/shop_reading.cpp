#include "trade/shop_reading.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"

namespace rollwright::trade {
namespace {

constexpr std::size_t kMostRows = 200'000;

std::vector<std::string> names(const std::set<std::string>& set) {
  return {set.begin(), set.end()};
}

}  // namespace

ShopReading::ShopReading(const Trade& trade_, const KnownNames& known_)
    : trade(trade_), known(known_) {
  for (const auto& [part, kind] : known.parts) parts[part.text] = kind.text;
  for (const SupplierId& supplier : known.suppliers) suppliers.insert(supplier.text);
  for (const OrderId& order : known.orders) orders.insert(order.text);
  routes.insert(known.routes.begin(), known.routes.end());
}

void ShopReading::problem(Code code, std::string sentence, Place place) {
  problems.push_back({code, std::move(sentence), std::move(place)});
}

const PartKind* ShopReading::kind_of(const std::string& part) const {
  const auto found = parts.find(part);
  if (found == parts.end()) return nullptr;
  const auto kind = trade.kinds.find(KindId(found->second));
  return kind == trade.kinds.end() ? nullptr : &kind->second;
}

bool read_rows(ShopReading& reading, const ShopFile& file, const std::vector<std::string>& must,
               const std::vector<std::string>& may,
               const std::function<void(CsvRowReader&)>& each) {
  const Result<std::string> text = read_file(file.path);
  if (!text) {
    reading.problem(text.error().code, text.error().sentence, {.file = file.name});
    return false;
  }
  const Result<Csv> csv = parse_csv(*text, file.name);
  if (!csv) {
    reading.problems.push_back(csv.error());
    return false;
  }
  if (csv->rows.size() > kMostRows) {
    reading.problem(Code::kTooLarge,
                    fmt::format("the file has {} rows; at most {} are read, so part it",
                                csv->rows.size(), kMostRows),
                    {.file = file.name});
    return false;
  }
  if (!check_headings(*csv, must, may, reading.problems)) return false;
  for (const CsvRow& row : csv->rows) {
    CsvRowReader reader(*csv, row, reading.problems);
    each(reader);
  }
  return true;
}

bool read_root(ShopReading& reading, const ShopFile& file,
               const std::function<void(TableReader&)>& each) {
  const Result<std::string> text = read_file(file.path);
  if (!text) {
    reading.problem(text.error().code, text.error().sentence, {.file = file.name});
    return false;
  }
  const Result<TomlValue> root = parse_toml(*text, file.name);
  if (!root) {
    reading.problems.push_back(root.error());
    return false;
  }
  TableReader reader(*root, file.name, reading.problems);
  each(reader);
  reader.finish();
  return true;
}

std::string named_part(ShopReading& reading, CsvRowReader& row) {
  std::string part = row.text("part");
  if (part.empty() || reading.parts.contains(part) || !reading.all_parts) return part;
  std::vector<std::string> known;
  // Distances to each of a very long list would take longer than reading the file.
  if (reading.parts.size() <= 5000) known = names_in(reading.parts);
  row.problem("part", Code::kNotFound, "no part has this number" + meant(part, known));
  return part;
}

std::string named_supplier(ShopReading& reading, CsvRowReader& row) {
  std::string supplier = row.text("supplier");
  if (supplier.empty() || reading.suppliers.contains(supplier) || !reading.all_suppliers) {
    return supplier;
  }
  row.problem("supplier", Code::kNotFound,
              "no supplier is called so" + meant(supplier, names(reading.suppliers)));
  return supplier;
}

std::string named_order(ShopReading& reading, CsvRowReader& row, bool needed) {
  std::string order = needed ? row.text("order") : row.cell("order");
  if (order.empty() || reading.orders.contains(order) || !reading.all_orders) return order;
  row.problem("order", Code::kNotFound,
              "no order has this number" + meant(order, names(reading.orders)));
  return order;
}

std::optional<Money> read_money(TableReader& reader, std::string_view key) {
  const std::optional<std::string> text = reader.amount(key);
  if (!text) return std::nullopt;
  const Result<Money> money = parse_money(*text);
  if (!money) {
    reader.problem(key, money.error().code, money.error().sentence, *text);
    return std::nullopt;
  }
  if (*money < Money{}) {
    reader.problem(key, Code::kOutOfRange, "this may not be negative", *text);
    return std::nullopt;
  }
  return *money;
}

std::optional<int> parse_clock_time(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos || text.size() != colon + 3 || colon < 1 || colon > 2) {
    return std::nullopt;
  }
  const auto hour = to_whole(text.substr(0, colon));
  const auto minute = to_whole(text.substr(colon + 1));
  if (!hour || !minute || *hour < 0 || *hour > 24 || *minute < 0 || *minute > 59) {
    return std::nullopt;
  }
  const int minutes = static_cast<int>(*hour * 60 + *minute);
  return minutes <= 24 * 60 ? std::optional(minutes) : std::nullopt;
}

const std::vector<std::string>& weekday_words() {
  static const std::vector<std::string> kWords = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
  return kWords;
}

}  // namespace rollwright::trade
