#include "book/database.hpp"

namespace rollwright::book {

Result<Transaction> Transaction::begin(Database& database) {
  if (Result<void> begun = database.begin(); !begun) return std::unexpected(begun.error());
  return Transaction(database);
}

Result<void> Transaction::commit() {
  ROLLWRIGHT_PROMISE(database_ != nullptr);
  Result<void> done = database_->commit();
  if (done) database_ = nullptr;
  return done;
}

std::int64_t whole(const Cell& cell) {
  const auto* value = std::get_if<std::int64_t>(&cell);
  return value == nullptr ? 0 : *value;
}

double real(const Cell& cell) {
  if (const auto* value = std::get_if<double>(&cell)) return *value;
  return static_cast<double>(whole(cell));
}

const std::string& text(const Cell& cell) {
  static const std::string kEmpty;
  const auto* value = std::get_if<std::string>(&cell);
  return value == nullptr ? kEmpty : *value;
}

}  // namespace rollwright::book
