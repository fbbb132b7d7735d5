#include "json/requests.hpp"

#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"

namespace rollwright::json {
namespace {

using Json = nlohmann::json;

/// Reads the fields of one object, each at most once, and says what it did not like first.
class Object {
 public:
  Object(const Json& json, std::string name) : json_(json), name_(std::move(name)) {
    if (!json_.is_object()) fail("", "this must be an object with named fields");
  }

  template <class T>
  void read(const char* field, T& into, bool required = true) {
    seen_.insert(field);
    if (error_ || !json_.is_object()) return;
    const auto found = json_.find(field);
    if (found == json_.end()) {
      if (required) fail(field, "this field is missing");
      return;
    }
    if (!take(*found, into)) fail(field, wanted(into), found->dump());
  }

  /// Reads a nested object with `visit`.
  template <class Visit>
  void object(const char* field, Visit visit) {
    seen_.insert(field);
    if (error_ || !json_.is_object()) return;
    const auto found = json_.find(field);
    if (found == json_.end()) {
      fail(field, "this field is missing");
      return;
    }
    Object inner(*found, path(field));
    visit(inner);
    if (const auto trouble = inner.finish()) error_ = *trouble;
  }

  /// Reads a list of objects, each with `visit`.
  template <class T, class Visit>
  void objects(const char* field, std::vector<T>& into, Visit visit) {
    seen_.insert(field);
    if (error_ || !json_.is_object()) return;
    const auto found = json_.find(field);
    if (found == json_.end() || !found->is_array()) {
      fail(field, found == json_.end() ? "this field is missing" : "this must be a list of objects");
      return;
    }
    for (const Json& item : *found) {
      Object inner(item, path(fmt::format("{}[{}]", field, into.size())));
      visit(inner, into.emplace_back());
      if (const auto trouble = inner.finish()) error_ = *trouble;
      if (error_) return;
    }
  }
  /// Whether the field is there and not null.
  [[nodiscard]] bool has(const char* field) {
    seen_.insert(field);
    return json_.is_object() && json_.contains(field) && !json_.at(field).is_null();
  }

  /// The first trouble, or a field that nobody asked for.
  std::optional<Error> finish() {
    if (!error_ && json_.is_object()) {
      for (const auto& [field, value] : json_.items()) {
        if (seen_.contains(field)) continue;
        const std::vector<std::string> known(seen_.begin(), seen_.end());
        fail(field, "there is no such field; there are " + listed(known));
        break;
      }
    }
    return error_;
  }

 private:
  static bool take(const Json& json, std::string& into) {
    if (!json.is_string()) return false;
    into = json.get<std::string>();
    return into.find('\0') == std::string::npos;
  }
  static bool take(const Json& json, bool& into) {
    if (!json.is_boolean()) return false;
    into = json.get<bool>();
    return true;
  }
  static bool take(const Json& json, double& into) {
    if (!json.is_number()) return false;
    into = json.get<double>();
    return true;
  }
  static bool take(const Json& json, std::int64_t& into) {
    if (!json.is_number_integer()) return false;
    into = json.get<std::int64_t>();
    return true;
  }
  static bool take(const Json& json, int& into) {
    std::int64_t number = 0;
    if (!take(json, number) || number < -1'000'000 || number > 1'000'000) return false;
    into = static_cast<int>(number);
    return true;
  }
  static bool take(const Json& json, Day& into) {
    std::string text;
    if (!take(json, text)) return false;
    const Result<Day> day = parse_day(text);
    if (day) into = *day;
    return day.has_value();
  }
  template <class T>
  static bool take(const Json& json, std::map<std::string, T>& into) {
    if (!json.is_object()) return false;
    for (const auto& [key, value] : json.items()) {
      if (!take(value, into[key])) return false;
    }
    return true;
  }
  static bool take(const Json& json, std::vector<std::string>& into) {
    if (!json.is_array()) return false;
    for (const Json& item : json) {
      if (!take(item, into.emplace_back())) return false;
    }
    return true;
  }
  template <class T>
  static bool take(const Json& json, std::optional<T>& into) {
    if (json.is_null()) {
      into.reset();
      return true;
    }
    T value{};
    if (!take(json, value)) return false;
    into = value;
    return true;
  }

  static std::string wanted(const std::string&) { return "this must be text"; }
  static std::string wanted(const std::vector<std::string>&) { return "this must be a list of texts"; }
  static std::string wanted(bool) { return "this must be true or false"; }
  static std::string wanted(double) { return "this must be a number"; }
  static std::string wanted(int) { return "this must be a whole number"; }
  static std::string wanted(std::int64_t) { return "this must be a whole number"; }
  static std::string wanted(Day) { return "this must be a day as in 2026-11-25"; }
  static std::string wanted(const std::map<std::string, std::string>&) {
    return "this must be an object of texts";
  }
  static std::string wanted(const std::map<std::string, std::optional<std::string>>&) {
    return "this must be an object of texts or null";
  }
  template <class T>
  static std::string wanted(const std::optional<T>&) {
    return wanted(T{}) + " or null";
  }

  [[nodiscard]] std::string path(const std::string& field) const {
    return name_.empty() ? field : name_ + "." + field;
  }
  void fail(const std::string& field, std::string sentence, std::string value = {}) {
    if (error_) return;
    error_ = Error{Code::kBadInput, std::move(sentence), {.field = path(field), .value = value}};
  }

  const Json& json_;
  std::string name_;
  std::set<std::string> seen_;
  std::optional<Error> error_;
};

Result<Json> parsed(std::string_view text) {
  if (!is_utf8(text)) return refuse(Code::kBadInput, "the request is not UTF-8 text");
  Json json = Json::parse(text, nullptr, false);
  if (json.is_discarded()) return refuse(Code::kBadInput, "the request is not JSON");
  return json;
}

/// Parses the text and lets `read` fill the value from its object.
template <class T, class Read>
Result<T> read_object(std::string_view text, Read read) {
  const Result<Json> json = parsed(text);
  if (!json) return std::unexpected(json.error());
  T value{};
  Object object(*json, "");
  read(object, value);
  if (const auto trouble = object.finish()) return std::unexpected(*trouble);
  return value;
}

}  // namespace

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
    object.read("choices", order.choices, false);
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

Result<shop::UseGiven> use_from(std::string_view text) {
  return read_object<shop::UseGiven>(text, [](Object& object, shop::UseGiven& given) {
    object.read("quantity", given.quantity);
    object.read("what_for", given.what_for, false);
  });
}

Result<int> undo_from(std::string_view text) {
  return read_object<int>(text, [](Object& object, int& number) {
    object.read("number", number, false);
  });
}

}  // namespace rollwright::json
