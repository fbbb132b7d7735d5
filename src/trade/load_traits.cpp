#include <algorithm>

#include "trade/operand_reader.hpp"

namespace rollwright::trade {
namespace {

using Sort = TomlValue::Sort;

/// `{ that = "frame.permitted_total_mass", at_least = "160 kg" }`
std::optional<TraitCondition> read_at_least(TradeLoading& loading, TableReader& reader,
                                            Place place) {
  const std::string that = reader.text("that");
  const std::string least = reader.amount("at_least").value_or("");
  reader.finish();
  if (that.empty() || least.empty()) return std::nullopt;
  const std::optional<ReadOperand> read =
      is_reference(that) ? read_operand(loading, that, place) : std::nullopt;
  if (!read || !read->is_number()) {
    place.value = that;
    loading.problem(Code::kBadInput,
                    "only a number that a part or the order states can be at least so much", place);
    return std::nullopt;
  }
  TraitCondition condition{{.operand = read->operand, .words = {}}, {}};
  if (!read->certain) return condition;
  const Result<double> amount = parse_amount(least, read->dimension);
  if (!amount) {
    reader.problem("at_least", amount.error().code, amount.error().sentence, least);
    return std::nullopt;
  }
  condition.at_least = *amount;
  return condition;
}

std::optional<TraitCondition> read_trait_condition(TradeLoading& loading, const TomlValue& table,
                                                   const Place& place) {
  TableReader reader(table, place.file, loading.problems, place.field + ".");
  if (reader.has("at_least")) {
    return read_at_least(loading, reader,
                         {.file = place.file, .line = table.line, .field = place.field});
  }
  const auto read = read_condition(loading, written_condition(loading, table, place));
  return read ? std::optional(TraitCondition{*read, {}}) : std::nullopt;
}

/// `any_of` is a list of clauses; a clause is a list of conditions.
std::vector<std::vector<TraitCondition>> read_clauses(TradeLoading& loading, TableReader& reader) {
  std::vector<std::vector<TraitCondition>> clauses;
  const TomlValue* any_of = reader.value("any_of");
  if (any_of == nullptr) return clauses;
  const auto wrong = [&] {
    reader.problem("any_of", Code::kBadInput,
                   "write a list of clauses, each a list of conditions: [[{ that = \"...\", is = "
                   "[\"...\"] }]]");
  };
  if (any_of->sort != Sort::kList) {
    wrong();
    return clauses;
  }
  for (const TomlValue& clause : any_of->items) {
    const bool good = clause.sort == Sort::kList && !clause.items.empty() &&
                      std::ranges::all_of(clause.items, [](const TomlValue& condition) {
                        return condition.sort == Sort::kTable;
                      });
    if (!good) {
      wrong();
      continue;
    }
    std::vector<TraitCondition> conditions;
    for (const TomlValue& condition : clause.items) {
      auto read = read_trait_condition(loading, condition, reader.place("any_of"));
      if (read) conditions.push_back(std::move(*read));
    }
    clauses.push_back(std::move(conditions));
  }
  return clauses;
}

}  // namespace

void load_traits(TradeLoading& loading) {
  OnlyOnce once("trait");
  loading.toml_file("traits.toml", "trait", [&](TableReader& reader) {
    Trait trait{.id = reader.text("id"), .name = reader.text("name")};
    trait.any_of = read_clauses(loading, reader);
    reader.finish();
    if (!once.is_new(reader, trait.id)) return;
    loading.trait_lines[trait.id] = reader.line();
    loading.trade.traits.emplace(trait.id, std::move(trait));
  });
}

}  // namespace rollwright::trade
