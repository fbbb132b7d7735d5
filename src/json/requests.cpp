#include "json/requests.hpp"

#include "json/body.hpp"

namespace rollwright::json {

namespace {

void read_budget(Object& object, shop::BudgetGiven& given) {
  object.read("at_most_cents", given.at_most_cents, false);
  object.read("nothing_said", given.nothing_said, false);
}

void read_follow_up(Object& object, shop::FollowUpGiven& given) {
  object.read("day", given.day);
  object.read("about", given.about, false);
}

}  // namespace

Result<shop::BudgetGiven> budget_from(std::string_view text) {
  return read_object<shop::BudgetGiven>(text, [](Object& object, shop::BudgetGiven& given) {
    read_budget(object, given);
    object.read("revision", given.revision);
  });
}

Result<shop::FollowUpGiven> follow_up_from(std::string_view text) {
  return read_object<shop::FollowUpGiven>(text, [](Object& object, shop::FollowUpGiven& given) {
    read_follow_up(object, given);
    object.read("revision", given.revision);
  });
}

Result<shop::NewOrder> new_order_from(std::string_view text) {
  return read_object<shop::NewOrder>(text, [](Object& object, shop::NewOrder& order) {
    object.object("rider", [&](Object& rider) {
      rider.read("name", order.rider.name);
      rider.read("contact", order.rider.contact, false);
      rider.read("height_mm", order.rider.height_mm, false);
      rider.read("inseam_mm", order.rider.inseam_mm, false);
      rider.read("mass_kg", order.rider.mass_kg, false);
    });
    object.object("need", [&](Object& need) {
      need.read("words", order.need.words);
      need.read("use_class", order.need.use_class, false);
      need.read("luggage_kg", order.need.luggage_kg, false);
      need.read("child_seat", order.need.child_seat, false);
      need.read("region", order.need.region);
      need.read("assist_class", order.need.assist_class);
      need.read("front_brake_lever", order.need.front_brake_lever);
      need.read("route", order.need.route, false);
      need.read("by_freight", order.need.by_freight, false);
    });
    object.read("build", order.build);
    object.read("needed_by", order.needed_by, false);
    if (object.has("budget")) {
      object.object("budget", [&](Object& budget) { read_budget(budget, order.budget.emplace()); });
    }
    if (object.has("follow_up")) {
      object.object("follow_up",
                    [&](Object& inner) { read_follow_up(inner, order.follow_up.emplace()); });
    }
    object.read("choices", order.choices, false);
    object.read("state", order.state, false);
  });
}

Result<ChooseRequest> choose_from(std::string_view text) {
  return read_object<ChooseRequest>(text, [](Object& object, ChooseRequest& request) {
    object.read("part", request.part);
    object.read("revision", request.revision);
  });
}

Result<ChooseAllRequest> choose_all_from(std::string_view text) {
  return read_object<ChooseAllRequest>(text, [](Object& object, ChooseAllRequest& request) {
    object.read("choices", request.choices);
    object.read("revision", request.revision);
  });
}

Result<AgreeRequest> agree_from(std::string_view text) {
  return read_object<AgreeRequest>(text, [](Object& object, AgreeRequest& request) {
    object.read("promised", request.promised);
    object.read("deposit_cents", request.deposit_cents);
    object.read("revision", request.revision);
  });
}

Result<shop::AnswerGiven> answer_from(std::string_view text) {
  return read_object<shop::AnswerGiven>(text, [](Object& object, shop::AnswerGiven& given) {
    object.read("answer", given.answer);
    object.read("note", given.note, false);
    object.read("revision", given.revision);
  });
}

Result<shop::FactGiven> fact_from(std::string_view text) {
  return read_object<shop::FactGiven>(text, [](Object& object, shop::FactGiven& given) {
    object.read("value", given.value);
    object.read("standing", given.standing, false);
    object.read("by", given.by, false);
    object.read("source", given.source, false);
    object.read("day", given.day, false);
  });
}

namespace {

void read_mapping(Object& object, trade::ColumnMapping& mapping) {
  object.read("supplier", mapping.supplier, false);
  object.read("separator", mapping.separator);
  object.read("decimal", mapping.decimal);
  object.read("kind", mapping.kind, false);
  object.read("new_number", mapping.new_number, false);
  object.read("keep_names", mapping.keep_names, false);
  if (object.has("nothing")) mapping.nothing.clear();
  object.read("nothing", mapping.nothing, false);
  object.objects("columns", mapping.columns, [](Object& inner, trade::SheetColumn& column) {
    inner.read("heading", column.heading);
    inner.read("goes_to", column.goes_to);
    inner.read("unit", column.unit, false);
    inner.read("from_quantity", column.from_quantity, false);
    inner.read("parted_by", column.parted_by, false);
    inner.read("words", column.words, false);
  });
}

void read_given(Object& object, shop::GivenList& given) {
  object.read("file", given.file);
  object.read("text", given.text);
  object.read("supplier", given.supplier);
  if (object.has("mapping")) {
    trade::ColumnMapping mapping;
    object.object("mapping", [&mapping](Object& inner) { read_mapping(inner, mapping); });
    given.mapping = std::move(mapping);
  }
  object.read("day", given.day, false);
  object.read("take_over", given.take_over, false);
}

}  // namespace

Result<shop::GivenList> given_list_from(std::string_view text) {
  return read_object<shop::GivenList>(text, read_given);
}

Result<TakeInRequest> take_in_from(std::string_view text) {
  return read_object<TakeInRequest>(text, [](Object& object, TakeInRequest& request) {
    read_given(object, request.given);
    object.read("dry_run", request.how.dry_run, false);
    object.read("skip_bad_rows", request.how.skip_bad_rows, false);
    object.read("as_seen", request.how.as_seen, false);
  });
}

Result<int> undo_from(std::string_view text) {
  return read_object<int>(text, [](Object& object, int& number) {
    object.read("number", number, false);
  });
}

}  // namespace rollwright::json
