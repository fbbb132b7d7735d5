#pragma once

#include <string>
#include <vector>

#include "book/database.hpp"
#include "book/record.hpp"
#include "trade/order.hpp"

namespace rollwright::book {

/// What proves that somebody is this person. Each text is the result of a slow hash with its salt
/// and its cost in it, empty when there is none; never the words themselves. Both empty: nothing is
/// held about the person.
struct PersonSecret {
  trade::PersonId person;
  std::string password;
  std::string pin;
};

/// For the journal: that there is a password or a PIN, and a mark of the stored row, so that
/// `verify` finds a row changed past the journal. The mark is BLAKE2b-256 over the row; its 128 bit
/// salts stand nowhere else, so nobody can try words against the mark.
[[nodiscard]] Record record_of(const PersonSecret& secret);

Result<void> put(Database& database, const PersonSecret& secret);
Result<std::vector<PersonSecret>> read_secrets(Database& database);

}  // namespace rollwright::book
