#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "book/database.hpp"

namespace rollwright::book {

/// One line of the journal: what changed, by whom, when, why, from what to what.
struct Entry {
  std::int64_t seq = 0;  // from 1, without gaps
  Instant at = {};
  std::string who;
  std::string what;     // "choose", "import"
  std::string why;
  std::string subject;  // record's subject
  std::string before;   // record's text; empty when it is new
  std::string after;    // empty when it was taken away
  std::string previous;  // hash of the entry before; 64 zeros for the first
  std::string hash;
};

/// BLAKE2b-256 over every field but the hash itself, each preceded by its length, so that no two
/// entries share a text. Hexadecimal.
/// Source: RFC 7693; computed by libsodium's crypto_generichash.
[[nodiscard]] std::string hash_of(const Entry& entry);

/// Adds an entry after the last one and fills in seq, previous and hash. Inside a transaction.
[[nodiscard]] Result<void> append(Database& database, Entry& entry);

/// Number of the last entry; 0 when there is none.
[[nodiscard]] Result<std::int64_t> last_seq(Database& database);

/// The newest entries about a subject, newest first; about everything when it is empty.
[[nodiscard]] Result<std::vector<Entry>> newest_entries(Database& database,
                                                        const std::string& subject, int most);
/// The next entries about a subject after this one, oldest first; none when there are no more.
[[nodiscard]] Result<std::vector<Entry>> entries_after(Database& database,
                                                       const std::string& subject,
                                                       std::int64_t seq);

/// The entries with this deed and reason, oldest first.
[[nodiscard]] Result<std::vector<Entry>> entries_of_change(Database& database,
                                                           const std::string& what,
                                                           const std::string& why);

struct ChainReport {
  std::int64_t entries = 0;
  bool whole = false;
  std::string sentence;   // what is wrong and where, or that all is well
  std::string last_hash;
};

/// Walks the chain from the first entry: numbers without gaps, each hash right, each linked.
[[nodiscard]] Result<ChainReport> verify_chain(Database& database);

}  // namespace rollwright::book
