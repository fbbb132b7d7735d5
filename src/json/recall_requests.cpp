#include "json/recall_requests.hpp"

#include "json/body.hpp"

namespace rollwright::json {

Result<shop::RecallGiven> recall_from(std::string_view text) {
  return read_object<shop::RecallGiven>(text, [](Object& object, shop::RecallGiven& given) {
    object.read("who", given.who);
    object.read("notice", given.notice, false);
    object.read("part", given.part, false);
    object.read("kind", given.kind, false);
    object.read("maker", given.maker, false);
    object.read("lot_from", given.lot_from, false);
    object.read("lot_to", given.lot_to, false);
    object.read("serial_from", given.serial_from, false);
    object.read("serial_to", given.serial_to, false);
    object.read("day_from", given.day_from, false);
    object.read("day_to", given.day_to, false);
    object.read("wrong", given.wrong);
    object.read("danger", given.danger);
    object.read("remedy", given.remedy, false);
  });
}

Result<shop::ToldGiven> told_from(std::string_view text) {
  return read_object<shop::ToldGiven>(text, [](Object& object, shop::ToldGiven& given) {
    object.read("who", given.who);
    object.read("order", given.order);
    object.read("status", given.status);
    object.read("channel", given.channel, false);
    object.read("note", given.note, false);
  });
}

Result<shop::RecallClosing> recall_closing_from(std::string_view text) {
  return read_object<shop::RecallClosing>(text, [](Object& object, shop::RecallClosing& given) {
    object.read("who", given.who);
    object.read("note", given.note, false);
  });
}

}  // namespace rollwright::json
