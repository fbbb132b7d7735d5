#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "base/clock.hpp"
#include "book/database.hpp"
#include "book/person_secret.hpp"
#include "book/picture.hpp"
#include "trade/shop_files.hpp"

namespace rollwright::book {

/// Things to be taken out of the book. Their journal stays.
struct TakenAway {
  std::vector<std::pair<trade::SupplierId, trade::PartId>> offers;
  std::vector<trade::PartId> parts;  // with their facts
  std::vector<trade::Receipt> receipts;  // of deliveries that were miscounted
};

/// Things to be put into the book together, and who says so and why. All of it is written, with one
/// journal entry for each thing that really changes, or none of it.
struct Change {
  std::string who;
  std::string what;  // the use case: "import", "choose", "agree"
  std::string why;
  Instant at = {};
  trade::ShopFiles put;
  std::vector<PersonSecret> secrets;  // with nothing set: taken away
  TakenAway take_away;  // after what is put
  std::vector<Picture> pictures;  // one that is there already is not written again
  std::vector<GoodsPhoto> goods_photos;
  std::vector<trade::BikeLines> record;  // lines of bikes, one journal entry for each bike
  /// Last journal entry that the writer had read; parts, stock, purchases and people that changed
  /// after it are a conflict. 0 when the writer looked at nothing: then what is put replaces
  /// whatever is there.
  std::int64_t read_at = 0;
};

struct Written {
  int things = 0;               // that really changed
  std::int64_t last_entry = 0;  // of the journal, after the change
  /// A key of `record` was in the book already: the change was written before, nothing was now.
  bool sent_before = false;
};

/// Writes a change within a transaction of its own. Errors: as Book::write.
[[nodiscard]] Result<Written> write_change(Database& database, const Change& change);

}  // namespace rollwright::book
