#include "book/book.hpp"

#include <algorithm>
#include <filesystem>
#include <map>

#include <fmt/format.h>

#include "book/everything.hpp"
#include "book/schema.hpp"
#include "book/tables.hpp"
#include "book/verify_tables.hpp"

namespace rollwright::book {

Book::Book(std::unique_ptr<Database> database)
    : database_(std::move(database)), mutex_(std::make_unique<std::mutex>()) {}

Result<Book> Book::open(const std::string& path, bool create) {
  if (!create && path != ":memory:" && !std::filesystem::exists(path)) {
    return refuse(Code::kNotFound,
                  fmt::format("there is no book {}; `rollwright make-book` makes one", path),
                  {.file = path});
  }
  std::error_code ignored;
  if (!create && path != ":memory:" && std::filesystem::file_size(path, ignored) == 0) {
    return refuse(Code::kDamaged, "this file is empty: it is no book, or what was in it is lost",
                  {.file = path});
  }
  Result<std::unique_ptr<Database>> database = open_sqlite(path);
  if (!database) return std::unexpected(database.error());
  return over(std::move(*database), create);
}

Result<Book> Book::over(std::unique_ptr<Database> database, bool create) {
  if (Result<void> ready = prepare_schema(*database, create); !ready) {
    return std::unexpected(ready.error());
  }
  return Book(std::move(database));
}

Result<Written> Book::write(const Change& change) {
  const std::lock_guard lock(*mutex_);
  return write_change(*database_, change);
}

Result<trade::ShopFiles> Book::read_all() {
  const std::lock_guard lock(*mutex_);
  return everything(*database_);
}

Result<trade::Order> Book::read_order(const trade::OrderId& id) {
  const std::lock_guard lock(*mutex_);
  Result<std::vector<trade::Order>> orders = read_orders(*database_, id);
  if (!orders) return std::unexpected(orders.error());
  if (orders->empty() || id.empty()) {
    return refuse(Code::kNotFound, fmt::format("there is no order {}", id.text),
                  {.field = "order", .value = id.text});
  }
  return orders->front();
}

Result<std::vector<trade::BikeLine>> Book::bike_lines(const trade::OrderId& order, int after) {
  const std::lock_guard lock(*mutex_);
  return read_bike_lines(*database_, order, after);
}

Result<std::vector<trade::BikeLine>> Book::bike_photos(const trade::OrderId& order) {
  const std::lock_guard lock(*mutex_);
  return read_bike_photos(*database_, order);
}

Result<std::vector<LineFound>> Book::bike_visits(std::int64_t after) {
  const std::lock_guard lock(*mutex_);
  return read_visits(*database_, after);
}

Result<std::vector<LineFound>> Book::find_marks(const MarksWanted& wanted) {
  const std::lock_guard lock(*mutex_);
  return book::find_marks(*database_, wanted);
}

Result<bool> Book::was_sent(const std::string& key) {
  const std::lock_guard lock(*mutex_);
  return book::was_sent(*database_, key);
}

Result<Picture> Book::picture(const std::string& hash) {
  const std::lock_guard lock(*mutex_);
  return read_picture(*database_, hash);
}

Result<std::vector<GoodsPhoto>> Book::goods_photos(const std::string& line) {
  const std::lock_guard lock(*mutex_);
  return read_goods_photos(*database_, line);
}

Result<std::vector<PersonSecret>> Book::secrets() {
  const std::lock_guard lock(*mutex_);
  return read_secrets(*database_);
}

Result<std::int64_t> Book::last_entry() {
  const std::lock_guard lock(*mutex_);
  return last_seq(*database_);
}

Result<std::vector<Entry>> Book::entries(const std::string& subject, int most) {
  const std::lock_guard lock(*mutex_);
  return newest_entries(*database_, subject, most);
}

Result<std::vector<Entry>> Book::all_entries(const std::string& subject) {
  std::vector<Entry> entries;
  while (true) {
    const std::lock_guard lock(*mutex_);
    Result<std::vector<Entry>> next =
        entries_after(*database_, subject, entries.empty() ? 0 : entries.back().seq);
    if (!next || next->empty()) {
      if (!next) return next;
      return entries;
    }
    std::ranges::move(*next, std::back_inserter(entries));
  }
}

Result<std::vector<Entry>> Book::entries_of(const std::string& what, const std::string& why) {
  const std::lock_guard lock(*mutex_);
  return entries_of_change(*database_, what, why);
}

Result<ChainReport> Book::verify(const std::string& printed) {
  std::map<std::string, std::string> pictures;
  Result<ChainReport> report = [&] {
    const std::lock_guard lock(*mutex_);
    return verify_tables(*database_, printed, pictures);
  }();
  // One by one, so that others write meanwhile: no picture ever changes.
  for (const auto& [subject, said] : pictures) {
    if (!report || !report->whole) break;
    const std::lock_guard lock(*mutex_);
    Result<std::optional<std::string>> altered = altered_picture(*database_, subject, said);
    if (!altered) return std::unexpected(altered.error());
    if (!*altered) continue;
    report->whole = false;
    report->sentence = std::move(**altered);
  }
  return report;
}

}  // namespace rollwright::book
