#include "trade/shape_checks.hpp"

#include <algorithm>
#include <limits>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/rule_calculations.hpp"

namespace rollwright::trade {
namespace {

/// Each `check_...` notes problems of its own shape.
class ShapeChecker {
 public:
  ShapeChecker(TradeLoading& loading, const WrittenRule& written, RuleSides& sides)
      : loading_(loading), written_(written), sides_(sides) {}

  void check() {
    switch (written_.shape) {
      case RuleShape::kSame: return check_same();
      case RuleShape::kOneOf: return check_one_of();
      case RuleShape::kAtLeast:
      case RuleShape::kAtMost:
        return check_numbers({{"left", &sides_.left[0]}, {"right", &*sides_.right}});
      case RuleShape::kWithin: return check_within();
      case RuleShape::kPairTable: return check_pair_table();
      case RuleShape::kNeeds: return check_needs();
      case RuleShape::kSum: return check_sum();
      case RuleShape::kComputed: return check_computed();
    }
  }

 private:
  void problem(const std::string& key, Code code, std::string sentence, std::string value = {}) {
    loading_.problem(code, std::move(sentence), written_.place(key, std::move(value)));
  }

  using Named = std::pair<std::string, ReadOperand*>;

  /// All are numbers of one dimension; literals without a unit take that of the first fact.
  void check_numbers(const std::vector<Named>& sides) {
    const ReadOperand* fact = nullptr;
    for (const auto& [key, side] : sides) {
      if (!side->certain) return;
      if (!side->is_number()) {
        return problem(key, Code::kContradiction,
                       fmt::format("a rule of shape {} compares numbers; this is {}",
                                   word_of(written_.shape), side->meaning()),
                       text_of(*side));
      }
      if (fact == nullptr && !side->operand.is_literal()) fact = side;
    }
    if (fact == nullptr) {
      return problem(sides[0].first, Code::kContradiction,
                     "a rule looks at a part at least once; here are only amounts");
    }
    for (const auto& [key, side] : sides) {
      if (side->bare) take_unit(*fact, *side);
      if (side->dimension == fact->dimension) continue;
      problem(key, Code::kContradiction,
              fmt::format("this is a {}, but {} is a {}", word_of(side->dimension), text_of(*fact),
                          word_of(fact->dimension)),
              text_of(*side));
    }
    own_.unit = fact->unit;
    own_.dimension = fact->dimension;
    sides_.offset = amount("offset", written_.offset, -std::numeric_limits<double>::infinity());
    sides_.tolerance = amount("tolerance", written_.tolerance, 0);
  }

  static void take_unit(const ReadOperand& fact, ReadOperand& literal) {
    const UnitRow* unit = find_unit(fact.unit);
    if (unit != nullptr)
      literal.operand.literal = std::get<double>(literal.operand.literal) * unit->size;
    literal.dimension = fact.dimension;
    literal.bare = false;
  }

  double amount(const std::string& key, const std::optional<std::string>& text, double least) {
    if (!text) return 0;
    const Result<double> number = parse_amount(*text, own_.dimension, own_.unit);
    if (!number) {
      problem(key, number.error().code, number.error().sentence, *text);
      return 0;
    }
    if (*number < least) problem(key, Code::kOutOfRange, "this may not be negative", *text);
    return *number;
  }

  static std::string text_of(const ReadOperand& side) {
    if (!side.operand.is_literal()) return side.operand.slot.text + "." + side.operand.attribute;
    Attribute as_shown{.type = side.type, .dimension = side.dimension};
    as_shown.unit = own_unit(side.dimension);
    return shown(as_shown, side.operand.literal);
  }

  void check_same() {
    ReadOperand& left = sides_.left[0];
    ReadOperand& right = *sides_.right;
    if (!left.certain || !right.certain) return;
    if (left.is_number() || right.is_number()) {
      return check_numbers({{"left", &left}, {"right", &right}});
    }
    if (written_.tolerance) {
      problem("tolerance", Code::kContradiction, "only numbers have a tolerance",
              *written_.tolerance);
    }
    const bool flags = left.is_flag() && right.is_flag();
    const bool words = left.has_words() && right.has_words();
    if (!flags && !words) {
      return problem(
          "right", Code::kContradiction,
          fmt::format("this is {}, but {} is {}", right.meaning(), text_of(left), left.meaning()),
          text_of(right));
    }
    if (left.operand.is_literal() && right.operand.is_literal()) {
      problem("left", Code::kContradiction,
              "a rule looks at a part at least once; here are only literals");
    }
    if (words) check_some_word_shared(left, right);
  }

