#include "json/people_requests.hpp"

#include "json/body.hpp"

namespace rollwright::json {
namespace {

const char* field_of(shop::Proof proof) {
  return proof == shop::Proof::kPassword ? "password" : "pin";
}

/// As read_object, but what was sent is not repeated in an error.
template <class T, class Read>
Result<T> read_in_confidence(std::string_view text, Read read) {
  Result<T> value = read_object<T>(text, read);
  if (!value) value.error().place.value.clear();
  return value;
}

}  // namespace

Result<SignInGiven> sign_in_from(std::string_view text, shop::Proof proof) {
  return read_in_confidence<SignInGiven>(text, [proof](Object& object, SignInGiven& given) {
    object.read("person", given.person);
    object.read(field_of(proof), given.secret);
  });
}

Result<shop::OwnerGiven> owner_from(std::string_view text) {
  return read_in_confidence<shop::OwnerGiven>(text, [](Object& object, shop::OwnerGiven& given) {
    const bool is_known = object.has("person");
    object.read("person", given.person, false);
    object.read("name", given.name, !is_known);
    object.read("password", given.password);
  });
}

Result<SecretGiven> secret_from(std::string_view text, shop::Proof proof) {
  return read_in_confidence<SecretGiven>(text, [proof](Object& object, SecretGiven& given) {
    object.read(field_of(proof), given.secret);
    object.read("your_password", given.your_password);
  });
}

Result<std::string> your_password_from(std::string_view text) {
  return read_in_confidence<std::string>(text, [](Object& object, std::string& password) {
    object.read("your_password", password);
  });
}

Result<std::string> station_name_from(std::string_view text) {
  return read_object<std::string>(text, [](Object& object, std::string& name) {
    object.read("name", name);
  });
}

}  // namespace rollwright::json
