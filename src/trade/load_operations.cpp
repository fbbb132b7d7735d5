#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/bike_record.hpp"
#include "trade/loops.hpp"
#include "trade/meant.hpp"
#include "trade/skills.hpp"
#include "trade/trade_loading.hpp"

namespace rollwright::trade {
namespace {

constexpr double kMostMinutes = 24 * 60;
constexpr int kMostHands = 4;
constexpr double kMostUnattended = 14 * 24 * 60;  // two weeks: a paint or a bond at most

void read_minutes(TableReader& reader, Operation& operation) {
  const TomlValue* minutes = reader.value("minutes");
  if (minutes == nullptr) return reader.missing("minutes", "write [least, most], as in [25, 50]");
  const auto is_number = [](const TomlValue& value) {
    return value.sort == TomlValue::Sort::kWhole || value.sort == TomlValue::Sort::kNumber;
  };
  if (minutes->items.size() != 2 || !std::ranges::all_of(minutes->items, is_number)) {
    return reader.problem("minutes", Code::kBadInput, "write [least, most], as in [25, 50]");
  }
  operation.minutes_low = minutes->items[0].number;
  operation.minutes_high = minutes->items[1].number;
  const bool good = 0 < operation.minutes_low && operation.minutes_low <= operation.minutes_high &&
                    operation.minutes_high <= kMostMinutes;
  if (good) return;
  reader.problem(
      "minutes", Code::kOutOfRange, "minutes run from the least to the most, above 0 and up to 1440",
      fmt::format("{}, {}", plain(operation.minutes_low), plain(operation.minutes_high)));
}

std::vector<SlotId> read_fits(TradeLoading& loading, TableReader& reader) {
  std::vector<SlotId> fits;
  const std::vector<std::string> named = reader.texts("fits");
  for (const std::string& slot : named) fits.emplace_back(slot);
  if (!loading.is_read("slots.toml")) return fits;
  std::vector<std::string> known;
  for (const Slot& slot : loading.trade.slots) known.push_back(slot.id.text);
  check_names(reader, "fits", named, known, "slot");
  return fits;
}

void read_hands(TradeLoading& loading, TableReader& reader, Operation& operation) {
  operation.hands = reader.whole("hands", 1, kMostHands).value_or(1);
  operation.hands_when = read_when(loading, reader, "hands_when");
  if (operation.hands > 1 || !reader.has("hands_when")) return;
  reader.problem("hands_when", Code::kContradiction,
                 "this says when more than one person is at it; say how many with hands = 2");
}

Operation read_operation(TradeLoading& loading, TableReader& reader) {
  Operation operation{.id = reader.text("id"), .name = reader.text("name")};
  operation.area = reader.text("area");
  operation.after = reader.texts("after");
  operation.fits = read_fits(loading, reader);
  operation.hangs = reader.texts("hangs");
  check_names(reader, "hangs", operation.hangs, all_wheels(), "wheel");
  read_minutes(reader, operation);
  operation.skill = reader.text("skill");
  operation.when = read_when(loading, reader);
  operation.when_in_words = reader.text_or("when_in_words", "");
  operation.unattended_minutes =
      reader.number("unattended_minutes", 0, kMostUnattended).value_or(0);
  operation.may_pause_overnight = reader.flag_or("may_pause_overnight", true);
  operation.second_person = reader.flag_or("second_person", false);
  operation.needs_bike_stand = reader.flag_or("needs_bike_stand", true);
  read_hands(loading, reader, operation);
  operation.tools = reader.texts("tools");
  operation.consumables = reader.texts("consumables");
  operation.cautions = reader.texts("cautions");
  operation.steps = reader.text("steps");
  operation.file = reader.file();
  operation.line = reader.line();
  reader.finish();
  if (!operation.skill.empty()) {
    check_names(reader, "skill", {operation.skill}, all_skills(), "skill");
  }
  if (loading.is_read("cautions.toml")) {
    check_names(reader, "cautions", operation.cautions, names_in(loading.trade.cautions),
                "caution");
  }
  return operation;
}

Place place_of(const Operation& operation, std::string value) {
  return {
      .file = operation.file, .line = operation.line, .field = "after", .value = std::move(value)};
}

/// Each list by itself: building does not wait for care.
void check_predecessors(TradeLoading& loading, const std::vector<Operation>& operations) {
  std::vector<std::string> ids;
  for (const Operation& operation : operations) ids.push_back(operation.id);
  std::map<std::string, std::vector<std::string>> after;
  for (const Operation& operation : operations) {
    std::vector<std::string>& known = after[operation.id];
    std::set<std::string> seen;
    for (const std::string& before : operation.after) {
      if (std::ranges::count(ids, before) == 0) {
        loading.problem(Code::kBadInput, "no operation is called so" + meant(before, ids),
                        place_of(operation, before));
      } else if (!seen.insert(before).second) {
        loading.problem(Code::kBadInput, "this operation is there twice; say it once",
                        place_of(operation, before));
      } else {
        known.push_back(before);
      }
    }
  }
  for (const std::vector<std::string>& loop : loops_among(after)) {
    const Operation* first = find_operation(loading.trade, loop.front());
    loading.problem(Code::kContradiction,
                    fmt::format("these operations wait for each other: {}; take one of the "
                                "predecessors out",
                                join(loop, " after ")),
                    place_of(*first, loop.size() > 1 ? loop[1] : loop[0]));
  }
}

}  // namespace

void load_operations(TradeLoading& loading) {
  OnlyOnce once("operation");
  const auto load = [&](const std::string& file, std::vector<Operation>& operations) {
    loading.toml_file(file, "operation", [&](TableReader& reader) {
      Operation operation = read_operation(loading, reader);
      if (once.is_new(reader, operation.id)) operations.push_back(std::move(operation));
    });
    check_predecessors(loading, operations);
  };
  load("operations.toml", loading.trade.operations);
  load("care.toml", loading.trade.care);
}

}  // namespace rollwright::trade