  void check_some_word_shared(const ReadOperand& left, const ReadOperand& right) {
    if (left.choices.empty() || right.choices.empty()) return;
    const bool shared = std::ranges::any_of(left.choices, [&](const std::string& word) {
      return std::ranges::count(right.choices, word) > 0;
    });
    if (shared) return;
    problem("right", Code::kContradiction,
            fmt::format("{} and {} have no word in common, so the rule could never hold",
                        text_of(left), text_of(right)),
            text_of(right));
  }

  void check_one_of() {
    const ReadOperand& left = sides_.left[0];
    if (!left.certain) return;
    if (!left.has_words() || left.operand.is_literal()) {
      return problem("left", Code::kContradiction,
                     fmt::format("a rule of shape one_of asks a word; this is {}", left.meaning()),
                     text_of(left));
    }
    check_words(loading_, left, written_.words, written_.place("words"));
    if (!sides_.right || !sides_.right->certain) return;
    if (!sides_.right->has_words()) {
      return problem("right", Code::kContradiction,
                     fmt::format("this is {}; it must be a set of words", sides_.right->meaning()),
                     text_of(*sides_.right));
    }
    check_some_word_shared(left, *sides_.right);
  }

  void check_within() {
    if (sides_.right) return check_numbers({{"left", &sides_.left[0]}, {"right", &*sides_.right}});
    check_numbers({{"left", &sides_.left[0]}, {"low", &*sides_.low}, {"high", &*sides_.high}});
    check_low_below_high();
  }

  void check_low_below_high() {
    const auto literal = [](const std::optional<ReadOperand>& side) {
      const double* number = side && side->operand.is_literal() && side->is_number()
                                 ? std::get_if<double>(&side->operand.literal)
                                 : nullptr;
      return number == nullptr ? std::nullopt : std::optional(*number);
    };
    const auto low = literal(sides_.low);
    const auto high = literal(sides_.high);
    if (low && high && *low > *high) {
      problem("high", Code::kContradiction, "this is less than `low`, so the rule could never hold",
              *written_.high);
    }
  }

  void check_pair_table() {
    if (!loading_.is_read("tables/" + written_.table)) return;
    const auto table = loading_.trade.tables.find(written_.table);
    if (table == loading_.trade.tables.end()) {
      return problem("table", Code::kBadInput,
                     fmt::format("there is no tables/{}.csv{}", written_.table,
                                 meant(written_.table, names_in(loading_.trade.tables))),
                     written_.table);
    }
    const PairTable& pairs = table->second;
    if (pairs.columns.size() != sides_.left.size()) {
      return problem(
          "left", Code::kContradiction,
          fmt::format("the table has {} columns ({}), the rule gives {}", pairs.columns.size(),
                      join(pairs.columns, ", "), sides_.left.size()));
    }
    for (std::size_t i = 0; i < sides_.left.size(); ++i) check_column(pairs, i);
  }

  void check_column(const PairTable& pairs, std::size_t column) {
    const ReadOperand& side = sides_.left[column];
    if (!side.certain) return;
    const bool only_stars = std::ranges::all_of(pairs.rows, [&](const TableRow& row) {
      return std::get<std::string>(row.cells[column]) == "*";
    });
    if (only_stars) return;
    if (side.filled || side.is_number() != pairs.numeric[column]) {
      return problem(
          "left", Code::kContradiction,
          fmt::format("this is {}, but the column {} of tables/{}.csv holds {}", side.meaning(),
                      pairs.columns[column], pairs.id, pairs.numeric[column] ? "numbers" : "words"),
          text_of(side));
    }
    if (pairs.numeric[column]) return;
    for (const TableRow& row : pairs.rows) {
      const std::string& cell = std::get<std::string>(row.cells[column]);
      if (cell == "*" || cell.empty()) continue;
      check_words(loading_, side, {cell},
                  {.file = "tables/" + pairs.id + ".csv",
                   .line = row.line,
                   .field = pairs.columns[column]});
    }
  }

