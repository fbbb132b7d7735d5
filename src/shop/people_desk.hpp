#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "book/person_secret.hpp"
#include "shop/people_views.hpp"
#include "trade/person.hpp"

namespace rollwright::shop {

class Shop;

/// The owner to be: somebody the shop knows, or somebody new of this name.
struct OwnerGiven {
  std::string person;
  std::string name;
  std::string password;
};

enum class Proof { kPassword, kPin };

/// A person with what is kept of password and PIN; the hashes tell only whether something changed.
struct Known {
  trade::PersonId id;
  std::string name;
  std::vector<std::string> roles;
  std::string password;
  std::string pin;
  [[nodiscard]] const std::string& hash(Proof proof) const {
    return proof == Proof::kPassword ? password : pin;
  }
};

/// The use cases of people and what they prove themselves with. People and their roles come from the
/// shop's files; only the first owner may be made here.
///
/// Invariants: nobody has to sign in until somebody has a password; from then on there always is an
///             owner with one: the last one's cannot be taken away.
/// Threads: any number of callers.
class PeopleDesk {
 public:
  static constexpr std::size_t kLeastPassword = 10;  // characters
  static constexpr std::size_t kMostPassword = 200;  // bytes

  explicit PeopleDesk(Shop& shop) : shop_(shop) {}

  /// Nobody has a password, so nobody has to sign in.
  [[nodiscard]] Result<bool> is_open();
  [[nodiscard]] Result<PeopleView> people();
  /// Errors: kNotFound.
  [[nodiscard]] Result<Known> person(const trade::PersonId& id);
  /// The person whose id is typed so, in capitals or not; what was typed where nobody's is.
  [[nodiscard]] Result<trade::PersonId> typed(const std::string& text);
  /// The person of this id or name. Errors: kNotFound, with who may be meant.
  [[nodiscard]] Result<trade::PersonId> called(const std::string& name, const char* field);

  /// Gives the role owner and a password to a person the shop knows, or to a new one. Errors:
  /// kBadInput for a password that is easily guessed; kConflict for the name of somebody known;
  /// kRefused with `only_first` once somebody has a password.
  [[nodiscard]] Result<PersonSignIn> make_owner(const OwnerGiven& given, const std::string& who,
                                                bool only_first);
  /// Errors: kNotFound; kBadInput for one that is easily guessed; kRefused before there is an owner.
  [[nodiscard]] Result<PersonSignIn> set_password(const trade::PersonId& person,
                                                  const std::string& password,
                                                  const std::string& who);
  /// 4 to 8 digits. Errors: as set_password.
  [[nodiscard]] Result<PersonSignIn> set_pin(const trade::PersonId& person,
                                             const std::string& pin, const std::string& who);
  /// Takes password and PIN away. Errors: kNotFound; kRefused for the last owner who can sign in.
  [[nodiscard]] Result<PersonSignIn> take_away(const trade::PersonId& person,
                                               const std::string& who);

  /// Whether the words are the person's. Takes the same time for a person who is not known or has
  /// none. Errors: the book's.
  [[nodiscard]] Result<bool> proves(const trade::PersonId& person, Proof proof,
                                    std::string_view words);

 private:
  using Secrets = std::map<trade::PersonId, book::PersonSecret>;
  [[nodiscard]] Result<std::shared_ptr<const Secrets>> secrets();
  [[nodiscard]] Result<PersonSignIn> write(book::PersonSecret secret, const std::string& who,
                                           const std::string& what);
  [[nodiscard]] Result<void> owner_can_still_sign_in(const trade::PersonId& without);

  Shop& shop_;
  std::mutex changing_;  // one change after the other: each looks before it writes
  std::mutex mutex_;
  std::int64_t entry_ = -1;
  std::shared_ptr<const Secrets> secrets_;
};

}  // namespace rollwright::shop
