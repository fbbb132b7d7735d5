#include "shop/people_desk.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/fit_secrets.hpp"
#include "shop/secret_hash.hpp"
#include "shop/shop.hpp"

namespace rollwright::shop {
namespace {

PersonSignIn sign_in_of(const trade::Person& person, const book::PersonSecret& secret) {
  return {.id = person.id.text, .name = person.name, .roles = person.roles,
          .has_password = !secret.password.empty(), .has_pin = !secret.pin.empty()};
}

bool is_owner(const trade::Person& person) {
  return std::ranges::count(person.roles, "owner") > 0;
}

/// "Mara Hollis" -> "mara-hollis"; with a number behind it when somebody is called so already.
trade::PersonId new_id(const std::string& name, const std::vector<trade::Person>& people) {
  std::string id;
  for (const char c : lowered(name)) {
    const bool plain = ('a' <= c && c <= 'z') || ('0' <= c && c <= '9');
    if (plain) id += c;
    if (!plain && !id.empty() && id.back() != '-') id += '-';
  }
  while (!id.empty() && id.back() == '-') id.pop_back();
  if (id.empty()) id = "owner";
  std::string tried = id;
  for (int n = 2; std::ranges::count(people, trade::PersonId(tried), &trade::Person::id) > 0; ++n) {
    tried = fmt::format("{}-{}", id, n);
  }
  return trade::PersonId(tried);
}

Result<trade::Person> owner_to_be(const State& state, const OwnerGiven& given) {
  if (!given.person.empty()) {
    const auto found = person_called(state, given.person, "person");
    if (!found) return std::unexpected(found.error());
    return **found;
  }
  const std::string name(trim(given.name));
  if (name.empty() || name.size() > 100) {
    return refuse(Code::kBadInput, "the owner needs a name, of at most 100 bytes",
                  {.field = "name", .value = name});
  }
  if (person_called(state, name, "name")) {
    return refuse(Code::kConflict,
                  "somebody of the shop is called so already; name the person instead",
                  {.field = "name", .value = name});
  }
  return trade::Person{.id = new_id(name, state.held.people), .name = name, .roles = {}};
}

}  // namespace

Result<std::shared_ptr<const PeopleDesk::Secrets>> PeopleDesk::secrets() {
  const Result<std::int64_t> last = shop_.book_.last_entry();
  if (!last) return std::unexpected(last.error());
  const std::lock_guard lock(mutex_);
  if (secrets_ && entry_ == *last) return secrets_;
  const auto held = shop_.book_.secrets();
  if (!held) return std::unexpected(held.error());
  auto fresh = std::make_shared<Secrets>();
  for (const book::PersonSecret& secret : *held) fresh->emplace(secret.person, secret);
  secrets_ = std::move(fresh);
  entry_ = *last;
  return secrets_;
}

Result<bool> PeopleDesk::is_open() {
  const auto held = secrets();
  if (!held) return std::unexpected(held.error());
  return std::ranges::all_of(**held, [](const auto& one) { return one.second.password.empty(); });
}

Result<PeopleView> PeopleDesk::people() {
  const auto current = shop_.state();
  const auto held = secrets();
  const auto open = is_open();
  if (!current) return std::unexpected(current.error());
  if (!held) return std::unexpected(held.error());
  if (!open) return std::unexpected(open.error());
  PeopleView view{.open = *open, .people = {}, .stations = {}};
  for (const trade::Person& person : (*current)->held.people) {
    const auto secret = (*held)->find(person.id);
    view.people.push_back(sign_in_of(
        person, secret == (*held)->end() ? book::PersonSecret{} : secret->second));
  }
  return view;
}

Result<Known> PeopleDesk::person(const trade::PersonId& id) {
  const auto current = shop_.state();
  const auto held = secrets();
  if (!current) return std::unexpected(current.error());
  if (!held) return std::unexpected(held.error());
  const auto& people = (*current)->held.people;
  const auto found = std::ranges::find(people, id, &trade::Person::id);
  if (found == people.end()) {
    return refuse(Code::kNotFound, "nobody of the shop is called so",
                  {.field = "person", .value = id.text});
  }
  Known known{.id = id, .name = found->name, .roles = found->roles, .password = {}, .pin = {}};
  if (const auto secret = (*held)->find(id); secret != (*held)->end()) {
    known.password = secret->second.password;
    known.pin = secret->second.pin;
  }
  return known;
}

Result<trade::PersonId> PeopleDesk::typed(const std::string& text) {
  const auto current = shop_.state();
  if (!current) return std::unexpected(current.error());
  const std::string wanted(trim(text));
  std::optional<trade::PersonId> alike;
  for (const trade::Person& person : (*current)->held.people) {
    if (person.id.text == wanted) return person.id;
    if (lowered(person.id.text) == lowered(wanted)) alike = person.id;
  }
  return alike.value_or(trade::PersonId(wanted));
}

Result<trade::PersonId> PeopleDesk::called(const std::string& name, const char* field) {
  const auto current = shop_.state();
  if (!current) return std::unexpected(current.error());
  const auto found = person_called(**current, name, field);
  if (!found) return std::unexpected(found.error());
  return (*found)->id;
}

Result<PersonSignIn> PeopleDesk::make_owner(const OwnerGiven& given, const std::string& who,
                                            bool only_first) {
  const std::lock_guard lock(changing_);
  const auto open = is_open();
  if (!open) return std::unexpected(open.error());
  if (only_first && !*open) {
    return refuse(Code::kRefused, "there is an owner already, who signs in and sees to everybody "
                                  "else");
  }
  const auto current = shop_.state();
  if (!current) return std::unexpected(current.error());
  Result<trade::Person> owner = owner_to_be(**current, given);
  if (!owner) return std::unexpected(owner.error());
  if (const auto fit = fit_password(given.password, owner->id.text, owner->name); !fit) {
    return std::unexpected(fit.error());
  }
  const auto held = secrets();
  if (!held) return std::unexpected(held.error());
  Result<std::string> hash = hash_of_secret(given.password);
  if (!hash) return std::unexpected(hash.error());
  book::PersonSecret secret{.person = owner->id, .password = std::move(*hash), .pin = {}};
  if (const auto old = (*held)->find(owner->id); old != (*held)->end()) secret.pin = old->second.pin;
  if (!is_owner(*owner)) owner->roles.insert(owner->roles.begin(), "owner");
  book::Change change{.who = who.empty() ? owner->id.text : who, .what = "make owner",
                      .why = owner->name + " is an owner and has a password"};
  change.put.people = {*owner};
  change.secrets = {secret};
  change.read_at = (*current)->entry;
  if (const auto written = shop_.write(std::move(change), ""); !written) {
    return std::unexpected(written.error());
  }
  return sign_in_of(*owner, secret);
}

Result<PersonSignIn> PeopleDesk::write(book::PersonSecret secret, const std::string& who,
                                       const std::string& what) {
  book::Change change{.who = who, .what = what, .why = what + " of " + secret.person.text};
  change.secrets = {secret};
  if (const auto written = shop_.write(std::move(change), ""); !written) {
    return std::unexpected(written.error());
  }
  const Result<Known> known = person(secret.person);
  if (!known) return std::unexpected(known.error());
  return PersonSignIn{.id = known->id.text, .name = known->name, .roles = known->roles,
                      .has_password = !known->password.empty(), .has_pin = !known->pin.empty()};
}

Result<PersonSignIn> PeopleDesk::set_password(const trade::PersonId& id,
                                              const std::string& password,
                                              const std::string& who) {
  const std::lock_guard lock(changing_);
  const Result<Known> known = person(id);
  const Result<bool> open = is_open();
  if (!known) return std::unexpected(known.error());
  if (!open) return std::unexpected(open.error());
  if (*open) return refuse(Code::kRefused, "make the owner first, then set passwords of others");
  if (const auto fit = fit_password(password, id.text, known->name); !fit) {
    return std::unexpected(fit.error());
  }
  Result<std::string> hash = hash_of_secret(password);
  if (!hash) return std::unexpected(hash.error());
  return write({.person = id, .password = std::move(*hash), .pin = known->pin}, who, "set password");
}

Result<PersonSignIn> PeopleDesk::set_pin(const trade::PersonId& id, const std::string& pin,
                                         const std::string& who) {
  const std::lock_guard lock(changing_);
  const Result<Known> known = person(id);
  const Result<bool> open = is_open();
  if (!known) return std::unexpected(known.error());
  if (!open) return std::unexpected(open.error());
  if (*open) return refuse(Code::kRefused, "make the owner first, then set PINs");
  if (const auto fit = fit_pin(pin); !fit) return std::unexpected(fit.error());
  Result<std::string> hash = hash_of_secret(pin);
  if (!hash) return std::unexpected(hash.error());
  return write({.person = id, .password = known->password, .pin = std::move(*hash)}, who, "set PIN");
}

Result<void> PeopleDesk::owner_can_still_sign_in(const trade::PersonId& without) {
  const auto current = shop_.state();
  const auto held = secrets();
  if (!current) return std::unexpected(current.error());
  if (!held) return std::unexpected(held.error());
  for (const trade::Person& person : (*current)->held.people) {
    const auto secret = (*held)->find(person.id);
    const bool signs_in = secret != (*held)->end() && !secret->second.password.empty();
    if (person.id != without && is_owner(person) && signs_in) return {};
  }
  return refuse(Code::kRefused,
                "this is the last owner who can sign in; make another owner first",
                {.field = "person", .value = without.text});
}

Result<PersonSignIn> PeopleDesk::take_away(const trade::PersonId& id, const std::string& who) {
  const std::lock_guard lock(changing_);
  const Result<Known> known = person(id);
  if (!known) return std::unexpected(known.error());
  if (const auto others = owner_can_still_sign_in(id); !others) {
    return std::unexpected(others.error());
  }
  return write({.person = id, .password = {}, .pin = {}}, who, "take sign-in away");
}

Result<bool> PeopleDesk::proves(const trade::PersonId& id, Proof proof, std::string_view words) {
  const Result<Known> known = person(id);
  if (!known && known.error().code != Code::kNotFound) return std::unexpected(known.error());
  return is_secret_of(known ? known->hash(proof) : std::string(), words);
}

}  // namespace rollwright::shop