  void check_needs() {
    const ReadOperand& left = sides_.left[0];
    if (left.operand.is_literal() || (left.certain && left.is_number())) {
      return problem("left", Code::kContradiction, "needs asks a flag, a word or \"slot.*filled\"",
                     text_of(left));
    }
    if (left.certain && left.has_words() && written_.words.empty()) {
      problem("words", Code::kBadInput, "this is missing; say for which words the need arises");
    }
    if (left.certain && !left.has_words() && !written_.words.empty()) {
      problem("words", Code::kContradiction,
              fmt::format("{} is {}; it takes no words", text_of(left), left.meaning()));
    }
    if (left.certain && left.has_words()) {
      check_words(loading_, left, written_.words, written_.place("words"));
    }
    if (sides_.right && sides_.right->certain && !sides_.right->is_flag() &&
        !sides_.right->filled) {
      problem("right", Code::kContradiction,
              fmt::format("this is {}; what is needed is a flag", sides_.right->meaning()),
              text_of(*sides_.right));
    }
    check_needed_slots();
  }

  void check_needed_slots() {
    if (!loading_.is_read("slots.toml")) return;
    std::vector<std::string> known;
    for (const Slot& slot : loading_.trade.slots) known.push_back(slot.id.text);
    for (const std::string& slot : written_.slots) {
      if (std::ranges::count(known, slot) > 0) continue;
      problem("slots", Code::kBadInput, "no slot is called so" + meant(slot, known), slot);
    }
  }

  void check_sum() {
    std::vector<Named> sides;
    for (ReadOperand& term : sides_.terms) sides.emplace_back("terms", &term);
    sides.emplace_back("right", &*sides_.right);
    check_numbers(sides);
    check_share();
  }

  void check_share() {
    if (!written_.share) return;
    const std::optional<double> share = to_number(*written_.share);
    if (share && 0 < *share && *share <= 1) {
      sides_.share = *share;
      return;
    }
    problem("share", Code::kOutOfRange,
            "the share of a sum that counts is a plain number over 0, at most 1", *written_.share);
  }

  void check_computed() {
    const RuleCalculation* calculation = find_rule_calculation(written_.compute);
    if (calculation == nullptr) {
      std::vector<std::string> known;
      for (const RuleCalculation& row : rule_calculations()) known.emplace_back(row.name);
      return problem("compute", Code::kBadInput,
                     "no calculation is called so" + meant(written_.compute, known),
                     written_.compute);
    }
    const std::vector<std::string> arguments(calculation->arguments.begin(),
                                             calculation->arguments.end());
    if (arguments.size() != sides_.left.size()) {
      return problem("left", Code::kBadInput,
                     fmt::format("{} takes {}: {}; here are {}", calculation->name,
                                 arguments.size(), join(arguments, ", "), sides_.left.size()));
    }
    for (std::size_t i = 0; i < sides_.left.size(); ++i) {
      check_argument("left", arguments[i], calculation->dimensions[i], sides_.left[i]);
    }
    if (sides_.low) check_argument("low", "low", calculation->answer, *sides_.low);
    if (sides_.high) check_argument("high", "high", calculation->answer, *sides_.high);
    check_low_below_high();
  }

  void check_argument(const std::string& key, std::string_view name, Dimension dimension,
                      const ReadOperand& side) {
    if (!side.certain || (side.is_number() && side.dimension == dimension)) return;
    problem(key, Code::kContradiction,
            fmt::format("{} must be a {}; this is {}", name, word_of(dimension), side.meaning()),
            text_of(side));
  }

  TradeLoading& loading_;
  const WrittenRule& written_;
  RuleSides& sides_;
  ReadOperand own_;  // what offset and tolerance are measured in
};

}  // namespace

void check_shape(TradeLoading& loading, const WrittenRule& written, RuleSides& sides) {
  ShapeChecker(loading, written, sides).check();
}

}  // namespace rollwright::trade
