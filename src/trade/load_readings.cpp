#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/operand_reader.hpp"
#include "trade/rule_calculations.hpp"

namespace rollwright::trade {
namespace {

constexpr int kMostReadings = 200;  // one for each spoke of a pair of wheels
constexpr double kAnyAmount = 1e9;

/// The unit's size in its own dimension; sets unit and dimension.
double read_unit(TableReader& reader, Reading& reading) {
  reading.unit = reader.text_or("unit", "");
  if (reading.unit.empty()) return 1;
  const UnitRow* unit = find_unit(reading.unit);
  if (unit == nullptr) {
    std::vector<std::string> symbols;
    for (const UnitRow& row : unit_table()) symbols.emplace_back(row.symbol);
    reader.problem("unit", Code::kBadInput, "this unit is not known" + meant(reading.unit, symbols),
                   reading.unit);
    return 1;
  }
  reading.dimension = unit->dimension;
  return unit->size;
}

std::vector<Operand> read_part_limits(TradeLoading& loading, TableReader& reader,
                                      std::string_view key, const Reading& reading) {
  std::vector<Operand> operands;
  for (const std::string& text : reader.texts(key)) {
    const Place place = reader.place(key, text);
    if (!is_reference(text)) {
      loading.problem(Code::kBadInput, "this names a fact of a part, as in \"stem.torque_max\"",
                      place);
      continue;
    }
    const auto read = read_operand(loading, text, place);
    if (!read) continue;
    if (read->certain && (!read->is_number() || read->dimension != reading.dimension)) {
      loading.problem(Code::kContradiction,
                      fmt::format("this is {}; the reading is a {}", read->meaning(),
                                  word_of(reading.dimension)),
                      place);
      continue;
    }
    operands.push_back(read->operand);
  }
  return operands;
}

void read_limits(TableReader& reader, Reading& reading) {
  const double size = read_unit(reader, reading);
  const auto limit = [&](std::string_view key) {
    std::optional<double> number = reader.number(key, -kAnyAmount, kAnyAmount);
    if (number) *number *= size;
    return number;
  };
  reading.least = limit("least");
  reading.most = limit("most");
  reading.target = limit("target");
  reading.stop_above = limit("stop_above");
  reading.stop_below = limit("stop_below");
}

/// Limits that cannot all hold, or that a plain pass or fail cannot have.
void check_limits(TableReader& reader, const Reading& reading) {
  const auto wrong = [&reader](std::string_view key, std::string_view sentence) {
    reader.problem(key, Code::kContradiction, std::string(sentence));
  };
  if (reading.pass_or_fail) {
    for (const std::string_view key : {"least", "most", "target", "stop_above", "stop_below"}) {
      if (reader.has(key)) wrong(key, "a plain pass or fail has no such value; leave it out");
    }
    if (!reading.unit.empty()) wrong("unit", "a plain pass or fail has no unit; leave it out");
    if (!reading.compute.empty()) wrong("compute", "a plain pass or fail has nothing to compute");
    return;
  }
  if (reading.least && reading.most && *reading.least > *reading.most) {
    wrong("most", "this is less than `least`");
  }
  if (reading.target && reading.least && *reading.target < *reading.least) {
    wrong("target", "this lies below `least`");
  }
  if (reading.target && reading.most && *reading.target > *reading.most) {
    wrong("target", "this lies above `most`");
  }
  if (reading.stop_above && reading.most && *reading.stop_above < *reading.most) {
    wrong("stop_above", "the stop limit lies inside the pass limit `most`");
  }
  if (reading.stop_below && reading.least && *reading.stop_below > *reading.least) {
    wrong("stop_below", "the stop limit lies inside the pass limit `least`");
  }
}

void check_compute(TableReader& reader, const Reading& reading) {
  if (reading.compute.empty()) return;
  const ReadingCalculation* calculation = find_reading_calculation(reading.compute);
  if (calculation == nullptr) {
    std::vector<std::string> known;
    for (const ReadingCalculation& row : reading_calculations()) known.emplace_back(row.name);
    reader.problem("compute", Code::kBadInput,
                   "no calculation is called so" + meant(reading.compute, known), reading.compute);
  } else if (calculation->answer != reading.dimension) {
    reader.problem("compute", Code::kContradiction,
                   fmt::format("this gives a {}, the reading is a {}", word_of(calculation->answer),
                               word_of(reading.dimension)),
                   reading.compute);
  }
}

/// Names what is no operation, once both files of them were read.
void check_operations(TradeLoading& loading, TableReader& reader, std::string_view key,
                      const std::vector<std::string>& named) {
  if (!loading.is_read("operations.toml") || !loading.is_read("care.toml")) return;
  check_names(reader, key, named, operation_ids(loading.trade), "operation");
}

Reading read_reading(TradeLoading& loading, TableReader& reader) {
  Reading reading{.id = reader.text("id"),
                  .operations = reader.texts("operations"),
                  .name = reader.text("name")};
  reading.pass_or_fail = reader.flag_or("pass_or_fail", false);
  read_limits(reader, reading);
  reading.stop = reader.flag_or("stop", false);
  reading.part_limits_most = read_part_limits(loading, reader, "part_most", reading);
  reading.part_limits_least = read_part_limits(loading, reader, "part_least", reading);
  reading.part_targets = read_part_limits(loading, reader, "part_target", reading);
  reading.compute = reader.text_or("compute", "");
  reading.count = reader.whole("count", 1, kMostReadings).value_or(1);
  reading.when = read_when(loading, reader);
  reading.source = reader.text("source");
  reading.file = reader.file();
  reading.line = reader.line();
  reader.finish();
  check_limits(reader, reading);
  check_compute(reader, reading);
  if (reading.operations.empty()) {
    reader.missing("operations", "name the operations during which it is taken");
  }
  check_operations(loading, reader, "operations", reading.operations);
  return reading;
}

struct MarkRow {
  std::string_view letter;
  CheckMark mark;
};
constexpr MarkRow kMarks[] = {
    {"S", CheckMark::kStop}, {"M", CheckMark::kMust}, {"N", CheckMark::kNote}};

CheckMark read_mark(TableReader& reader) {
  const std::string letter = reader.text("mark");
  for (const MarkRow& row : kMarks) {
    if (row.letter == letter) return row.mark;
  }
  if (!letter.empty()) {
    reader.problem("mark", Code::kBadInput, "a mark is S (stop), M (must) or N (note)", letter);
  }
  return CheckMark::kMust;
}

}  // namespace

void load_readings(TradeLoading& loading) {
  OnlyOnce once("reading");
  loading.toml_file("readings.toml", "reading", [&](TableReader& reader) {
    Reading reading = read_reading(loading, reader);
    if (once.is_new(reader, reading.id)) loading.trade.readings.push_back(std::move(reading));
  });
}

void load_cautions(TradeLoading& loading) {
  OnlyOnce once("caution");
  loading.toml_file("cautions.toml", "caution", [&](TableReader& reader) {
    Caution caution{.id = reader.text("id"), .sentence = reader.text("sentence")};
    reader.finish();
    if (once.is_new(reader, caution.id)) {
      loading.trade.cautions.emplace(caution.id, std::move(caution));
    }
  });
}

void load_check_lines(TradeLoading& loading) {
  const std::vector<std::string> lists = {"arrival", "final build", "pre-delivery", "handover",
                                          std::string(kCareList)};
  OnlyOnce once("check");
  loading.toml_file("checklists.toml", "line", [&](TableReader& reader) {
    CheckLine check{.id = reader.text("id"), .list = reader.text("list")};
    check.text = reader.text("text");
    check.limit = reader.text_or("limit", "");
    check.mark = read_mark(reader);
    check.covers = reader.texts("covers");
    check.when = read_when(loading, reader);
    reader.finish();
    if (!check.list.empty()) check_names(reader, "list", {check.list}, lists, "list");
    check_operations(loading, reader, "covers", check.covers);
    if (once.is_new(reader, check.id)) loading.trade.check_lines.push_back(std::move(check));
  });
}

}  // namespace rollwright::trade
