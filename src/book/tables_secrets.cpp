#include <array>

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sodium.h>

#include "book/cells.hpp"
#include "book/person_secret.hpp"

// Passwords and PINs, as hashes.
namespace rollwright::book {
namespace {

/// Over all columns, each preceded by its length, so that no two rows share a text.
std::string mark_of(const PersonSecret& secret) {
  crypto_generichash_state state;
  crypto_generichash_init(&state, nullptr, 0, crypto_generichash_BYTES);
  for (const std::string* field : {&secret.person.text, &secret.password, &secret.pin}) {
    const std::string piece = fmt::format("{}:{}", field->size(), *field);
    crypto_generichash_update(&state, reinterpret_cast<const unsigned char*>(piece.data()),
                              piece.size());
  }
  std::array<unsigned char, crypto_generichash_BYTES> digest{};
  crypto_generichash_final(&state, digest.data(), digest.size());
  std::array<char, crypto_generichash_BYTES * 2 + 1> hex{};
  sodium_bin2hex(hex.data(), hex.size(), digest.data(), digest.size());
  return hex.data();
}

}  // namespace

Record record_of(const PersonSecret& secret) {
  std::string subject = "sign-in of " + secret.person.text;
  if (secret.password.empty() && secret.pin.empty()) return {std::move(subject), {}};
  const nlohmann::ordered_json json = {{"password", !secret.password.empty()},
                                       {"pin", !secret.pin.empty()},
                                       {"mark", mark_of(secret)}};
  return {std::move(subject), json.dump()};
}

Result<void> put(Database& database, const PersonSecret& secret) {
  Result<void> out =
      done(database.run("delete from person_secret where person = ?", {secret.person.text}));
  if (!out || (secret.password.empty() && secret.pin.empty())) return out;
  return done(database.run("insert into person_secret (person, password, pin) values (?, ?, ?)",
                           {secret.person.text, secret.password, secret.pin}));
}

Result<std::vector<PersonSecret>> read_secrets(Database& database) {
  return read_each<PersonSecret>(
      database, "select person, password, pin from person_secret order by person",
      [](const Row& row) {
        return PersonSecret{.person = trade::PersonId(text(row[0])), .password = text(row[1]),
                            .pin = text(row[2])};
      });
}

}  // namespace rollwright::book
