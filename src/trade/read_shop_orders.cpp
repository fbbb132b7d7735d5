#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/shop_reading.hpp"

namespace rollwright::trade {
namespace {

struct AmountRange {
  Dimension dimension;
  double least;  // own unit
  double most;
};
// Wide enough for every rider, narrow enough to catch a wrong unit.
constexpr AmountRange kHeight = {Dimension::kLength, 500, 2600};
constexpr AmountRange kInseam = {Dimension::kLength, 200, 1400};
constexpr AmountRange kRiderMass = {Dimension::kMass, 10, 300};
constexpr AmountRange kLuggage = {Dimension::kMass, 0, 300};

std::optional<double> read_amount(TableReader& reader, std::string_view key,
                                  const AmountRange& range) {
  const std::optional<std::string> text = reader.amount(key);
  if (!text) return std::nullopt;
  const Result<double> amount = parse_amount(*text, range.dimension);
  if (!amount) {
    reader.problem(key, amount.error().code, amount.error().sentence, *text);
    return std::nullopt;
  }
  if (!(range.least <= *amount && *amount <= range.most)) {
    const std::string_view unit = own_unit(range.dimension);
    reader.problem(key, Code::kOutOfRange,
                   fmt::format("this must lie between {} and {}", with_unit(range.least, unit),
                               with_unit(range.most, unit)),
                   *text);
    return std::nullopt;
  }
  return *amount;
}

/// Reads one [[order]].
class OrderReader {
 public:
  OrderReader(ShopReading& reading, TableReader& reader) : reading_(reading), reader_(reader) {}

