#include "json/maker_requests.hpp"

#include "json/body.hpp"

namespace rollwright::json {

Result<shop::MakerFormGiven> maker_form_from(std::string_view text) {
  return read_object<shop::MakerFormGiven>(text, [](Object& object, shop::MakerFormGiven& given) {
    object.read("who", given.who);
    object.read("wanted", given.wanted);
    object.read("how", given.how, false);
  });
}

Result<shop::MakerListGiven> maker_list_from(std::string_view text) {
  using Line = shop::MakerListGiven::Line;
  return read_object<shop::MakerListGiven>(text, [](Object& object, shop::MakerListGiven& given) {
    object.read("who", given.who);
    object.read("kind", given.kind);
    object.read("reference", given.reference, false);
    object.read("file", given.file, false);
    object.read("csv", given.csv, false);
    if (!object.has("lines")) return;
    object.objects("lines", given.lines, [](Object& each, Line& line) {
      each.read("position", line.position);
      each.read("part", line.part, false);
      each.read("article", line.article, false);
      each.read("quantity", line.quantity, false);
      each.read("options", line.options, false);
      each.read("serial", line.serial, false);
      each.read("note", line.note, false);
    });
  });
}

Result<shop::DifferenceGiven> difference_from(std::string_view text) {
  return read_object<shop::DifferenceGiven>(text,
                                            [](Object& object, shop::DifferenceGiven& given) {
    object.read("who", given.who);
    object.read("answer", given.answer);
    object.read("differences", given.differences);
    object.read("why", given.why);
    object.read("signed_by", given.signed_by, false);
    object.read("price_change_cents", given.price_change_cents, false);
    object.read("list", given.list);
    object.read("revision", given.revision);
  });
}

}  // namespace rollwright::json
