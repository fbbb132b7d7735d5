#include <nlohmann/json.hpp>

#include "book/record.hpp"

// Records of the journal back to what they were written from.
namespace rollwright::book {
namespace {

using nlohmann::ordered_json;

std::optional<trade::Value> value_from_record(const ordered_json& json) {
  if (json.is_boolean()) return json.get<bool>();
  if (json.is_number()) return json.get<double>();
  if (json.is_string()) return json.get<std::string>();
  if (!json.is_array()) return std::nullopt;
  std::vector<std::string> words;
  for (const ordered_json& word : json) {
    if (!word.is_string()) return std::nullopt;
    words.push_back(word.get<std::string>());
  }
  return words;
}

std::unexpected<Error> no_record(const std::string& subject) {
  return refuse(Code::kDamaged, "the journal's text about this cannot be read",
                {.field = subject});
}

/// Members that are not there read as empty text, zero or no; the caller compares the result's own
/// record with the text, so that nothing is lost unseen.
template <class T>
T member(const ordered_json& json, const char* name) {
  const auto found = json.find(name);
  if (found == json.end()) return T{};
  if constexpr (std::is_same_v<T, std::string>) {
    return found->is_string() ? found->template get<T>() : T{};
  } else if constexpr (std::is_same_v<T, bool>) {
    return found->is_boolean() && found->template get<bool>();
  } else {
    return found->is_number_integer() ? found->template get<T>() : T{};
  }
}

Day day_member(const ordered_json& json, const char* name) {
  return parse_day(member<std::string>(json, name)).value_or(Day{});
}

trade::Standing standing_named(const std::string& word) {
  for (const auto standing : {trade::Standing::kKnown, trade::Standing::kMeasured}) {
    if (word == trade::word_of(standing)) return standing;
  }
  return trade::Standing::kNotKnown;
}

}  // namespace

Result<trade::Part> part_from(const trade::PartId& id, const std::string& text) {
  const ordered_json json = ordered_json::parse(text, nullptr, false);
  if (!json.is_object()) return no_record(part_subject(id));
  trade::Part part{.id = id, .kind = trade::KindId(member<std::string>(json, "kind")),
                   .name = member<std::string>(json, "name"),
                   .maker = member<std::string>(json, "maker"),
                   .price = {member<std::int64_t>(json, "price_cents")},
                   .gone = member<bool>(json, "gone"),
                   .may_follow = member<bool>(json, "may_follow")};
  const auto facts = json.find("facts");
  if (facts != json.end() && facts->is_object()) {
    for (const auto& [attribute, about] : facts->items()) {
      const auto value = about.find("value");
      if (!about.is_object() || value == about.end()) return no_record(part_subject(id));
      const auto read = value_from_record(*value);
      if (!read) return no_record(part_subject(id));
      part.facts[attribute] = {
          .standing = standing_named(member<std::string>(about, "standing")), .value = *read,
          .source = member<std::string>(about, "source"), .by = member<std::string>(about, "by"),
          .date = day_member(about, "date")};
    }
  }
  if (record_of(part).text != text) return no_record(part_subject(id));
  return part;
}

Result<trade::Offer> offer_from(const trade::SupplierId& supplier, const trade::PartId& part,
                                const std::string& text) {
  const std::string subject = offer_subject(supplier, part);
  const ordered_json json = ordered_json::parse(text, nullptr, false);
  if (!json.is_object()) return no_record(subject);
  trade::Offer offer{.supplier = supplier, .part = part,
                     .article = member<std::string>(json, "article"), .breaks = {},
                     .pack = member<int>(json, "pack"),
                     .availability = member<std::string>(json, "availability"),
                     .as_of = day_member(json, "as_of")};
  const auto breaks = json.find("breaks");
  if (breaks == json.end() || !breaks->is_array()) return no_record(subject);
  for (const ordered_json& step : *breaks) {
    if (!step.is_array() || step.size() != 2 || !step[0].is_number_integer() ||
        !step[1].is_number_integer()) {
      return no_record(subject);
    }
    offer.breaks.push_back({step[0].get<int>(), {step[1].get<std::int64_t>()}});
  }
  if (record_of(offer).text != text) return no_record(subject);
  return offer;
}

}  // namespace rollwright::book