  Order read() {
    order_.id = OrderId(reader_.amount("id").value_or(""));
    if (order_.id.empty()) reader_.missing("id", "give the order's number, as in \"2041\"");
    order_.build = reader_.text("build");
    read_state();
    read_days();
    read_budget();
    read_follow_up();
    order_.deposit = read_money(reader_, "deposit").value_or(Money{});
    read_flags();
    read_done();
    order_.spec_version = reader_.whole("spec_version", 0, 100'000).value_or(0);
    read_rider();
    read_need();
    read_choices();
    read_answers();
    reader_.finish();
    return std::move(order_);
  }

 private:
  void unknown(TableReader& reader, std::string_view key, std::string_view sentence,
               const std::pair<std::string, std::vector<std::string>>& name) {
    reader.problem(key, Code::kBadInput, std::string(sentence) + meant(name.first, name.second),
                   name.first);
  }

  void read_state() {
    const std::string word = reader_.text("state");
    if (word.empty()) return;
    const std::optional<OrderState> state = state_named(word);
    order_.state = state.value_or(OrderState::kEnquiry);
    if (state) return;
    std::vector<std::string> words;
    for (const OrderState each : all_states()) words.emplace_back(word_of(each));
    unknown(reader_, "state", "no state of an order is called so", {word, words});
  }

  void read_days() {
    const std::optional<Day> opened = reader_.day("opened");
    if (!reader_.has("opened")) reader_.missing("opened", "write the day, as in \"2026-11-25\"");
    order_.opened = opened.value_or(Day{});
    order_.needed_by = reader_.day("needed_by");
    order_.promised = reader_.day("promised");
    if (!opened) return;
    const auto check = [&](std::string_view key, const std::optional<Day>& day) {
      if (!day || *opened <= *day) return;
      reader_.problem(key, Code::kContradiction, "this day lies before the order was opened",
                      iso(*day));
    };
    check("needed_by", order_.needed_by);
    check("promised", order_.promised);
  }

  void read_budget() {
    const std::optional<std::string> text = reader_.amount("budget");
    if (!text) return;
    const Result<Budget> budget = parse_budget(*text);
    if (!budget) return reader_.problem("budget", budget.error().code, budget.error().sentence, *text);
    order_.budget = *budget;
  }

  void read_follow_up() {
    const TomlValue* table = reader_.table("follow_up");
    if (table == nullptr) return;
    TableReader reader(*table, reader_.file(), reading_.problems, "follow_up.");
    FollowUp follow_up{.about = reader.text("about")};
    const std::optional<Day> day = reader.day("day");
    if (!reader.has("day")) reader.missing("day", "write the day, as in \"2026-11-25\"");
    reader.finish();
    if (!is_before_agreed(order_.state)) {
      reader_.problem("follow_up", Code::kContradiction,
                      fmt::format("an order that is {} is not followed up any more; take it out",
                                  word_of(order_.state)));
    }
    if (follow_up.about.size() > kLongestFollowUp || follow_up.about.contains('\n')) {
      reader.problem("about", Code::kOutOfRange,
                     fmt::format("this is one line of at most {} letters", kLongestFollowUp),
                     follow_up.about.substr(0, 40));
    }
    if (day && *day < order_.opened) {
      reader.problem("day", Code::kContradiction, "this day lies before the order was opened",
                     iso(*day));
    }
    follow_up.day = day.value_or(Day{});
    order_.follow_up = std::move(follow_up);
  }

  void read_flags() {
    const std::vector<std::string> flags = reader_.texts("flags");
    for (const std::string& flag : flags) {
      if (std::ranges::count(all_flags(), flag) == 0) {
        unknown(reader_, "flags", "no flag is called so", {flag, all_flags()});
      }
    }
    order_.flags = {flags.begin(), flags.end()};
    order_.held_because = reader_.text_or("held_because", "");
    const bool held = order_.flags.contains("Held");
    if (held && order_.held_because.empty()) {
      reader_.missing("held_because", "an order that is Held says why");
    }
    if (!held && !order_.held_because.empty()) {
      reader_.problem("held_because", Code::kContradiction,
                      "the order is not Held; add the flag or take the reason out",
                      order_.held_because);
    }
  }

  void read_done() {
    std::vector<std::string> known;
    for (const Operation& operation : reading_.trade.operations) known.push_back(operation.id);
    for (const std::string& id : reader_.texts("done")) {
      if (std::ranges::count(known, id) == 0) {
        unknown(reader_, "done", "no operation is called so", {id, known});
      }
      order_.done.insert(id);
    }
  }

  void read_rider() {
    const TomlValue* table = reader_.table("rider");
    if (table == nullptr) {
      if (!reader_.has("rider")) reader_.missing("rider", "write a table [order.rider]");
      return;
    }
    TableReader reader(*table, reader_.file(), reading_.problems, "rider.");
    order_.rider.name = reader.text("name");
    order_.rider.contact = reader.text_or("contact", "");
    if (const auto height = read_amount(reader, "height", kHeight)) {
      order_.rider.height = *height * mm;
    }
    if (const auto inseam = read_amount(reader, "inseam", kInseam)) {
      order_.rider.inseam = *inseam * mm;
    }
    if (const auto mass = read_amount(reader, "mass", kRiderMass)) order_.rider.mass = *mass * kg;
    reader.finish();
    if (order_.rider.height && order_.rider.inseam &&
        *order_.rider.inseam >= *order_.rider.height) {
      reader.problem("inseam", Code::kContradiction, "an inseam is shorter than its rider");
    }
  }

  /// A word that rules ask of the order: it must be one that the trade's attribute knows.
  std::string need_word(TableReader& reader, const std::string& key, const std::string& fallback) {
    const std::string word = reader.text_or(key, fallback);
    const auto attribute = reading_.trade.attributes.find(key);
    if (word.empty() || attribute == reading_.trade.attributes.end()) return word;
    const Result<Value> value = parse_value(attribute->second, word);
    if (!value) reader.problem(key, value.error().code, value.error().sentence, word);
    return word;
  }

  void read_need() {
    const TomlValue* table = reader_.table("need");
    if (table == nullptr) {
      if (!reader_.has("need")) reader_.missing("need", "write a table [order.need]");
      return;
    }
    TableReader reader(*table, reader_.file(), reading_.problems, "need.");
    Need& need = order_.need;
    need.words = reader.text_or("words", "");
    need.use_class = reader.whole("use_class", 1, 5).value_or(need.use_class);
    if (const auto luggage = read_amount(reader, "luggage", kLuggage)) need.luggage = *luggage * kg;
    need.child_seat = reader.flag_or("child_seat", false);
    need.region = need_word(reader, "region", "");
    need.assist_class = need_word(reader, "assist_class", "");
    need.front_brake_lever = need_word(reader, "front_brake_lever", need.front_brake_lever);
    need.route = reader.text_or("route", "");
    need.by_freight = reader.flag_or("by_freight", false);
    reader.finish();
    if (need.route.empty() || reading_.routes.contains(need.route)) return;
    unknown(reader, "route", "there is no route of this name",
            {need.route, {reading_.routes.begin(), reading_.routes.end()}});
  }

  void read_choices() {
    const auto build = reading_.trade.templates.find(order_.build);
    const bool knows_build = build != reading_.trade.templates.end();
    if (!knows_build && !order_.build.empty()) {
      unknown(reader_, "build", "no build is called so",
              {order_.build, names_in(reading_.trade.templates)});
    }
    const TomlValue* table = reader_.table("choices");
    if (table == nullptr) return;
    TableReader reader(*table, reader_.file(), reading_.problems, "choices.");
    for (const TomlEntry& entry : table->entries) {
      const SlotId slot(entry.key);
      const PartId part(reader.text(entry.key));
      if (part.empty()) continue;
      if (knows_build) check_choice(reader, build->second, slot, part);
      order_.choices[slot] = part;
    }
  }

  void check_choice(TableReader& reader, const BuildTemplate& build, const SlotId& slot,
                    const PartId& part) {
    const std::vector<KindId> kinds = kinds_for(reading_.trade, build, slot);
    if (kinds.empty()) {
      std::vector<std::string> slots;
      for (const auto* some : {&build.required, &build.optional}) {
        for (const SlotId& each : *some) slots.push_back(each.text);
      }
      return reader.problem(
          slot.text, Code::kBadInput,
          fmt::format("build {} has no such slot{}", build.id, meant(slot.text, slots)), part.text);
    }
    const auto found = reading_.parts.find(part.text);
    if (found == reading_.parts.end()) {
      if (!reading_.all_parts) return;
      std::vector<std::string> known;
      for (const auto& [id, kind] : reading_.parts) {
        if (std::ranges::count(kinds, KindId(kind)) > 0) known.push_back(id);
      }
      return reader.problem(slot.text, Code::kNotFound,
                            "no part has this number" + meant(part.text, known), part.text);
    }
    if (std::ranges::count(kinds, KindId(found->second)) > 0) return;
    std::vector<std::string> right;
    for (const KindId& kind : kinds) right.push_back(kind.text);
    reader.problem(slot.text, Code::kContradiction,
                   fmt::format("this part is of kind {}; the slot takes {}", found->second,
                               join(right, " or ")),
                   part.text);
  }

  /// What people said to the questions of the trade, about the parts that are chosen here.
  void read_answers() {
    const TomlValue* table = reader_.table("answers");
    if (table == nullptr) return;
    TableReader reader(*table, reader_.file(), reading_.problems, "answers.");
    for (const TomlEntry& entry : table->entries) {
      const TomlValue* inside = reader.table(entry.key);
      if (inside == nullptr) continue;
      const auto question = std::ranges::find(reading_.trade.questions, entry.key, &Question::id);
      if (question == reading_.trade.questions.end()) {
        std::vector<std::string> known;
        for (const Question& each : reading_.trade.questions) known.push_back(each.id);
        unknown(reader, entry.key, "the trade has no such question", {entry.key, known});
        continue;
      }
      TableReader said(*inside, reader_.file(), reading_.problems, "answers." + entry.key + ".");
      Answered answered = read_answer(said);
      answered.about = about(*question, order_);
      order_.answers[entry.key] = std::move(answered);
    }
  }

  Answered read_answer(TableReader& reader) {
    Answered answered;
    const std::string word = reader.text("answer");
    if (const auto answer = answer_named(word)) {
      answered.answer = *answer;
    } else if (!word.empty()) {
      unknown(reader, "answer", "this is no answer", {word, {"yes", "no", "not yet"}});
    }
    answered.who = reader.text("who");
    if (!reader.has("day")) reader.missing("day", "write the day, as in \"2026-11-25\"");
    answered.day = reader.day("day").value_or(Day{});
    answered.note = reader.text_or("note", "");
    reader.finish();
    if (reading_.reads_people && reading_.all_people && !answered.who.empty() &&
        !reading_.people.contains(answered.who)) {
      unknown(reader, "who", "nobody in people.toml is called so",
              {answered.who, {reading_.people.begin(), reading_.people.end()}});
    }
    return answered;
  }

  ShopReading& reading_;
  TableReader& reader_;
  Order order_;
};

}  // namespace

void read_orders(ShopReading& reading, const ShopFile& file) {
  std::map<std::string, int> first;
  reading.all_orders = read_root(reading, file, [&](TableReader& root) {
    for (const TomlValue* table : root.tables("order")) {
      TableReader reader(*table, file.name, reading.problems);
      Order order = OrderReader(reading, reader).read();
      if (order.id.empty()) continue;
      const auto [before, is_new] = first.emplace(order.id.text, reader.line_of("id"));
      if (!is_new) {
        reader.problem("id", Code::kConflict,
                       fmt::format("this order is there twice, first in line {}", before->second),
                       order.id.text);
        continue;
      }
      reading.orders.insert(order.id.text);
      reading.files.orders.push_back(std::move(order));
    }
  });
}

}  // namespace rollwright::trade
