#include <algorithm>

#include "trade/operand_reader.hpp"

namespace rollwright::trade {
namespace {

using Sort = TomlValue::Sort;

/// `any_of` is a list of clauses; a clause is a list of conditions.
std::vector<std::vector<Condition>> read_clauses(TradeLoading& loading, TableReader& reader) {
  std::vector<std::vector<Condition>> clauses;
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
    std::vector<Condition> conditions;
    for (const TomlValue& condition : clause.items) {
      const WrittenCondition written =
          written_condition(loading, condition, reader.place("any_of"));
      if (auto read = read_condition(loading, written)) conditions.push_back(std::move(*read));
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
