#include "book/verify_tables.hpp"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "book/bike_lines.hpp"
#include "book/everything.hpp"
#include "book/person_secret.hpp"
#include "book/picture.hpp"
#include "book/schema.hpp"

namespace rollwright::book {
namespace {

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

Result<ChainReport> verify_tables(Database& database, const std::string& printed,
                                  std::map<std::string, std::string>& pictures) {
  Result<ChainReport> report = verify_chain(database);
  if (!report || !report->whole) return report;
  Result<std::map<std::string, std::string>> said = newest_said(database);
  const Result<trade::ShopFiles> held = everything(database);
  const Result<std::vector<PersonSecret>> secrets = read_secrets(database);
  if (!said || !held) return std::unexpected(said ? held.error() : said.error());
  if (!secrets) return std::unexpected(secrets.error());
  const Result<std::vector<GoodsPhoto>> photos = read_goods_photos(database, {});
  const Result<int> pictures_held = count_pictures(database);
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
  if (report->whole) looked = look(first_altered_line(database));
  if (looked && report->whole) looked = look(first_altered_row(*held, *secrets, *photos, database));
  if (!looked) return std::unexpected(looked.error());
  if (report->whole && !printed.empty()) {
    const Result<Rows> known = database.run("select seq from journal where hash = ?", {printed});
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
