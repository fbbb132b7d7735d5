#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "base/text.hpp"

/// How the body of a request is read, for the files that read one. Included by nothing else: it
/// brings the JSON library with it.
namespace rollwright::json {

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

inline Result<Json> parsed(std::string_view text) {
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

}  // namespace rollwright::json
