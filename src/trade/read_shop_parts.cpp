#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "trade/meant.hpp"
#include "trade/shop_reading.hpp"

namespace rollwright::trade {
namespace {

bool is_not_known(const std::string& cell) { return cell.empty() || cell == "?"; }

/// The facts of one row; what is empty or "?" is left out, for absent means not known.
void read_facts(ShopReading& reading, CsvRowReader& row, const PartKind& kind, Part& part) {
  const std::string source = row.cell("source");
  const Day date = row.day_or_none("source_date").value_or(Day{});
  for (const std::string& id : kind.attributes) {
    const std::string cell = row.cell(id);
    const auto attribute = reading.trade.attributes.find(id);
    if (is_not_known(cell) || attribute == reading.trade.attributes.end()) continue;
    Result<Value> value = parse_value(attribute->second, cell);
    if (!value) {
      row.problem(id, value.error().code, value.error().sentence);
      continue;
    }
    part.facts[id] = {.standing = Standing::kKnown,
                      .value = std::move(*value),
                      .source = source,
                      .by = {},
                      .date = date};
  }
  if (!part.facts.empty() && source.empty()) {
    row.problem("source", Code::kBadInput,
                "this row states facts; say where they are printed (a list, a data sheet)");
  }
}

}  // namespace

void read_parts(ShopReading& reading, const ShopFile& file, const PartKind& kind) {
  std::vector<std::string> may = {"maker", "gone", "may_follow", "source", "source_date"};
  may.insert(may.end(), kind.attributes.begin(), kind.attributes.end());
  std::map<std::string, std::string> here;  // id -> where, for parts of these files
  for (const Part& part : reading.files.parts) here[part.id.text] = part.kind.text + ".csv";
  const bool all = read_rows(reading, file, {"id", "name", "price"}, may, [&](CsvRowReader& row) {
    Part part{.id = PartId(row.text("id")), .kind = kind.id, .name = row.text("name")};
    part.maker = row.cell("maker");
    part.price = row.money("price").value_or(Money{});
    part.gone = row.flag("gone");
    part.may_follow = row.flag("may_follow");
    read_facts(reading, row, kind, part);
    if (part.id.empty()) return;
    const auto [first, is_new] =
        here.emplace(part.id.text, fmt::format("{}, line {}", file.name, row.line()));
    if (!is_new) {
      return row.problem("id", Code::kConflict,
                         fmt::format("this number is given twice, first in {}", first->second));
    }
    const auto in_book = reading.known.parts.find(part.id);
    if (in_book != reading.known.parts.end() && in_book->second != kind.id) {
      row.problem("id", Code::kConflict,
                  fmt::format("the book has a part of kind {} under this number; give this one "
                              "another",
                              in_book->second.text));
    }
    reading.parts[part.id.text] = kind.id.text;
    reading.files.parts.push_back(std::move(part));
  });
  reading.all_parts = reading.all_parts && all;
}

namespace {

/// One measured fact, put in place of the printed one.
class MeasuredReader {
 public:
  explicit MeasuredReader(ShopReading& reading) : reading_(reading) {
    for (Part& part : reading.files.parts) parts_[part.id.text] = &part;
  }

  void read(CsvRowReader& row) {
    const std::string part = named_part(reading_, row);
    const std::string id = row.text("attribute");
    Fact fact{.standing = Standing::kMeasured,
              .source = row.cell("tool"),
              .by = row.text("by"),
              .date = row.day("date").value_or(Day{})};
    check_person(row, fact.by);
    const Attribute* attribute = attribute_of(row, part, id);
    const std::string text = row.text("value");
    if (attribute != nullptr && !text.empty()) {
      if (Result<Value> value = parse_value(*attribute, text)) {
        fact.value = std::move(*value);
      } else {
        row.problem("value", value.error().code, value.error().sentence);
      }
    }
    if (row.is_good()) put(row, part, id, std::move(fact));
  }

 private:
  void check_person(CsvRowReader& row, const std::string& by) {
    if (by.empty() || !reading_.reads_people || !reading_.all_people) return;
    if (reading_.people.contains(by)) return;
    const std::vector<std::string> known(reading_.people.begin(), reading_.people.end());
    row.problem("by", Code::kNotFound, "nobody in people.toml is called so" + meant(by, known));
  }

  const Attribute* attribute_of(CsvRowReader& row, const std::string& part, const std::string& id) {
    const PartKind* kind = reading_.kind_of(part);
    if (kind == nullptr || id.empty()) return nullptr;
    const Result<const Attribute*> attribute = trade::attribute_of(reading_.trade, *kind, id);
    if (attribute) return *attribute;
    row.problem("attribute", attribute.error().code, attribute.error().sentence);
    return nullptr;
  }

  void put(CsvRowReader& row, const std::string& part, const std::string& id, Fact fact) {
    const auto found = parts_.find(part);
    if (found == parts_.end()) {
      // Without the part's own row there is nothing to put the fact into.
      if (!reading_.all_parts) return;
      return row.problem("part", Code::kBadInput,
                         "measured facts come together with the part's row in parts/<kind>.csv, "
                         "which is not among these files");
    }
    Fact& held = found->second->facts[id];
    if (held.standing == Standing::kMeasured && held.date == fact.date) {
      return row.problem("attribute", Code::kConflict,
                         "this was measured twice on the same day; keep one row");
    }
    if (held.standing != Standing::kMeasured || held.date < fact.date) held = std::move(fact);
  }

  ShopReading& reading_;
  std::map<std::string, Part*> parts_;
};

}  // namespace

void read_measured(ShopReading& reading, const ShopFile& file) {
  MeasuredReader measured(reading);
  read_rows(reading, file, {"part", "attribute", "value", "by", "date"}, {"tool"},
            [&](CsvRowReader& row) { measured.read(row); });
}

}  // namespace rollwright::trade
