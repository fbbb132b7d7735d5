#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.hpp"

namespace rollwright::book {

/// What is to be written as it is, not as text. It is read back as a std::string.
struct Bytes {
  std::string data;
  friend auto operator<=>(const Bytes&, const Bytes&) = default;
};
using Cell = std::variant<std::monostate, std::int64_t, double, std::string, Bytes>;
using Row = std::vector<Cell>;
using Rows = std::vector<Row>;

/// What the book asks of a database: text with ?-places, rows of cells, one transaction at a time.
/// Everything that is special to SQLite or to another database stays behind this.
///
/// Threads: none of its own; the book holds one lock around it.
class Database {
 public:
  virtual ~Database() = default;

  /// Runs one statement and returns its rows. Statements are prepared once and kept.
  /// Errors: kConflict for a broken uniqueness, kUnavailable for disk, lock and everything else.
  virtual Result<Rows> run(std::string_view sql, const Row& arguments) = 0;
  /// Runs several statements parted by semicolons; for the schema.
  virtual Result<void> run_script(const std::string& sql) = 0;

  /// Whether it holds no table at all.
  virtual Result<bool> is_empty() = 0;
  /// Names of all tables, in their own order.
  virtual Result<std::vector<std::string>> tables() = 0;

  virtual Result<void> begin() = 0;
  virtual Result<void> commit() = 0;
  virtual void rollback() noexcept = 0;
};

/// Opens or makes an SQLite file: write-ahead log, every commit on the disk before it is answered
/// (synchronous=FULL), foreign keys checked. `:memory:` gives a book that is gone at the end.
[[nodiscard]] Result<std::unique_ptr<Database>> open_sqlite(const std::string& path);

/// Rolls back unless committed.
class Transaction {
 public:
  [[nodiscard]] static Result<Transaction> begin(Database& database);
  Transaction(Transaction&& other) noexcept : database_(other.database_) {
    other.database_ = nullptr;
  }
  Transaction& operator=(Transaction&&) = delete;
  ~Transaction() {
    if (database_ != nullptr) database_->rollback();
  }
  [[nodiscard]] Result<void> commit();

 private:
  explicit Transaction(Database& database) : database_(&database) {}
  Database* database_;
};

// Cells as plain values; the schema says which column is which.
[[nodiscard]] std::int64_t whole(const Cell& cell);
[[nodiscard]] double real(const Cell& cell);
[[nodiscard]] const std::string& text(const Cell& cell);
[[nodiscard]] inline bool is_null(const Cell& cell) {
  return std::holds_alternative<std::monostate>(cell);
}

}  // namespace rollwright::book
