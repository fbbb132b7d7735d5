#pragma once

#include <functional>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "trade/csv_row_reader.hpp"
#include "trade/shop_files.hpp"
#include "trade/table_reader.hpp"

namespace rollwright::trade {

/// What the readers of a shop's files hand to each other.
///
/// Invariants: an id that stands in any row, good or bad, is known; when a whole file gave nothing,
/// names that it might have held are not checked. So one mistake is one problem.
struct ShopReading {
  const Trade& trade;
  const KnownNames& known;
  ShopFiles files;
  Problems problems;
  std::vector<std::string> file_order;

  std::map<std::string, std::string> parts;  // id -> kind
  std::set<std::string> suppliers;
  std::set<std::string> orders;
  std::set<std::string> routes;
  std::set<std::string> people;
  bool all_parts = true;  // false: some file of parts gave nothing
  bool all_suppliers = true;
  bool all_orders = true;
  bool all_people = true;
  bool all_stock = true;
  bool reads_people = false;  // people.toml is among the files

  ShopReading(const Trade& trade_, const KnownNames& known_);

  void problem(Code code, std::string sentence, Place place);
  [[nodiscard]] const PartKind* kind_of(const std::string& part) const;
};

/// One file of the import: where it is on disk, and how problems name it.
struct ShopFile {
  std::string path;
  std::string name;
};

/// The rows of a CSV file whose headings are in order, each handed to `each`; false when the file
/// gave nothing. Rows beyond 200 000 are refused.
bool read_rows(ShopReading& reading, const ShopFile& file, const std::vector<std::string>& must,
               const std::vector<std::string>& may, const std::function<void(CsvRowReader&)>& each);
/// The root table of a TOML file handed to `each`; false when the file gave nothing.
bool read_root(ShopReading& reading, const ShopFile& file,
               const std::function<void(TableReader&)>& each);

void read_shop_settings(ShopReading& reading, const ShopFile& file);
void read_people(ShopReading& reading, const ShopFile& file);
void read_suppliers(ShopReading& reading, const ShopFile& file);
void read_parts(ShopReading& reading, const ShopFile& file, const PartKind& kind);
void read_measured(ShopReading& reading, const ShopFile& file);
void read_route(ShopReading& reading, const ShopFile& file);
void read_orders(ShopReading& reading, const ShopFile& file);
void read_offers(ShopReading& reading, const ShopFile& file);
void read_stock(ShopReading& reading, const ShopFile& file);
void read_put_by(ShopReading& reading, const ShopFile& file);
void read_purchases(ShopReading& reading, const ShopFile& file);
void read_receipts(ShopReading& reading, const ShopFile& file);
void read_used(ShopReading& reading, const ShopFile& file);
void read_promises(ShopReading& reading, const ShopFile& file);
void read_times(ShopReading& reading, const ShopFile& file);
void read_tools(ShopReading& reading, const ShopFile& file);

/// A part, supplier or order named in a row; the problem is noted when there is none such.
std::string named_part(ShopReading& reading, CsvRowReader& row);
std::string named_supplier(ShopReading& reading, CsvRowReader& row);
/// May be empty when `needed` is false.
std::string named_order(ShopReading& reading, CsvRowReader& row, bool needed);

/// Money and clock times of TOML files.
std::optional<Money> read_money(TableReader& reader, std::string_view key);
/// "14:00" as minutes of the day, 0 to 1440; nothing when it is no time.
[[nodiscard]] std::optional<int> parse_clock_time(std::string_view text);
/// "mon" ... "sun".
[[nodiscard]] const std::vector<std::string>& weekday_words();

}  // namespace rollwright::trade
