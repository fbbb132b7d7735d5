#include "json/life_requests.hpp"

#include "json/body.hpp"

namespace rollwright::json {

Result<shop::MoveGiven> move_from(std::string_view text) {
  return read_object<shop::MoveGiven>(text, [](Object& object, shop::MoveGiven& given) {
    object.read("to", given.to);
    object.read("by", given.by);
    object.read("said", given.said, false);
    object.read("note", given.note, false);
    object.read("promised", given.promised, false);
    object.read("deposit_cents", given.deposit_cents, false);
    object.read("revision", given.revision);
  });
}

Result<shop::FlagChange> flag_from(std::string_view text) {
  return read_object<shop::FlagChange>(text, [](Object& object, shop::FlagChange& given) {
    object.read("flag", given.flag);
    object.read("set", given.set, false);
    object.read("reason", given.reason);
    object.read("until", given.until, false);
    object.read("by", given.by);
    object.read("revision", given.revision);
  });
}

Result<shop::SignGiven> sign_from(std::string_view text) {
  return read_object<shop::SignGiven>(text, [](Object& object, shop::SignGiven& given) {
    object.read("signed_by", given.signed_by);
    object.read("by", given.by);
    object.read("price_cents", given.price_cents);
    object.read("revision", given.revision);
  });
}

Result<shop::ChangeGiven> change_from(std::string_view text) {
  return read_object<shop::ChangeGiven>(text, [](Object& object, shop::ChangeGiven& given) {
    object.read("choices", given.choices);
    object.read("by", given.by);
    object.read("total_cents", given.total_cents);
    object.read("revision", given.revision);
  });
}

Result<std::map<std::string, std::optional<std::string>>> choices_from(std::string_view text) {
  using Choices = std::map<std::string, std::optional<std::string>>;
  return read_object<Choices>(text, [](Object& object, Choices& choices) {
    object.read("choices", choices);
  });
}

}  // namespace rollwright::json
