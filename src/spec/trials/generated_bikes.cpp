#include "spec/trials/generated_bikes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <span>

#include <fmt/format.h>

#include "base/index.hpp"
#include "base/random.hpp"
#include "spec/trials/bike_structure.hpp"

namespace rollwright::spec::testing {

namespace {

using trade::Operand;
using trade::RuleShape;
using trade::SlotId;
using trade::Verdict;
using Words = std::vector<std::string>;

constexpr Day kFirstDay{std::chrono::year(2026) / std::chrono::December / 1};
constexpr double kLoad = 104;      // kilograms of rider and luggage
constexpr double kUseClass = 3;
constexpr std::string_view kWholeBike = "*";

trade::Fact fact(trade::Value value) {
  return {.standing = trade::Standing::kKnown, .value = std::move(value)};
}
std::string word(int value) { return fmt::format("v{:02}", value); }

/// Which part: the number of its slot and its own in that slot.
struct Numbers {
  int slot = 0;
  int part = 0;
};

/// One side of an interface: a slot, and the value that each family of its parts has there.
struct Side {
  int slot = 0;
  std::vector<int> value_of;  // by family
};

class Generator {
 public:
  Generator(std::uint64_t seed, const BikesSize& size) : random_(seed), size_(size) {}

  Catalogue run() {
    draw_families();
    add_slots();
    catalogue_.order.facts["use_class"] = fact(kUseClass);
    catalogue_.order.facts["load"] = fact(kLoad);
    catalogue_.order.facts["assist_class"] = fact(std::string("25 km/h"));
    add_attribute("mass", trade::AttributeType::kNumber);
    for (int r = 0; r < size_.rules; ++r) add_rule(r, *next_row());
    return std::move(catalogue_);
  }

 private:
  bool chance(double share) { return random_.uniform() < share; }
  int below(int count) { return static_cast<int>(random_.below(static_cast<std::uint64_t>(count))); }
  int between(int least, int most) { return least + below(most - least + 1); }
  /// A value that does not go by the part's family. One part in twenty strays at likeness 1, then
  /// in three of ten of its interfaces.
  bool strays(int slot, int part) {
    const bool odd = odd_[at(slot * size_.parts + part)] != 0;
    return odd && chance(1 - 0.7 * size_.likeness);
  }
  /// The first part of each family: it states everything and does all that its family does, so
  /// that every family of frames can be made into a bike.
  [[nodiscard]] bool is_typical(int slot, int part) const {
    return part < family_counts_[static_cast<std::size_t>(cluster(slot))];
  }
  /// Something beyond what the families ask for goes together as well.
  bool is_generous() { return chance(0.06 + 0.64 * (1 - size_.likeness)); }

  void draw_families() {
    frame_families_.resize(at(between(8, 15)));
    for (int& count : family_counts_) count = between(3, 7);
    family_counts_[0] = static_cast<int>(frame_families_.size());
    for (auto& family : frame_families_) {
      for (int c = 0; c < kClusters; ++c) family[at(c)] = below(family_counts_[at(c)]);
    }
  }

  void add_slots() {
    trade::BuildTemplate build{.id = "T", .name = "invented bike"};
    for (int s = 0; s < size_.slots; ++s) {
      const SlotRow& row = slot_rows().at(at(s));
      const trade::KindId kind("K-" + std::string(row.id));
      std::string name(row.id);
      std::ranges::replace(name, '_', ' ');
      catalogue_.trade.slots.push_back({.id = SlotId(std::string(row.id)),
                                        .name = name,
                                        .kinds = {kind},
                                        .quantity = row.quantity});
      (row.optional ? build.optional : build.required).emplace_back(std::string(row.id));
      for (int p = 0; p < size_.parts; ++p) add_part(row, kind, {s, p});
      average_grams_ += row.quantity * (row.least_grams + row.most_grams) * (row.optional ? 25 : 50);
    }
    average_grams_ /= 100;
    catalogue_.trade.templates["T"] = build;
  }

