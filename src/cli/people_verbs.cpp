#include "cli/said_secret.hpp"
#include "cli/verbs.hpp"
#include "shop/people_desk.hpp"

namespace rollwright::cli {
namespace {

int make_owner(shop::OwnerGiven given, const Common& common, shop::Shop& shop) {
  if (given.person.empty() == given.name.empty()) {
    return fail(common, {Code::kBadInput, "say who: a person of the shop, or --name for somebody "
                                          "new"});
  }
  if (!given.person.empty()) {
    const auto known = shop.people_desk().called(given.person, "person");
    if (!known) return fail(common, known.error());
  }
  Result<std::string> password = said_secret("password");
  if (!password) return fail(common, password.error());
  given.password = std::move(*password);
  return answer(common, shop.people_desk().make_owner(given, common.who, false));
}

int set_secret(const std::string& called, shop::Proof proof, const Common& common,
               shop::Shop& shop) {
  const auto person = shop.people_desk().called(called, "person");
  if (!person) return fail(common, person.error());
  const bool is_password = proof == shop::Proof::kPassword;
  const Result<std::string> said = said_secret(is_password ? "password" : "PIN");
  if (!said) return fail(common, said.error());
  shop::PeopleDesk& desk = shop.people_desk();
  return answer(common, is_password ? desk.set_password(*person, *said, common.who)
                                    : desk.set_pin(*person, *said, common.who));
}

}  // namespace

void add_people_verbs(Verbs& verbs) {
  const auto owner = std::make_shared<shop::OwnerGiven>();
  auto* made = verbs.add("make-owner", "give the role owner and a password; from then on people "
                                       "sign in",
                         [owner](const Common& common, shop::Shop& shop) {
                           return make_owner(*owner, common, shop);
                         });
  made->add_option("person", owner->person, "somebody of the shop");
  made->add_option("--name", owner->name, "the name of somebody new");
  const auto whose = std::make_shared<std::string>();
  verbs.add("set-password", "set a person's password, said at the terminal",
            [whose](const Common& common, shop::Shop& shop) {
              return set_secret(*whose, shop::Proof::kPassword, common, shop);
            })->add_option("person", *whose)->required();
  verbs.add("set-pin", "set a person's PIN for the bench, said at the terminal",
            [whose](const Common& common, shop::Shop& shop) {
              return set_secret(*whose, shop::Proof::kPin, common, shop);
            })->add_option("person", *whose)->required();
}

}  // namespace rollwright::cli
