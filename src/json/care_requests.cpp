#include "json/care_requests.hpp"

#include "json/body.hpp"

namespace rollwright::json {

Result<shop::VisitGiven> visit_from(std::string_view text) {
  return read_object<shop::VisitGiven>(text, [](Object& object, shop::VisitGiven& given) {
    object.read("who", given.who);
    object.read("key", given.key, false);
    object.read("visits", given.visits);
    object.read("km", given.km, false);
    object.read("note", given.note, false);
    object.read("operations", given.operations, false);
  });
}

Result<shop::AskedGiven> asked_from(std::string_view text) {
  return read_object<shop::AskedGiven>(text, [](Object& object, shop::AskedGiven& given) {
    object.read("who", given.who);
    object.read("key", given.key, false);
    object.read("operations", given.operations);
    object.read("note", given.note, false);
  });
}

Result<shop::BackGiven> back_from(std::string_view text) {
  return read_object<shop::BackGiven>(text, [](Object& object, shop::BackGiven& given) {
    object.read("who", given.who);
    object.read("key", given.key, false);
    object.read("to_be_ridden", given.to_be_ridden);
    object.read("note", given.note, false);
  });
}

Result<shop::RemindedGiven> reminded_from(std::string_view text) {
  return read_object<shop::RemindedGiven>(text, [](Object& object, shop::RemindedGiven& given) {
    object.read("who", given.who);
    object.read("key", given.key, false);
    object.read("visits", given.visits, false);
    object.read("note", given.note, false);
  });
}

}  // namespace rollwright::json
