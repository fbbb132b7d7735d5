#include "book/change.hpp"

#include <fmt/format.h>

#include "book/bike_lines.hpp"
#include "book/everything.hpp"
#include "book/journal.hpp"

namespace rollwright::book {
namespace {

/// What the journal last said of a subject; empty when it never said anything.
Result<std::string> last_said(Database& database, const std::string& subject) {
  const Result<Rows> rows = database.run(
      "select after from journal where subject = ? order by seq desc limit 1", {subject});
  if (!rows) return std::unexpected(rows.error());
  return rows->empty() ? std::string() : text(rows->front()[0]);
}

/// Checks the writer's revision against the stored one and counts it up.
Result<void> next_revision(Database& database, trade::Order& order) {
  const Result<Rows> rows =
      database.run("select revision from customer_order where id = ?", {order.id.text});
  if (!rows) return std::unexpected(rows.error());
  const std::int64_t stored = rows->empty() ? 0 : whole(rows->front()[0]);
  if (stored != order.revision) {
    return refuse(Code::kConflict,
                  fmt::format("order {} was changed by somebody else in the meantime; look at it "
                              "again before you change it",
                              order.id.text),
                  {.field = "revision", .value = std::to_string(order.revision)});
  }
  ++order.revision;
  return {};
}

/// Refuses a plan that does not follow the one in the book.
Result<void> follows_agreed(Database& database, const std::vector<trade::AgreedPlan>& plans) {
  for (const trade::AgreedPlan& plan : plans) {
    const Result<std::vector<trade::AgreedPlan>> held = read_agreed_plans(database);
    if (!held) return std::unexpected(held.error());
    const std::int64_t stored = held->empty() ? 0 : held->front().number;
    if (plan.number == stored + 1) continue;
    return refuse(Code::kConflict,
                  fmt::format("another plan was agreed by {} in the meantime; look at it and plan "
                              "again",
                              held->empty() ? "somebody" : held->front().who),
                  {.field = "plan", .value = std::to_string(plan.number - 1)});
  }
  return {};
}

/// Refuses things that somebody changed after the writer had read the book.
template <class Thing>
Result<void> unchanged_since(Database& database, std::int64_t read_at,
                             const std::vector<Thing>& things, const char* field) {
  if (read_at == 0) return {};
  for (const Thing& thing : things) {
    const std::string subject = record_of(thing).subject;
    const Result<Rows> rows = database.run(
        "select count(*) from journal where subject = ? and seq > ?", {subject, read_at});
    if (!rows) return std::unexpected(rows.error());
    if (whole(rows->front()[0]) == 0) continue;
    return refuse(Code::kConflict,
                  fmt::format("{} was changed by somebody else in the meantime; look at it again "
                              "before you change it",
                              subject),
                  {.field = field, .value = subject.substr(subject.find(' ') + 1)});
  }
  return {};
}

/// Refuses a photograph of which nobody gave the picture.
Result<void> pictures_are_here(Database& database, const trade::BikeLines& lines) {
  for (const trade::BikeLine& line : lines.lines) {
    if (line.deed != trade::Deed::kPhoto) continue;
    if (Result<void> ok = has_picture(database, line.serial); !ok) return ok;
  }
  return {};
}

/// What the writer had read is still so.
Result<void> nothing_changed_since(Database& database, const Change& change) {
  const trade::ShopFiles& files = change.put;
  Result<void> same = unchanged_since(database, change.read_at, files.parts, "part");
  if (same) same = unchanged_since(database, change.read_at, files.stock, "stock");
  if (same) same = unchanged_since(database, change.read_at, files.purchases, "line");
  if (same) same = unchanged_since(database, change.read_at, files.people, "person");
  if (same) same = unchanged_since(database, change.read_at, files.recalls, "recall");
  if (same) same = unchanged_since(database, change.read_at, files.recall_steps, "step");
  if (same) same = follows_agreed(database, files.agreed_plans);
  return same;
}

/// Counts up the revisions of orders that will be written.
Result<void> next_revisions(Database& database, std::vector<trade::Order>& orders) {
  for (trade::Order& order : orders) {
    // As it stands in the book already, revision and all: nothing to write.
    const Result<std::string> said = last_said(database, record_of(order).subject);
    if (!said) return std::unexpected(said.error());
    if (*said == record_of(order).text) continue;
    if (Result<void> ok = next_revision(database, order); !ok) return ok;
  }
  return {};
}

/// Puts and takes the rows of one change, each with its entry in the journal; counts them.
class RowsOfChange {
 public:
  RowsOfChange(Database& database, const Change& change) : database_(database), change_(change) {}

