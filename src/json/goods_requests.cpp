#include "json/goods_requests.hpp"

#include "json/body.hpp"

namespace rollwright::json {

Result<shop::Received> received_from(std::string_view text) {
  return read_object<shop::Received>(text, [](Object& object, shop::Received& given) {
    object.read("quantity", given.quantity, false);
    object.read("to_look_at", given.to_look_at, false);
    object.read("wrong", given.wrong, false);
    object.read("damaged", given.damaged, false);
    object.read("hidden", given.hidden, false);
    object.read("missing", given.missing, false);
    object.read("serials", given.serials, false);
    object.read("lot", given.lot, false);
    object.read("carrier", given.carrier, false);
    object.read("note", given.note, false);
  });
}

Result<shop::GoodsStepGiven> goods_step_from(std::string_view text) {
  return read_object<shop::GoodsStepGiven>(text, [](Object& object, shop::GoodsStepGiven& given) {
    object.read("step", given.step);
    object.read("pieces", given.pieces);
    object.read("trouble", given.trouble, false);
    object.read("serials", given.serials, false);
    object.read("carrier", given.carrier, false);
    object.read("note", given.note, false);
  });
}

Result<shop::MiscountGiven> miscount_from(std::string_view text) {
  return read_object<shop::MiscountGiven>(text, [](Object& object, shop::MiscountGiven& given) {
    object.read("counted", given.counted);
    object.read("right", given.right);
    object.read("day", given.day, false);
    object.read("serials", given.serials, false);
    object.read("right_line", given.right_line, false);
    object.read("why", given.why);
  });
}

Result<shop::ClaimStep> claim_step_from(std::string_view text) {
  return read_object<shop::ClaimStep>(text, [](Object& object, shop::ClaimStep& given) {
    object.read("number", given.number, false);
    object.read("what", given.what);
    object.read("note", given.note, false);
  });
}

Result<shop::LegGiven> leg_from(std::string_view text) {
  return read_object<shop::LegGiven>(text, [](Object& object, shop::LegGiven& given) {
    object.read("leg", given.leg, false);
    object.read("day", given.day, false);
  });
}

Result<std::string> mode_from(std::string_view text) {
  return read_object<std::string>(
      text, [](Object& object, std::string& mode) { object.read("mode", mode); });
}

Result<Day> confirmed_from(std::string_view text) {
  return read_object<Day>(text, [](Object& object, Day& day) { object.read("day", day); });
}

Result<shop::PurchaseGiven> purchase_from(std::string_view text) {
  return read_object<shop::PurchaseGiven>(text, [](Object& object, shop::PurchaseGiven& given) {
    object.read("supplier", given.supplier);
    object.objects("lines", given.lines, [](Object& line, shop::PiecesGiven& pieces) {
      line.read("part", pieces.part);
      line.read("quantity", pieces.quantity);
    });
    object.read("mode", given.mode, false);
    object.read("confirmed", given.confirmed, false);
    object.read("note", given.note, false);
  });
}

Result<std::string> note_from(std::string_view text) {
  return read_object<std::string>(
      text, [](Object& object, std::string& note) { object.read("note", note, false); });
}

Result<shop::UseGiven> use_from(std::string_view text) {
  return read_object<shop::UseGiven>(text, [](Object& object, shop::UseGiven& given) {
    object.read("quantity", given.quantity);
    object.read("what_for", given.what_for, false);
  });
}

}  // namespace rollwright::json