  void add_part(const SlotRow& row, const trade::KindId& kind, Numbers numbers) {
    const bool typical = is_typical(numbers.slot, numbers.part);
    trade::Part part{.id = trade::PartId(fmt::format("{}-{:03}", row.id, numbers.part)),
                     .kind = kind,
                     .name = fmt::format("{} {}", row.id, numbers.part),
                     .price = Money{between(100 * row.least_euros, 100 * row.most_euros)},
                     .gone = chance(size_.gone) && !typical};
    const int any = below(family_counts_[static_cast<std::size_t>(row.cluster)]);
    family_of_.push_back(typical ? numbers.part : any);
    odd_.push_back(chance(1 - 0.95 * size_.likeness) && !typical ? 1 : 0);
    const double mass = between(row.least_grams, row.most_grams) / 1000.0;
    if (!chance(size_.not_known)) part.facts["mass"] = fact(mass);
    if (!chance(0.02)) catalogue_.arrivals[part.id] = kFirstDay + std::chrono::days(below(60));
    catalogue_.parts.push_back(std::move(part));
  }

  void add_attribute(const std::string& id, trade::AttributeType type) {
    catalogue_.trade.attributes[id] = {.id = id, .name = "size " + id, .type = type};
  }
  void state(Numbers numbers, const std::string& attribute, trade::Value value) {
    const bool typical = is_typical(numbers.slot, numbers.part);
    if (chance(size_.not_known) && !typical) return;
    parts_of(numbers.slot)[at(numbers.part)].facts[attribute] = fact(std::move(value));
  }
  /// A trait that this share of the families has, and every typical part.
  void state_flag(int slot, const std::string& attribute, double share) {
    add_attribute(attribute, trade::AttributeType::kFlag);
    std::map<int, bool> has;
    for (int p = 0; p < size_.parts; ++p) {
      const int own = family_of_[at(slot * size_.parts + p)];
      if (strays(slot, p) || !has.contains(own)) has[own] = chance(share);
      state({slot, p}, attribute, has[own] || is_typical(slot, p));
    }
  }

  /// Rows whose slots all exist, in order; from the second round on, only rows over two slots.
  const InterfaceRow* next_row() {
    while (true) {
      if (row_ == interface_rows().size()) row_ = 0, ++round_;
      const InterfaceRow& row = interface_rows()[row_++];
      const bool there = std::ranges::all_of(row.slots, [&](auto id) { return slot(id) >= 0; });
      if (there && (round_ == 0 || row.slots.size() == 2)) return &row;
    }
  }
  [[nodiscard]] int slot(std::string_view id) const {
    const auto found = std::ranges::find(slot_rows(), id, &SlotRow::id);
    const auto index = static_cast<int>(found - slot_rows().begin());
    return index < size_.slots ? index : -1;
  }
  [[nodiscard]] static Cluster cluster(int slot) { return slot_rows()[at(slot)].cluster; }

  [[nodiscard]] std::span<trade::Part> parts_of(int slot) {
    return std::span(catalogue_.parts).subspan(at(slot * size_.parts), at(size_.parts));
  }
  /// The part's family, seen from the other side: a frame counts as one of the family that it is
  /// made for.
  [[nodiscard]] int family(int slot, int part, int other) const {
    const int own = family_of_[at(slot * size_.parts + part)];
    return slot == 0 ? family_made_for(own, other) : own;
  }
  [[nodiscard]] int family_made_for(int frame_family, int slot) const {
    return frame_families_[at(frame_family)][static_cast<std::size_t>(cluster(slot))];
  }
  [[nodiscard]] int families(int slot, int other) const {
    return family_counts_[static_cast<std::size_t>(cluster(slot == 0 ? other : slot))];
  }
  /// Whether parts of these families are meant to go together.
  [[nodiscard]] bool go_together(int slot, int a, int other, int b) const {
    if (slot == 0 || other == 0 || cluster(slot) == cluster(other)) return a == b;
    return std::ranges::any_of(frame_families_, [&](const auto& made_for) {
      return made_for[static_cast<std::size_t>(cluster(slot))] == a &&
             made_for[static_cast<std::size_t>(cluster(other))] == b;
    });
  }

  Side side(int slot, int other, int values) {
    Side side{.slot = slot};
    for (int f = families(slot, other); f > 0; --f) side.value_of.push_back(below(values));
    return side;
  }
  Operand operand(int slot, const std::string& attribute) {
    return {catalogue_.trade.slots[at(slot)].id, attribute, {}};
  }