  Result<void> put_all(const trade::ShopFiles& files) {
    Result<void> ok = for_each_thing(files, [this](const Record& record, const auto& put_it) {
      return put_one(record, put_it);
    });
    for (const PersonSecret& secret : change_.secrets) {
      if (ok) ok = put_thing(secret);
    }
    for (const Picture& picture : change_.pictures) {
      if (ok) ok = put_thing(picture);
    }
    for (const GoodsPhoto& photo : change_.goods_photos) {
      if (ok) ok = has_picture(database_, photo.picture);
      if (ok) ok = put_thing(photo);
    }
    return ok;
  }

  Result<void> take_all_away() {
    Result<void> ok;
    for (const auto& [supplier, part] : change_.take_away.offers) {
      if (ok) ok = take_one(offer_subject(supplier, part), remove_offer(database_, supplier, part));
    }
    for (const trade::Receipt& receipt : change_.take_away.receipts) {
      if (ok) ok = take_one(record_of(receipt).subject, remove_receipt(database_, receipt));
    }
    for (const trade::PartId& part : change_.take_away.parts) {
      if (ok) ok = take_one(part_subject(part), remove_part(database_, part));
    }
    return ok;
  }

  Result<void> add_lines() {
    for (const trade::BikeLines& lines : change_.record) {
      Result<void> ok = pictures_are_here(database_, lines);
      if (ok) ok = add(database_, lines);
      if (ok) ok = note(bike_subject(lines.order), {}, text_of(lines));
      if (!ok) return ok;
    }
    return {};
  }

  [[nodiscard]] int things() const { return things_; }

 private:
  template <class Thing>
  Result<void> put_thing(const Thing& thing) {
    return put_one(record_of(thing),
                   [&thing](Database& database) { return put(database, thing); });
  }

  template <class PutIt>
  Result<void> put_one(const Record& record, const PutIt& put_it) {
    const Result<std::string> before = last_said(database_, record.subject);
    if (!before) return std::unexpected(before.error());
    if (*before == record.text) return {};
    if (Result<void> ok = put_it(database_); !ok) return ok;
    return note(record.subject, *before, record.text);
  }

  Result<void> take_one(const std::string& subject, Result<void> gone) {
    if (!gone) return gone;
    const Result<std::string> before = last_said(database_, subject);
    if (!before) return std::unexpected(before.error());
    if (before->empty()) return {};  // it is not there
    return note(subject, *before, {});
  }

  Result<void> note(const std::string& subject, const std::string& before,
                    const std::string& after) {
    Entry entry{.at = change_.at, .who = change_.who, .what = change_.what, .why = change_.why,
                .subject = subject, .before = before, .after = after};
    ++things_;
    return append(database_, entry);
  }

  Database& database_;
  const Change& change_;
  int things_ = 0;  // that really changed
};

}  // namespace

Result<Written> write_change(Database& database, const Change& change) {
  Result<Transaction> transaction = Transaction::begin(database);
  if (!transaction) return std::unexpected(transaction.error());
  for (const trade::BikeLines& lines : change.record) {
    const Result<bool> sent = was_sent(database, lines.key);
    if (!sent) return std::unexpected(sent.error());
    if (*sent) return Written{.sent_before = true};
  }
  trade::ShopFiles files = change.put;
  RowsOfChange rows(database, change);
  Result<void> ok = next_revisions(database, files.orders);
  if (ok) ok = nothing_changed_since(database, change);
  if (ok) ok = rows.put_all(files);
  if (ok) ok = rows.take_all_away();
  if (ok) ok = rows.add_lines();
  if (!ok) return std::unexpected(ok.error());
  const Result<std::int64_t> last = last_seq(database);
  if (!last) return std::unexpected(last.error());
  if (ok = transaction->commit(); !ok) return std::unexpected(ok.error());
  return Written{.things = rows.things(), .last_entry = *last};
}

}  // namespace rollwright::book
