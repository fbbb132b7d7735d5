#include "build/aid_fields.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "build/aid_filling.hpp"

namespace rollwright::build {
namespace {

/// A new area of the bike is one more name here.
const AidFills& fills() {
  static const AidFills kFills = [] {
    AidFills all;
    for (auto* area : {drive_aid_fields, brake_aid_fields, ride_aid_fields, fit_aid_fields,
                       joint_aid_fields, rim_aid_fields, wheel_aid_fields}) {
      all.merge(area());
    }
    return all;
  }();
  return kFills;
}

std::string typed_of(const trade::Attribute& attribute, const trade::Value& value) {
  const bool* flag = std::get_if<bool>(&value);
  return flag == nullptr ? trade::shown(attribute, value) : *flag ? "yes" : "no";
}

/// Aids that look at the whole bike take either end.
bool is_end(const std::string& end, const std::vector<std::string>& ends) {
  if (ends.empty()) return end == "front" || end == "rear";
  return std::ranges::count(ends, end) > 0;
}

}  // namespace

std::string origin_of(const FactReader& facts, const std::string& slot,
                      const std::string& attribute) {
  const trade::Part* part = part_at(facts.bike(), trade::SlotId(slot));
  const trade::Fact* fact = part == nullptr ? nullptr : trade::fact_of(*part, attribute);
  const auto known = facts.trade().attributes.find(attribute);
  const bool measured = fact != nullptr && fact->standing == trade::Standing::kMeasured;
  const bool pseudo = slot == "order" || slot == "rider";
  return fmt::format("{}: {}{}", pseudo ? "the " + slot : facts.named(slot),
                     known == facts.trade().attributes.end() ? attribute : known->second.name,
                     measured ? ", measured" : "");
}

std::string AidFilling::end() {
  fields_.ends = {"rear", "front"};
  return end_.empty() ? "rear" : end_;
}

void AidFilling::set(const std::string& key, std::string typed, std::string origin) {
  fields_.filled.push_back({key, std::move(typed), std::move(origin)});
}

void AidFilling::ask(const std::string& key, std::string sentence) {
  fields_.questions.push_back({key, std::move(sentence)});
}

void AidFilling::fact(const std::string& key, const std::string& slot,
                      const std::string& attribute) {
  const std::size_t before = fields_.filled.size();
  fact_if_known(key, slot, attribute);
  if (fields_.filled.size() > before) return;
  ask(key, not_known_sentence(facts_.trade(), facts_.bike(),
                              {trade::SlotId(slot), attribute, 0.0}));
}

void AidFilling::fact_if_known(const std::string& key, const std::string& slot,
                               const std::string& attribute) {
  const trade::Part* part = part_at(facts_.bike(), trade::SlotId(slot));
  const trade::Fact* fact = part == nullptr ? nullptr : trade::fact_of(*part, attribute);
  const auto known = facts_.trade().attributes.find(attribute);
  if (fact == nullptr || known == facts_.trade().attributes.end()) return;
  set(key, typed_of(known->second, fact->value), origin_of(facts_, slot, attribute));
}

void AidFilling::computed(const std::string& key,
                          const std::function<std::optional<Told>(FactReader&)>& work) {
  FactReader reader = this->reader();
  std::optional<Told> told = work(reader);
  if (told) {
    set(key, std::move(told->typed), std::move(told->origin));
    return;
  }
  for (const std::string& question : reader.questions()) ask(key, question);
}

std::vector<std::string> aids_with_fields() {
  std::vector<std::string> ids;
  for (const auto& [id, fill] : fills()) ids.push_back(id);
  return ids;
}

Result<AidFields> aid_fields(const FactReader& facts, const std::string& aid,
                             const std::string& end) {
  const auto fill = fills().find(aid);
  if (fill == fills().end()) return AidFields{};
  AidFilling filling(facts, end);
  fill->second(filling);
  AidFields fields = std::move(filling).done();
  if (!end.empty() && !is_end(end, fields.ends)) {
    return refuse(Code::kBadInput,
                  "this aid looks at " + (fields.ends.empty() ? "the whole bike; an end is front or rear"
                                                              : "one of " + listed(fields.ends)),
                  {.field = "end", .value = end});
  }
  if (!fields.not_here.empty()) return AidFields{.not_here = fields.not_here, .ends = fields.ends};
  return fields;
}

}  // namespace rollwright::build
