#include "book/book.hpp"

#include <algorithm>
#include <filesystem>
#include <map>

#include <fmt/format.h>

#include "book/record.hpp"
#include "book/schema.hpp"
#include "book/tables.hpp"

namespace rollwright::book {
namespace {

/// Calls `visit` with the record of each thing and a function that puts it into its table.
template <class Visit>
Result<void> for_each_thing(const trade::ShopFiles& files, Visit visit) {
  Result<void> ok;
  const auto walk = [&](const auto& things) {
    for (const auto& thing : things) {
      if (!ok) return;
      ok = visit(record_of(thing), [&thing](Database& database) { return put(database, thing); });
    }
  };
  walk(files.settings);
  walk(files.areas);
  walk(files.people);
  walk(files.suppliers);
  walk(files.parts);
  walk(files.offers);
  walk(files.stock);
  walk(files.purchases);
  walk(files.receipts);
  walk(files.used);
  walk(files.promises);
  walk(files.times);
  walk(files.tools);
  walk(files.orders);
  walk(files.signed_specs);
  walk(files.order_moves);
  for (const auto& [id, gpx] : files.routes) {
    if (!ok) break;
    ok = visit(record_of_route(id, gpx),
               [&](Database& database) { return put_route(database, id, gpx); });
  }
  for (const auto& [supplier, mapping] : files.mappings) {
    if (!ok) break;
    ok = visit(record_of_mapping(supplier, mapping), [&](Database& database) {
      return put_mapping(database, supplier, mapping);
    });
  }
  walk(files.taken_lists);
  walk(files.plan_settings);
  walk(files.agreed_plans);
  walk(files.order_plans);
  walk(files.recalls);
  walk(files.recall_steps);
  walk(files.maker_forms);
  walk(files.maker_lists);
  walk(files.difference_answers);
  return ok;
}

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

Result<std::int64_t> last_seq(Database& database) {
  const Result<Rows> rows = database.run("select coalesce(max(seq), 0) from journal", {});
  if (!rows) return std::unexpected(rows.error());
  return whole(rows->front()[0]);
}

Result<trade::ShopFiles> everything(Database& database) {
  trade::ShopFiles files;
  Result<void> ok;
  const auto take = [&ok](auto& into, auto from) {
    if (!ok) return;
    if (from) {
      into = std::move(*from);
    } else {
      ok = std::unexpected(from.error());
    }
  };
  take(files.settings, read_settings(database));
  take(files.areas, read_areas(database));
  take(files.people, read_people(database));
  take(files.suppliers, read_suppliers(database));
  take(files.parts, read_parts(database));
  take(files.offers, read_offers(database));
  take(files.stock, read_stock(database));
  take(files.purchases, read_purchases(database));
  take(files.receipts, read_receipts(database));
  take(files.used, read_used(database));
  take(files.promises, read_promises(database));
  take(files.times, read_times(database));
  take(files.tools, read_tools(database));
  take(files.orders, read_orders(database));
  take(files.signed_specs, read_signed_specs(database));
  take(files.order_moves, read_order_moves(database));
  take(files.routes, read_routes(database));
  take(files.mappings, read_mappings(database));
  take(files.taken_lists, read_taken_lists(database));
  take(files.plan_settings, read_plan_settings(database));
  take(files.agreed_plans, read_agreed_plans(database));
  take(files.order_plans, read_order_plans(database));
  take(files.recalls, read_recalls(database));
  take(files.recall_steps, read_recall_steps(database));
  take(files.maker_forms, read_maker_forms(database));
  take(files.maker_lists, read_maker_lists(database));
  take(files.difference_answers, read_difference_answers(database));
  if (!ok) return std::unexpected(ok.error());
  return files;
}

/// Subject -> text of the newest journal entry about it.
Result<std::map<std::string, std::string>> newest_said(Database& database) {
  const Result<Rows> rows = database.run(
      "select j.subject, j.after from journal j join "
      "(select subject, max(seq) as seq from journal "
      "where subject < 'bike ' or subject >= 'bike!' group by subject) newest "
      "on newest.seq = j.seq where j.after <> ''",
      {});
  if (!rows) return std::unexpected(rows.error());
  std::map<std::string, std::string> said;
  for (const Row& row : *rows) said[text(row[0])] = text(row[1]);
  return said;
}

/// The first row of a table that is not just as it would be written: a cell that reads as the right
/// value and is written otherwise was changed past the journal as well.
Result<std::optional<std::string>> first_altered_row(const trade::ShopFiles& held,
                                                     const std::vector<PersonSecret>& secrets,
                                                     const std::vector<GoodsPhoto>& photos,
                                                     Database& database) {
  Result<std::unique_ptr<Database>> anew = open_sqlite(":memory:");
  if (!anew) return std::unexpected(anew.error());
  Result<void> ok = prepare_schema(**anew, true);
  if (ok) ok = (*anew)->begin();
  if (ok) {
    ok = for_each_thing(held, [&](const Record&, const auto& put_it) { return put_it(**anew); });
  }
  for (const PersonSecret& secret : secrets) {
    if (ok) ok = put(**anew, secret);
  }
  for (const GoodsPhoto& photo : photos) {
    if (ok) ok = put(**anew, photo);
  }
  if (ok) ok = (*anew)->commit();
  const Result<std::vector<std::string>> tables = database.tables();
  if (!ok || !tables) return std::unexpected(ok ? tables.error() : ok.error());
  for (const std::string& table : *tables) {
    // Records of bikes, pictures and the journal have proofs of their own.
    if (table == "journal" || table == "bike_line" || table == "sent_once" || table == "picture") {
      continue;
    }
    const auto rows_of = [&table](Database& of) {
      Result<Rows> rows = of.run("select * from " + table, {});
      if (rows) std::ranges::sort(*rows);
      return rows;
    };
    const Result<Rows> now = rows_of(database);
    const Result<Rows> as_written = rows_of(**anew);
    if (!now || !as_written) return std::unexpected(now ? as_written.error() : now.error());
    if (*now == *as_written) continue;
    return fmt::format("a row of the table {} was changed past the journal", table);
  }
  return std::nullopt;
}

}  // namespace

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
  Result<Transaction> transaction = Transaction::begin(*database_);
  if (!transaction) return std::unexpected(transaction.error());
  for (const trade::BikeLines& lines : change.record) {
    const Result<bool> sent = book::was_sent(*database_, lines.key);
    if (!sent) return std::unexpected(sent.error());
    if (*sent) return Written{.sent_before = true};
  }
  trade::ShopFiles files = change.put;
  for (trade::Order& order : files.orders) {
    // As it stands in the book already, revision and all: nothing to write.
    const Result<std::string> said = last_said(*database_, record_of(order).subject);
    if (!said) return std::unexpected(said.error());
    if (*said == record_of(order).text) continue;
    if (Result<void> ok = next_revision(*database_, order); !ok) return std::unexpected(ok.error());
  }
  Result<void> same = unchanged_since(*database_, change.read_at, files.parts, "part");
  if (same) same = unchanged_since(*database_, change.read_at, files.stock, "stock");
  if (same) same = unchanged_since(*database_, change.read_at, files.purchases, "line");
  if (same) same = unchanged_since(*database_, change.read_at, files.people, "person");
  if (same) same = unchanged_since(*database_, change.read_at, files.recalls, "recall");
  if (same) same = unchanged_since(*database_, change.read_at, files.recall_steps, "step");
  if (!same) return std::unexpected(same.error());
  if (Result<void> ok = follows_agreed(*database_, files.agreed_plans); !ok) {
    return std::unexpected(ok.error());
  }
  Written written;
  const auto write_one = [&](const Record& record, const auto& put_it) -> Result<void> {
    Result<std::string> before = last_said(*database_, record.subject);
    if (!before) return std::unexpected(before.error());
    if (*before == record.text) return {};
    if (Result<void> ok = put_it(*database_); !ok) return ok;
    Entry entry{.at = change.at, .who = change.who, .what = change.what, .why = change.why,
                .subject = record.subject, .before = *before, .after = record.text};
    ++written.things;
    return append(*database_, entry);
  };
  if (Result<void> ok = for_each_thing(files, write_one); !ok) return std::unexpected(ok.error());
  for (const PersonSecret& secret : change.secrets) {
    Result<void> ok = write_one(record_of(secret), [&secret](Database& database) {
      return put(database, secret);
    });
    if (!ok) return std::unexpected(ok.error());
  }
  for (const Picture& picture : change.pictures) {
    Result<void> ok = write_one(record_of(picture), [&picture](Database& database) {
      return put(database, picture);
    });
    if (!ok) return std::unexpected(ok.error());
  }
  for (const GoodsPhoto& photo : change.goods_photos) {
    Result<void> ok = has_picture(*database_, photo.picture);
    if (ok) {
      ok = write_one(record_of(photo),
                     [&photo](Database& database) { return put(database, photo); });
    }
    if (!ok) return std::unexpected(ok.error());
  }
  const auto take_one = [&](const std::string& subject, Result<void> gone) -> Result<void> {
    if (!gone) return gone;
    Result<std::string> before = last_said(*database_, subject);
    if (!before) return std::unexpected(before.error());
    if (before->empty()) return {};  // it is not there
    Entry entry{.at = change.at, .who = change.who, .what = change.what, .why = change.why,
                .subject = subject, .before = *before, .after = {}};
    ++written.things;
    return append(*database_, entry);
  };
  for (const auto& [supplier, part] : change.take_away.offers) {
    Result<void> ok =
        take_one(offer_subject(supplier, part), remove_offer(*database_, supplier, part));
    if (!ok) return std::unexpected(ok.error());
  }
  for (const trade::Receipt& receipt : change.take_away.receipts) {
    Result<void> ok = take_one(record_of(receipt).subject, remove_receipt(*database_, receipt));
    if (!ok) return std::unexpected(ok.error());
  }
  for (const trade::PartId& part : change.take_away.parts) {
    Result<void> ok = take_one(part_subject(part), remove_part(*database_, part));
    if (!ok) return std::unexpected(ok.error());
  }
  for (const trade::BikeLines& lines : change.record) {
    if (Result<void> ok = pictures_are_here(*database_, lines); !ok) {
      return std::unexpected(ok.error());
    }
    if (Result<void> ok = add(*database_, lines); !ok) return std::unexpected(ok.error());
    Entry entry{.at = change.at, .who = change.who, .what = change.what, .why = change.why,
                .subject = bike_subject(lines.order), .before = {}, .after = text_of(lines)};
    if (Result<void> ok = append(*database_, entry); !ok) return std::unexpected(ok.error());
    ++written.things;
  }
  const Result<std::int64_t> last = last_seq(*database_);
  if (!last) return std::unexpected(last.error());
  written.last_entry = *last;
  if (Result<void> ok = transaction->commit(); !ok) return std::unexpected(ok.error());
  return written;
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

Result<std::vector<MarkFound>> Book::find_marks(const MarksWanted& wanted) {
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
  Result<ChainReport> report = verify_tables(printed, pictures);
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

Result<ChainReport> Book::verify_tables(const std::string& printed,
                                        std::map<std::string, std::string>& pictures) {
  const std::lock_guard lock(*mutex_);
  Result<ChainReport> report = verify_chain(*database_);
  if (!report || !report->whole) return report;
  Result<std::map<std::string, std::string>> said = newest_said(*database_);
  const Result<trade::ShopFiles> held = everything(*database_);
  const Result<std::vector<PersonSecret>> secrets = read_secrets(*database_);
  if (!said || !held) return std::unexpected(said ? held.error() : said.error());
  if (!secrets) return std::unexpected(secrets.error());
  const Result<std::vector<GoodsPhoto>> photos = read_goods_photos(*database_, {});
  const Result<int> pictures_held = count_pictures(*database_);
  if (!photos || !pictures_held) {
    return std::unexpected(photos ? pictures_held.error() : photos.error());
  }
  for (auto said_of = said->begin(); said_of != said->end();) {
    const auto next = std::next(said_of);
    if (is_of_picture(said_of->first)) pictures.insert(said->extract(said_of));
    said_of = next;
  }
  const auto compare = [&](const Record& record) {
    const auto found = said->find(record.subject);
    if (report->whole && (found == said->end() || found->second != record.text)) {
      report->whole = false;
      report->sentence = fmt::format("{} in the tables is not what the journal says of it",
                                     record.subject);
    }
    if (found != said->end()) said->erase(found);
  };
  const Result<void> compared = for_each_thing(*held, [&](const Record& record, const auto&) {
    compare(record);
    return Result<void>();
  });
  if (!compared) return std::unexpected(compared.error());
  for (const PersonSecret& secret : *secrets) compare(record_of(secret));
  for (const GoodsPhoto& photo : *photos) compare(record_of(photo));
  if (report->whole && !said->empty()) {
    report->whole = false;
    report->sentence = fmt::format("{} is in the journal but gone from the tables",
                                   said->begin()->first);
  }
  if (report->whole && *pictures_held > static_cast<int>(pictures.size())) {
    report->whole = false;
    report->sentence = "there are more pictures in the tables than in the journal";
  }
  const auto look = [&](Result<std::optional<std::string>> altered) -> Result<void> {
    if (!altered) return std::unexpected(altered.error());
    if (!*altered) return {};
    report->whole = false;
    report->sentence = std::move(**altered);
    return {};
  };
  Result<void> looked;
  if (report->whole) looked = look(first_altered_line(*database_));
  if (looked && report->whole) looked = look(first_altered_row(*held, *secrets, *photos, *database_));
  if (!looked) return std::unexpected(looked.error());
  if (report->whole && !printed.empty()) {
    const Result<Rows> known = database_->run("select seq from journal where hash = ?", {printed});
    if (!known) return std::unexpected(known.error());
    if (known->empty()) {
      report->whole = false;
      report->sentence = fmt::format("no entry has the printed hash {}: it is of another book, or "
                                     "the journal's tail was cut off",
                                     printed);
    }
  }
  if (report->whole) {
    report->sentence = fmt::format("All {} entries follow from one another, and the tables hold "
                                   "what the journal says.",
                                   report->entries);
  }
  return report;
}

}  // namespace rollwright::book
