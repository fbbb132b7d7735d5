#pragma once

#include <optional>

#include "base/clock.hpp"
#include "book/database.hpp"
#include "units/quantity.hpp"

// Values to cells and back, for the tables_*.cpp files only.
namespace rollwright::book {

inline Cell cell_of(bool value) { return std::int64_t{value ? 1 : 0}; }
inline Cell cell_of(int value) { return std::int64_t{value}; }
inline Cell cell_of(Day day) { return iso(day); }
inline Cell cell_of(const std::optional<Day>& day) { return day ? Cell(iso(*day)) : Cell(); }
template <class Q>
Cell cell_of(const std::optional<Q>& value, Q unit) {
  return value ? Cell(value->in(unit)) : Cell();
}

inline bool flag(const Cell& cell) { return whole(cell) != 0; }
inline int number(const Cell& cell) { return static_cast<int>(whole(cell)); }
inline std::optional<Day> maybe_day(const Cell& cell) {
  if (is_null(cell)) return std::nullopt;
  const Result<Day> day = parse_day(text(cell));
  return day ? std::optional(*day) : std::nullopt;
}
inline Day day(const Cell& cell) { return maybe_day(cell).value_or(Day{}); }
template <class Q>
std::optional<Q> maybe(const Cell& cell, Q unit) {
  return is_null(cell) ? std::nullopt : std::optional<Q>(real(cell) * unit);
}

/// Runs a statement whose rows do not matter.
inline Result<void> done(Result<Rows> rows) {
  if (!rows) return std::unexpected(rows.error());
  return {};
}

/// Reads all rows of a query and turns each into a value.
template <class T, class Make>
Result<std::vector<T>> read_each(Database& database, std::string_view sql, Make make,
                                 const Row& arguments = {}) {
  const Result<Rows> rows = database.run(sql, arguments);
  if (!rows) return std::unexpected(rows.error());
  std::vector<T> values;
  values.reserve(rows->size());
  for (const Row& row : *rows) values.push_back(make(row));
  return values;
}

}  // namespace rollwright::book
