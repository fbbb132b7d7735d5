#include "book/journal.hpp"

#include <array>

#include <fmt/format.h>
#include <sodium.h>

namespace rollwright::book {
namespace {

const std::string kNoHash(64, '0');

void add(crypto_generichash_state& state, std::string_view field) {
  const std::string length = fmt::format("{}:", field.size());
  for (const std::string_view piece : {std::string_view(length), field}) {
    crypto_generichash_update(&state, reinterpret_cast<const unsigned char*>(piece.data()),
                              piece.size());
  }
}

Entry entry_from(const Row& row) {
  Entry entry{.seq = whole(row[0])};
  entry.at = parse_instant(text(row[1])).value_or(Instant{});
  entry.who = text(row[2]);
  entry.what = text(row[3]);
  entry.why = text(row[4]);
  entry.subject = text(row[5]);
  entry.before = text(row[6]);
  entry.after = text(row[7]);
  entry.previous = text(row[8]);
  entry.hash = text(row[9]);
  return entry;
}

constexpr const char* kColumns =
    "seq, at, who, what, why, subject, before, after, previous, hash";
constexpr std::int64_t kBatch = 2000;

}  // namespace

std::string hash_of(const Entry& entry) {
  crypto_generichash_state state;
  crypto_generichash_init(&state, nullptr, 0, crypto_generichash_BYTES);
  add(state, std::to_string(entry.seq));
  add(state, iso(entry.at));
  for (const std::string* field : {&entry.who, &entry.what, &entry.why, &entry.subject,
                                   &entry.before, &entry.after, &entry.previous}) {
    add(state, *field);
  }
  std::array<unsigned char, crypto_generichash_BYTES> digest{};
  crypto_generichash_final(&state, digest.data(), digest.size());
  std::array<char, crypto_generichash_BYTES * 2 + 1> hex{};
  sodium_bin2hex(hex.data(), hex.size(), digest.data(), digest.size());
  return hex.data();
}

Result<void> append(Database& database, Entry& entry) {
  const Result<Rows> last =
      database.run("select seq, hash from journal order by seq desc limit 1", {});
  if (!last) return std::unexpected(last.error());
  entry.seq = last->empty() ? 1 : whole(last->front()[0]) + 1;
  entry.previous = last->empty() ? kNoHash : text(last->front()[1]);
  entry.hash = hash_of(entry);
  const Result<Rows> written = database.run(
      "insert into journal (seq, at, who, what, why, subject, before, after, previous, hash) "
      "values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
      {entry.seq, iso(entry.at), entry.who, entry.what, entry.why, entry.subject, entry.before,
       entry.after, entry.previous, entry.hash});
  if (!written) return std::unexpected(written.error());
  return {};
}

Result<std::vector<Entry>> entries_after(Database& database, const std::string& subject,
                                         std::int64_t seq) {
  const Result<Rows> rows = database.run(
      std::string("select ") + kColumns +
          " from journal where subject = ? and seq > ? order by seq limit ?",
      {subject, seq, kBatch});
  if (!rows) return std::unexpected(rows.error());
  std::vector<Entry> entries;
  for (const Row& row : *rows) entries.push_back(entry_from(row));
  return entries;
}

Result<std::int64_t> last_seq(Database& database) {
  const Result<Rows> rows = database.run("select coalesce(max(seq), 0) from journal", {});
  if (!rows) return std::unexpected(rows.error());
  return whole(rows->front()[0]);
}

Result<std::vector<Entry>> newest_entries(Database& database, const std::string& subject,
                                          int most) {
  const std::string sql = std::string("select ") + kColumns + " from journal" +
                          (subject.empty() ? "" : " where subject = ?") +
                          " order by seq desc limit ?";
  Row arguments;
  if (!subject.empty()) arguments.emplace_back(subject);
  arguments.emplace_back(std::int64_t{most});
  const Result<Rows> rows = database.run(sql, arguments);
  if (!rows) return std::unexpected(rows.error());
  std::vector<Entry> entries;
  for (const Row& row : *rows) entries.push_back(entry_from(row));
  return entries;
}

Result<std::vector<Entry>> entries_of_change(Database& database, const std::string& what,
                                             const std::string& why) {
  const Result<Rows> rows = database.run(
      std::string("select ") + kColumns + " from journal where what = ? and why = ? order by seq",
      {what, why});
  if (!rows) return std::unexpected(rows.error());
  std::vector<Entry> entries;
  for (const Row& row : *rows) entries.push_back(entry_from(row));
  return entries;
}

Result<ChainReport> verify_chain(Database& database) {
  ChainReport report{.entries = 0, .whole = true, .sentence = {}, .last_hash = kNoHash};
  while (true) {
    const Result<Rows> rows = database.run(
        std::string("select ") + kColumns + " from journal where seq > ? order by seq limit ?",
        {report.entries, kBatch});
    if (!rows) return std::unexpected(rows.error());
    for (const Row& row : *rows) {
      const Entry entry = entry_from(row);
      const std::int64_t expected = report.entries + 1;
      if (entry.seq != expected) {
        report.sentence = fmt::format("entry {} is missing from the journal", expected);
      } else if (entry.previous != report.last_hash) {
        report.sentence = fmt::format("entry {} does not follow from entry {}", entry.seq,
                                      report.entries);
      } else if (iso(entry.at) != text(row[1]) || hash_of(entry) != entry.hash) {
        report.sentence = fmt::format("entry {} ({}, {}) was altered after it was written",
                                      entry.seq, entry.what, entry.subject);
      }
      if (!report.sentence.empty()) {
        report.whole = false;
        return report;
      }
      report.entries = entry.seq;
      report.last_hash = entry.hash;
    }
    if (rows->empty()) return report;
  }
}

}  // namespace rollwright::book
