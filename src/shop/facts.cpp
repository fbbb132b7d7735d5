#include <algorithm>
#include <cctype>
#include <set>
#include <tuple>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/bike.hpp"
#include "shop/order_input.hpp"
#include "shop/questions.hpp"
#include "shop/shop.hpp"
#include "trade/pseudo.hpp"

// Putting a fact into the catalogue.
namespace rollwright::shop {
namespace {

constexpr std::size_t kLongestSource = 200;

/// Where a fact comes from: standing, person, source and day. Its value is still to be read.
Result<trade::Fact> origin_of(const State& state, Day today, const FactGiven& given) {
  trade::Fact fact{.source = std::string(trim(given.source)), .date = given.day.value_or(today)};
  if (Result<void> ok = one_line("source", given.source, kLongestSource); !ok) {
    return std::unexpected(ok.error());
  }
  if (given.standing == trade::word_of(trade::Standing::kMeasured)) {
    fact.standing = trade::Standing::kMeasured;
    if (trim(given.by).empty()) {
      return refuse(Code::kBadInput, "say who measured it", {.field = "by"});
    }
    const auto by = person_called(state, given.by, "by");
    if (!by) return std::unexpected(by.error());
    fact.by = (*by)->id.text;
  } else if (given.standing == trade::word_of(trade::Standing::kKnown)) {
    fact.standing = trade::Standing::kKnown;
    if (fact.source.empty()) {
      return refuse(Code::kBadInput, "say in which document it stands", {.field = "source"});
    }
    if (!given.day) {
      return refuse(Code::kBadInput, "say of which day the document is", {.field = "day"});
    }
  } else {
    return refuse(Code::kBadInput, "a fact is measured or known", {.field = "standing",
                                                                   .value = given.standing});
  }
  if (fact.date > today) {
    return refuse(Code::kOutOfRange, "this day is still to come",
                  {.field = "day", .value = iso(fact.date)});
  }
  return fact;
}

/// "spoke_count: 36; it was not known": for the journal.
std::string told(const trade::Attribute& attribute, const trade::Fact* before,
                 const trade::Fact& now) {
  const std::string was =
      before == nullptr ? "not known"
                        : fmt::format("{} ({})", trade::shown(attribute, before->value),
                                      trade::word_of(before->standing));
  return fmt::format("{}: {}; it was {}", attribute.id, trade::shown(attribute, now.value), was);
}

}  // namespace

Result<PartView> Shop::measure_fact(const std::string& part_id, const std::string& attribute_id,
                                    const FactGiven& given, const std::string& who) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const trade::Part* held = (*current)->part(trade::PartId(part_id));
  if (held == nullptr) {
    return refuse(Code::kNotFound, fmt::format("there is no part {} in the catalogue", part_id),
                  {.field = "part", .value = part_id});
  }
  const auto kind = trade_.kinds.find(held->kind);
  if (kind == trade_.kinds.end()) {
    return refuse(Code::kDamaged,
                  fmt::format("part {} is of a kind that the trade data does not describe any more",
                              part_id),
                  {.field = "kind", .value = held->kind.text});
  }
  const auto attribute = trade::attribute_of(trade_, kind->second, attribute_id);
  if (!attribute) return std::unexpected(attribute.error());
  Result<trade::Fact> fact = origin_of(**current, time->day, given);
  if (!fact) return std::unexpected(fact.error());
  Result<trade::Value> value = trade::parse_value(**attribute, given.value);
  if (!value) {
    Error error = value.error();
    error.place.field = "value";
    return std::unexpected(std::move(error));
  }
  fact->value = std::move(*value);

  trade::Part part = *held;
  const std::string why = told(**attribute, trade::fact_of(part, attribute_id), *fact);
  part.facts[attribute_id] = std::move(*fact);
  const bool measured = part.facts[attribute_id].standing == trade::Standing::kMeasured;
  book::Change change{.who = who, .what = measured ? "measure" : "state a fact", .why = why,
                      .read_at = (*current)->entry};
  change.put.parts = {std::move(part)};
  const Result<void> written = write(std::move(change), "");
  if (!written) return std::unexpected(written.error());
  return this->part(part_id);
}

}  // namespace rollwright::shop