  void add_rule(int number, const InterfaceRow& row) {
    id_ = fmt::format("r{:03}", number);
    trade::Rule rule{.id = fmt::format("R{:03}", number),
                     .severity = chance(0.08) ? trade::Severity::kClaim
                                              : static_cast<trade::Severity>(below(3)),
                     .sentence = "{left} does not go with {right}.",
                     .source = "invented"};
    std::vector<int> slots;
    for (const std::string_view id : row.slots) slots.push_back(slot(id));
    switch (row.meeting) {
      case Meeting::kSame: give_set(rule, RuleShape::kSame, row, slots); break;
      case Meeting::kAccepts: give_set(rule, RuleShape::kOneOf, row, slots); break;
      case Meeting::kTable: give_pair_table(rule, row, slots); break;
      case Meeting::kNotMore: give_limit(rule, row, slots); break;
      case Meeting::kNeeds: give_need(rule, slots); break;
      case Meeting::kStack: give_stack(rule, row, slots); break;
      case Meeting::kTriple: give_triple(rule, row, slots); break;
      case Meeting::kUseClass: give_use_class(rule, slots); break;
      case Meeting::kFunction: give_function(rule, slots); break;
      case Meeting::kMass: give_mass(rule); break;
    }
    if (slots.size() == 2 && chance(0.15)) rule.conditions.push_back(condition(slots[0]));
    catalogue_.trade.rules.push_back(std::move(rule));
  }

  trade::Condition condition(int slot) {
    const int which = below(5);
    if (which < 2) {
      const bool holds = chance(0.75);
      return {{SlotId("order"), "assist_class", {}}, {holds ? "25 km/h" : "45 km/h"}, false};
    }
    const auto& optional = catalogue_.build().optional;
    if (which == 4 && !optional.empty()) {
      return {{optional[at(below(static_cast<int>(optional.size())))], "*filled", {}}, {}, false};
    }
    state_flag(slot, id_ + "c", 0.8);
    return {operand(slot, id_ + "c"), {"yes"}, false};
  }

  /// States a word for every part of the side: its family's, or any.
  void state_words(const Side& side, int other, int values, bool local) {
    add_attribute(id_, trade::AttributeType::kWord);
    for (int p = 0; p < size_.parts; ++p) {
      const int own = side.value_of[at(family(side.slot, p, other))];
      const int any = is_typical(side.slot, p) ? 0 : below(values);
      state({side.slot, p}, id_, word(local || strays(side.slot, p) ? any : own));
    }
  }

  void give_set(trade::Rule& rule, RuleShape shape, const InterfaceRow& row,
                const std::vector<int>& slots) {
    rule.shape = shape;
    const int a = slots[0];
    const int b = slots[1];
    const Side left = side(a, b, row.values);
    state_words(left, b, row.values, row.local);
    add_attribute(id_ + "s", trade::AttributeType::kWords);
    std::map<int, std::set<std::string>> more;  // that a family takes besides, by its number
    for (int p = 0; p < size_.parts; ++p) {
      std::set<std::string> taken;
      const bool odd = strays(b, p);
      const bool by_itself = row.local || odd;
      if (by_itself) taken.insert(word(is_typical(b, p) ? 0 : below(row.values)));
      for (int f = 0; f < families(a, b) && !by_itself; ++f) {
        if (go_together(a, f, b, family(b, p, a))) taken.insert(word(left.value_of[at(f)]));
      }
      const int own = family_of_[at(b * size_.parts + p)];
      if (odd || !more.contains(own)) more[own] = taken_besides(shape, row.values);
      taken.insert(more[own].begin(), more[own].end());
      state({b, p}, id_ + "s", Words(taken.begin(), taken.end()));
    }
    rule.left = {operand(a, id_)};
    rule.right = {operand(b, id_ + "s")};
  }

  std::set<std::string> taken_besides(RuleShape shape, int values) {
    std::set<std::string> words;
    for (int v = 0; v < values; ++v) {
      const bool wide = shape == RuleShape::kOneOf && chance(0.15);
      if (wide || is_generous()) words.insert(word(v));
    }
    return words;
  }

  void give_pair_table(trade::Rule& rule, const InterfaceRow& row, const std::vector<int>& slots) {
    const Side left = side(slots[0], slots[1], row.values);
    const Side right = side(slots[1], slots[0], row.values);
    state_words(left, slots[1], row.values, row.local);
    state_words(right, slots[0], row.values, row.local);
    std::map<Words, Verdict> rows;
    for (std::size_t f = 0; f < left.value_of.size(); ++f) {
      for (std::size_t g = 0; g < right.value_of.size(); ++g) {
        if (!go_together(slots[0], static_cast<int>(f), slots[1], static_cast<int>(g))) continue;
        rows[{word(left.value_of[f]), word(right.value_of[g])}] = table_verdict(0.93);
      }
    }
    for (int v = 0; v < row.values; ++v) {
      for (int w = 0; w < row.values; ++w) {
        if (is_generous()) rows.emplace(Words{word(v), word(w)}, table_verdict(0.3));
      }
    }
    give_table(rule, rows, slots);
  }

