#pragma once

#include <cstdint>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "book/bike_lines.hpp"
#include "book/change.hpp"
#include "book/database.hpp"
#include "book/journal.hpp"
#include "book/person_secret.hpp"
#include "book/picture.hpp"
#include "trade/shop_files.hpp"

namespace rollwright::book {

/// The durable book: one database, its journal, and nothing that computes.
///
/// Invariants: every change of a row goes through `write`, in one transaction with its journal
/// entry; an answered write is on the disk. An order is written only over the revision that the
/// writer had read; the book counts revisions up.
/// Threads: any; one call at a time holds the lock.
class Book {
 public:
  /// Opens the book in this file, or makes an empty one when there is none and `create` is set.
  /// Errors: kNotFound, kDamaged, kUnavailable.
  [[nodiscard]] static Result<Book> open(const std::string& path, bool create);
  /// A book over any database; for tests and other backends.
  [[nodiscard]] static Result<Book> over(std::unique_ptr<Database> database, bool create);

  /// Errors: kConflict when an order's revision is not the stored one, a plan's number does not
  /// follow the stored one, or a part, stock, purchase or person has changed after `read_at`:
  /// somebody else was faster; or when an order names a part that is to be taken away. kNotFound
  /// when a photograph's picture is neither in the book nor in the change.
  [[nodiscard]] Result<Written> write(const Change& change);

  /// Everything the book holds but the records of bikes.
  [[nodiscard]] Result<trade::ShopFiles> read_all();
  /// Errors: kNotFound.
  [[nodiscard]] Result<trade::Order> read_order(const trade::OrderId& id);

  /// The record of one bike, from the line after this number on; empty for one that nothing was
  /// written down of.
  [[nodiscard]] Result<std::vector<trade::BikeLine>> bike_lines(const trade::OrderId& order,
                                                                int after = 0);
  /// Those of them that are photographs.
  [[nodiscard]] Result<std::vector<trade::BikeLine>> bike_photos(const trade::OrderId& order);
  /// As find_marks.
  [[nodiscard]] Result<std::vector<LineFound>> bike_visits(std::int64_t after);
  [[nodiscard]] Result<std::vector<LineFound>> find_marks(const MarksWanted& wanted);
  /// Whether a change with this key was written. Threads may have sent it twice.
  [[nodiscard]] Result<bool> was_sent(const std::string& key);
  /// A picture as it was given. Errors: kNotFound.
  [[nodiscard]] Result<Picture> picture(const std::string& hash);
  /// Photographs of a purchase line, or of all lines when none is named; oldest first.
  [[nodiscard]] Result<std::vector<GoodsPhoto>> goods_photos(const std::string& line);
  /// What people prove themselves with. Apart from everything else, so that it gets into no state,
  /// view or file.
  [[nodiscard]] Result<std::vector<PersonSecret>> secrets();

  /// Number of the last journal entry: grows with every change, so that a reader can tell whether
  /// what it has is still true.
  [[nodiscard]] Result<std::int64_t> last_entry();
  /// The newest entries about a subject ("order 2041"), newest first; all subjects when empty.
  [[nodiscard]] Result<std::vector<Entry>> entries(const std::string& subject, int most);
  /// Every entry about a subject, oldest first. Read piece by piece: others are let in between.
  [[nodiscard]] Result<std::vector<Entry>> all_entries(const std::string& subject);

  /// The entries of one change, told from others by what was done and why; oldest first.
  [[nodiscard]] Result<std::vector<Entry>> entries_of(const std::string& what,
                                                      const std::string& why);

  /// Checks the chain of hashes, then compares each thing in the tables with what the journal last
  /// said of it: a row that was changed, added or taken away past the journal is found.
  /// With `printed`, a hash that was printed or noted once, also that the journal still goes on from
  /// it: nothing else shows that its tail was cut off together with what it told of.
  [[nodiscard]] Result<ChainReport> verify(const std::string& printed = {});

 private:
  explicit Book(std::unique_ptr<Database> database);

  std::unique_ptr<Database> database_;
  std::unique_ptr<std::mutex> mutex_;
};

}  // namespace rollwright::book
