#include <map>

#include <SQLiteCpp/SQLiteCpp.h>
#include <fmt/format.h>
#include <sqlite3.h>

#include "book/database.hpp"

namespace rollwright::book {
namespace {

Error error_of(const SQLite::Exception& trouble) {
  switch (trouble.getErrorCode()) {
    case SQLITE_CONSTRAINT:
      return {Code::kConflict, fmt::format("the book refuses this: {}", trouble.what())};
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return {Code::kUnavailable, "another program is writing to this book; try again"};
    case SQLITE_FULL:
      return {Code::kUnavailable, "the disk is full; nothing was written"};
    case SQLITE_READONLY:
      return {Code::kUnavailable, "the book cannot be written: the file is read-only"};
    case SQLITE_NOTADB:
      return {Code::kDamaged, "this file is not a Rollwright book"};
    case SQLITE_CORRUPT:
      return {Code::kDamaged, "the book is damaged; restore the last backup"};
    default:
      return {Code::kUnavailable, fmt::format("the book cannot be used: {}", trouble.what())};
  }
}

class SqliteDatabase final : public Database {
 public:
  explicit SqliteDatabase(const std::string& path)
      // One thread at a time, as Database says: SQLite need not lock for every cell.
      : database_(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE | SQLite::OPEN_NOMUTEX) {
    database_.setBusyTimeout(5000);
    database_.exec("pragma journal_mode = wal");
    database_.exec("pragma synchronous = full");
    database_.exec("pragma foreign_keys = on");
  }

  Result<Rows> run(std::string_view sql, const Row& arguments) override {
    try {
      SQLite::Statement& statement = prepared(sql);
      Rows rows;
      try {
        bind(statement, arguments);
        while (statement.executeStep()) rows.push_back(row_of(statement));
      } catch (const SQLite::Exception&) {
        statement.tryReset();
        throw;
      }
      statement.reset();
      statement.clearBindings();
      return rows;
    } catch (const SQLite::Exception& trouble) {
      return std::unexpected(error_of(trouble));
    }
  }

  Result<void> run_script(const std::string& sql) override {
    try {
      database_.exec(sql);
      return {};
    } catch (const SQLite::Exception& trouble) {
      return std::unexpected(error_of(trouble));
    }
  }

  Result<bool> is_empty() override {
    const Result<std::vector<std::string>> names = tables();
    if (!names) return std::unexpected(names.error());
    return names->empty();
  }

  Result<std::vector<std::string>> tables() override {
    const Result<Rows> rows =
        run("select name from sqlite_master where type = 'table' order by name", {});
    if (!rows) return std::unexpected(rows.error());
    std::vector<std::string> names;
    for (const Row& row : *rows) names.push_back(text(row[0]));
    return names;
  }

  // Immediate: a transaction that reads first and writes later would otherwise lose its place.
  Result<void> begin() override { return run_script("begin immediate"); }
  Result<void> commit() override { return run_script("commit"); }
  void rollback() noexcept override {
    try {
      database_.exec("rollback");
    } catch (const SQLite::Exception&) {
      // Nothing was open any more: SQLite rolls back by itself after some errors.
    }
  }

 private:
  SQLite::Statement& prepared(std::string_view sql) {
    const auto found = statements_.find(sql);
    if (found != statements_.end()) return *found->second;
    auto statement = std::make_unique<SQLite::Statement>(database_, std::string(sql));
    return *statements_.emplace(std::string(sql), std::move(statement)).first->second;
  }

  static void bind(SQLite::Statement& statement, const Row& arguments) {
    for (std::size_t i = 0; i < arguments.size(); ++i) {
      const int place = static_cast<int>(i) + 1;
      std::visit(
          [&](const auto& value) {
            if constexpr (std::is_same_v<std::decay_t<decltype(value)>, std::monostate>) {
              statement.bind(place);
            } else if constexpr (std::is_same_v<std::decay_t<decltype(value)>, Bytes>) {
              statement.bindNoCopy(place, value.data.data(), static_cast<int>(value.data.size()));
            } else {
              statement.bind(place, value);
            }
          },
          arguments[i]);
    }
  }

  static Row row_of(SQLite::Statement& statement) {
    Row row;
    const int columns = statement.getColumnCount();
    row.reserve(static_cast<std::size_t>(columns));
    for (int i = 0; i < columns; ++i) {
      const SQLite::Column column = statement.getColumn(i);
      switch (column.getType()) {
        case SQLITE_INTEGER: row.emplace_back(column.getInt64()); break;
        case SQLITE_FLOAT: row.emplace_back(column.getDouble()); break;
        case SQLITE_NULL: row.emplace_back(std::monostate{}); break;
        default: row.emplace_back(column.getString()); break;
      }
    }
    return row;
  }

  SQLite::Database database_;
  std::map<std::string, std::unique_ptr<SQLite::Statement>, std::less<>> statements_;
};

}  // namespace

Result<std::unique_ptr<Database>> open_sqlite(const std::string& path) {
  try {
    return std::make_unique<SqliteDatabase>(path);
  } catch (const SQLite::Exception& trouble) {
    Error error = error_of(trouble);
    if (trouble.getErrorCode() == SQLITE_CANTOPEN) {
      error.sentence = fmt::format("the book {} cannot be opened or made; does its folder exist?",
                                   path);
    }
    error.place.file = path;
    return std::unexpected(error);
  }
}

}  // namespace rollwright::book