  /// `fits`: how often it is simply that; else mostly an adapter.
  Verdict table_verdict(double fits) {
    if (chance(fits)) return Verdict::kFits;
    if (chance(0.1)) return Verdict::kNotKnown;
    return chance(0.7) ? Verdict::kFitsWith : Verdict::kFitsWithCare;
  }

  void give_table(trade::Rule& rule, const std::map<Words, Verdict>& rows,
                  const std::vector<int>& slots) {
    rule.shape = RuleShape::kPairTable;
    rule.table = "T" + id_;
    trade::PairTable table{.id = rule.table,
                           .numeric = std::vector<bool>(slots.size(), false),
                           .source = "invented"};
    for (const int slot : slots) {
      table.columns.push_back(catalogue_.trade.slots[at(slot)].id.text);
      rule.left.push_back(operand(slot, id_));
    }
    for (const auto& [words, verdict] : rows) {
      trade::TableRow row{.ranges = std::vector<std::pair<double, double>>(slots.size()),
                          .verdict = verdict,
                          .adapter = "adapter " + id_};
      for (const std::string& cell : words) row.cells.emplace_back(cell);
      table.rows.push_back(std::move(row));
    }
    catalogue_.trade.tables[table.id] = std::move(table);
  }

  void give_triple(trade::Rule& rule, const InterfaceRow& row, const std::vector<int>& slots) {
    std::vector<Side> sides;
    for (std::size_t i = 0; i < 3; ++i) {
      const int other = slots[(i + 1) % 3];
      sides.push_back(side(slots[i], other, row.values));
      state_words(sides.back(), other, row.values, row.local);
    }
    std::map<Words, Verdict> rows;
    for (int frame = 0; frame < family_counts_[0]; ++frame) {
      Words words;
      for (std::size_t i = 0; i < 3; ++i) {
        const int seen_from = slots[i] == 0 ? slots[(i + 1) % 3] : slots[i];
        words.push_back(word(sides[i].value_of[at(family_made_for(frame, seen_from))]));
      }
      rows[words] = table_verdict(0.93);
    }
    for (int v = 0; v < row.values * row.values * row.values; ++v) {
      const Words words = {word(v % row.values), word(v / row.values % row.values),
                           word(v / row.values / row.values)};
      if (is_generous()) rows.emplace(words, table_verdict(0.3));
    }
    give_table(rule, rows, slots);
  }

  void give_limit(trade::Rule& rule, const InterfaceRow& row, const std::vector<int>& slots) {
    rule.shape = RuleShape::kAtMost;
    const int a = slots[0];
    const int b = slots[1];
    const Side left = side(a, b, row.values);
    add_attribute(id_, trade::AttributeType::kNumber);
    add_attribute(id_ + "m", trade::AttributeType::kNumber);
    const int low = static_cast<int>(row.values * 0.6 * (1 - size_.likeness));
    for (int p = 0; p < size_.parts; ++p) {
      const int own = left.value_of[at(family(a, p, b))];
      const int any = is_typical(a, p) ? 0 : below(row.values);
      state({a, p}, id_, static_cast<double>(row.local || strays(a, p) ? any : own));
      int limit = 0;
      for (int f = 0; f < families(a, b); ++f) {
        if (go_together(a, f, b, family(b, p, a))) limit = std::max(limit, left.value_of[at(f)]);
      }
      const int by_itself = between(low, row.values);
      state({b, p}, id_ + "m",
            static_cast<double>(row.local || strays(b, p) ? by_itself : limit));
    }
    rule.left = {operand(a, id_)};
    rule.right = {operand(b, id_ + "m")};
  }

  void give_need(trade::Rule& rule, const std::vector<int>& slots) {
    rule.shape = RuleShape::kNeeds;
    state_flag(slots[0], id_, 0.5);
    rule.left = {operand(slots[0], id_)};
    if (slot_rows()[at(slots[1])].optional) {
      rule.slots = {catalogue_.trade.slots[at(slots[1])].id};
      return;
    }
    state_flag(slots[1], id_ + "h", 0.7);
    rule.right = {operand(slots[1], id_ + "h")};
  }

  void give_stack(trade::Rule& rule, const InterfaceRow& row, const std::vector<int>& slots) {
    rule.shape = RuleShape::kSum;
    add_attribute(id_, trade::AttributeType::kNumber);
    const int terms = static_cast<int>(slots.size()) - 1;
    for (const int slot : slots) {
      const bool last = slot == slots.back();
      for (int p = 0; p < size_.parts; ++p) {
        const int middle = terms * (row.values + 1) / 2;
        const int value = last                  ? middle + below(row.values)
                          : is_typical(slot, p) ? 1
                                                : between(1, row.values);
        state({slot, p}, id_, static_cast<double>(value));
      }
      (last ? rule.right : rule.terms).push_back(operand(slot, id_));
    }
  }

  void give_use_class(trade::Rule& rule, const std::vector<int>& slots) {
    rule.shape = RuleShape::kAtLeast;
    rule.severity = trade::Severity::kClaim;
    add_attribute(id_, trade::AttributeType::kNumber);
    for (int p = 0; p < size_.parts; ++p) {
      const bool enough = !chance(0.15) || is_typical(slots[0], p);
      state({slots[0], p}, id_, static_cast<double>(enough ? between(3, 5) : 2));
    }
    rule.left = {operand(slots[0], id_)};
    rule.right = {{SlotId("order"), "use_class", {}}};
  }

  void give_function(trade::Rule& rule, const std::vector<int>& slots) {
    rule.shape = RuleShape::kOneOf;
    add_attribute(id_, trade::AttributeType::kWord);
    for (int p = 0; p < size_.parts; ++p) {
      state({slots[0], p}, id_, word(chance(0.97) || is_typical(slots[0], p) ? 0 : 1));
    }
    rule.left = {operand(slots[0], id_)};
    rule.words = {word(0)};
  }

  /// From 15 to 65 % more than bikes weigh on average: what is permitted seldom decides, but parts
  /// that are all heavy together may break it.
  void give_mass(trade::Rule& rule) {
    rule.shape = RuleShape::kSum;
    rule.severity = trade::Severity::kStop;
    rule.terms = {{SlotId(std::string(kWholeBike)), "mass", {}}, {SlotId("order"), "load", {}}};
    rule.right = {operand(0, "permitted")};
    rule.sentence = "{sum} is more than {right}.";
    add_attribute("permitted", trade::AttributeType::kNumber);
    std::vector<double> share(frame_families_.size());
    for (double& of_family : share) of_family = 1.15 + 0.5 * random_.uniform();
    for (int p = 0; p < size_.parts; ++p) {
      const double kilograms = average_grams_ / 1000.0 * share[at(family_of_[at(p)])];
      const double least = is_typical(0, p) ? average_grams_ / 1000.0 : 0;
      state({0, p}, "permitted", kLoad + std::floor(2 * std::max(kilograms, least)) / 2);
    }
  }

  Random random_;
  const BikesSize size_;
  Catalogue catalogue_;
  std::array<int, kClusters> family_counts_{};
  std::vector<std::array<int, kClusters>> frame_families_;  // made for, by cluster
  std::vector<int> family_of_;                              // by part
  std::vector<char> odd_;                                   // by part: does not go by its family
  int average_grams_ = 0;
  std::size_t row_ = 0;
  int round_ = 0;
  std::string id_;  // of the rule at hand: its attributes begin with it
};

}  // namespace

Catalogue generated_bikes(std::uint64_t seed, const BikesSize& size) {
  ROLLWRIGHT_PROMISE(4 <= size.slots && size.slots <= std::ssize(slot_rows()));
  return Generator(seed, size).run();
}

std::vector<Interface> interfaces(const Catalogue& catalogue) {
  std::vector<Interface> all;
  for (const trade::Rule& rule : catalogue.trade.rules) {
    Interface one{.rule = rule.name(), .shape = rule.shape, .slots = trade::scope_of(rule)};
    const bool whole = std::ranges::any_of(
        rule.terms, [](const Operand& term) { return term.slot.text == kWholeBike; });
    if (whole) one.slots.emplace_back(std::string(kWholeBike));
    all.push_back(std::move(one));
  }
  return all;
}

std::string graph_text(const Catalogue& catalogue) {
  std::string text;
  std::map<SlotId, int> touched;
  for (const Interface& one : interfaces(catalogue)) {
    text += fmt::format("{:6} {:12}", one.rule, trade::word_of(one.shape));
    for (const SlotId& slot : one.slots) {
      text += " " + slot.text;
      ++touched[slot];
    }
    text += "\n";
  }
  for (const auto& [slot, rules] : touched) text += fmt::format("{:14} {}\n", slot.text, rules);
  return text;
}

}  // namespace rollwright::spec::testing
