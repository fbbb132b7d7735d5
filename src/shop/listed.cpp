#include "shop/listed.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::shop {
namespace {

/// FNV-1a, 64 bit: tells two previews apart; no defence against forgery is needed here.
class Digest {
 public:
  void add(std::string_view text) {
    for (const char c : text) step(static_cast<unsigned char>(c));
    step(0);  // so that "a", "bc" is not "ab", "c"; no text holds a NUL
  }
  [[nodiscard]] std::string hex() const { return fmt::format("{:016x}", sum_); }

 private:
  void step(unsigned char byte) { sum_ = (sum_ ^ byte) * 0x100000001b3ULL; }
  std::uint64_t sum_ = 0xcbf29ce484222325ULL;
};

std::vector<ListProblemView> problem_views(const Problems& problems) {
  std::vector<ListProblemView> views;
  for (const Error& problem : problems) {
    views.push_back({.line = problem.place.line, .field = problem.place.field,
                     .value = problem.place.value, .sentence = problem.sentence});
  }
  return views;
}

ListRowView row_view(const trade::RowOutcome& outcome) {
  ListRowView view{.line = outcome.line,
                   .fate = std::string(trade::word_of(outcome.fate)),
                   .article = outcome.article,
                   .part = outcome.part,
                   .name = outcome.name,
                   .kind = outcome.kind.text,
                   .notes = outcome.notes,
                   .problems = problem_views(outcome.problems)};
  for (const trade::ValueChange& change : outcome.changes) {
    view.changes.push_back({change.what, change.from, change.to});
  }
  for (const trade::MeasuredElsewise& each : outcome.contradictions) {
    view.contradictions.push_back({each.attribute, each.name, each.measured, each.by, each.date,
                                   each.listed, each.taken_over});
  }
  return view;
}

std::string digest_of(const PreviewView& view, const trade::ColumnMapping& mapping) {
  Digest digest;
  digest.add(view.supplier);
  digest.add(view.file);
  digest.add(iso(view.day));
  digest.add(trade::mapping_text(mapping));
  for (const ListRowView& row : view.rows) {
    digest.add(row.fate);
    digest.add(row.part);
    for (const ListChangeView& change : row.changes) {
      digest.add(change.what);
      digest.add(change.from);
      digest.add(change.to);
    }
    for (const ContradictionView& each : row.contradictions) {
      digest.add(each.attribute);
      digest.add(each.taken_over ? "y" : "n");
    }
  }
  return digest.hex();
}

std::string rows_text(int count) { return count == 1 ? "1 row" : fmt::format("{} rows", count); }

std::string sentence_of(const PreviewView& view) {
  if (!view.problems.empty()) return "The columns cannot be read so: " + view.problems[0].sentence;
  std::string text = fmt::format("{}: {} new, {} changed, {} the same, {} refused.",
                                 rows_text(static_cast<int>(view.rows.size())),
                                 view.counts.at("new"), view.counts.at("changed"),
                                 view.counts.at("same"), view.counts.at("refused"));
  if (view.contradictions == 1) {
    text += " Once the list states otherwise than was measured here.";
  } else if (view.contradictions > 1) {
    text += fmt::format(" {} times the list states otherwise than was measured here.",
                        view.contradictions);
  }
  return text;
}

std::vector<std::string> units_of(const trade::Attribute& attribute) {
  std::vector<std::string> units;
  if (attribute.type != trade::AttributeType::kNumber) return units;
  for (const UnitRow& row : unit_table()) {
    if (row.dimension == attribute.dimension && row.dimension != Dimension::kNone) {
      units.emplace_back(row.symbol);
    }
  }
  return units;
}

}  // namespace

PreviewView preview_of(const trade::Trade& trade, const JudgedList& judged) {
  PreviewView view{.file = judged.sheet.file,
                   .supplier = judged.supplier->id.text,
                   .supplier_name = judged.supplier->name,
                   .day = judged.day,
                   .counts = {{"new", 0}, {"changed", 0}, {"same", 0}, {"refused", 0}},
                   .problems = problem_views(judged.problems)};
  for (const trade::RowOutcome& outcome : judged.outcomes) {
    view.rows.push_back(row_view(outcome));
    ++view.counts[view.rows.back().fate];
    view.contradictions += static_cast<int>(outcome.contradictions.size());
    const auto kind = trade.kinds.find(outcome.kind);
    if (kind != trade.kinds.end()) view.rows.back().kind = kind->second.name;
  }
  for (const std::string& heading : judged.sheet.headings) {
    const auto& columns = judged.mapping.columns;
    const auto found = std::ranges::find(columns, heading, &trade::SheetColumn::heading);
    if (found == columns.end() || found->goes_to.empty()) view.left_out.push_back(heading);
  }
  view.refused_rows = trade::refused_rows_csv(judged.sheet, judged.outcomes);
  view.sentence = sentence_of(view);
  view.as_seen = digest_of(view, judged.mapping);
  return view;
}

std::string why_not_taken(const PreviewView& preview, const HowToTakeIn& how) {
  if (!preview.problems.empty()) return preview.sentence + " Nothing was written.";
  const int refused = preview.counts.at("refused");
  if (refused > 0 && !how.skip_bad_rows) {
    return fmt::format("{} refused: nothing was written. Mend them, or say that the good rows are "
                       "to be taken without them.",
                       refused == 1 ? "1 row is" : fmt::format("{} rows are", refused));
  }
  if (how.dry_run) return preview.sentence + " A dry run: nothing was written.";
  return {};
}

book::Change change_of(const State& state, const JudgedList& judged, const Taker& taker) {
  trade::TakenList list{.number = 1, .supplier = judged.supplier->id, .file = judged.sheet.file,
                        .day = judged.day, .taken = taker.today, .who = taker.who};
  for (const trade::TakenList& before : state.held.rest.taken_lists) {
    list.number = std::max(list.number, before.number + 1);
  }
  book::Change change{.who = taker.who, .what = std::string(kTakeInList), .read_at = state.entry};
  for (const trade::RowOutcome& outcome : judged.outcomes) {
    switch (outcome.fate) {
      case trade::RowFate::kNew: ++list.added; break;
      case trade::RowFate::kChanged: ++list.changed; break;
      case trade::RowFate::kSame: ++list.same; break;
      case trade::RowFate::kRefused: ++list.refused; break;
    }
    if (outcome.part_after) change.put.parts.push_back(*outcome.part_after);
    if (outcome.offer_after) change.put.offers.push_back(*outcome.offer_after);
  }
  change.put.mappings[judged.supplier->id.text] = trade::mapping_text(judged.mapping);
  change.why = reason_of(list);
  change.put.taken_lists.push_back(std::move(list));
  return change;
}

TakenListView taken_list_view(const State& state, const trade::TakenList& list) {
  const auto supplier = state.suppliers.find(list.supplier);
  return {.number = list.number,
          .supplier = list.supplier.text,
          .supplier_name =
              supplier == state.suppliers.end() ? list.supplier.text : supplier->second->name,
          .file = list.file,
          .day = list.day,
          .taken = list.taken,
          .who = list.who,
          .added = list.added,
          .changed = list.changed,
          .same = list.same,
          .refused = list.refused,
          .undone = list.undone};
}

CatalogueView catalogue_view(const trade::Trade& trade, const State& state) {
  CatalogueView view{.targets = trade::plain_targets(),
                     .availability = trade::availability_words(),
                     .most_bytes = static_cast<std::int64_t>(trade::kMostSheetBytes),
                     .most_rows = static_cast<int>(trade::kMostSheetRows)};
  for (const trade::Supplier& supplier : state.held.suppliers) {
    view.suppliers.push_back({.id = supplier.id.text, .name = supplier.name,
                              .has_mapping = state.held.rest.mappings.contains(supplier.id.text)});
  }
  std::set<std::string> used;
  for (const std::string& id : trade::part_kind_ids(trade)) {
    const trade::PartKind& kind = trade.kinds.at(trade::KindId(id));
    view.kinds.push_back({.id = id, .name = kind.name, .attributes = kind.attributes});
    used.insert(kind.attributes.begin(), kind.attributes.end());
  }
  for (const auto& [id, attribute] : trade.attributes) {
    if (!used.contains(id)) continue;
    view.attributes.push_back({.id = id, .name = attribute.name,
                               .type = std::string(trade::word_of(attribute.type)),
                               .unit = attribute.unit, .units = units_of(attribute),
                               .choices = attribute.choices});
  }
  for (const trade::TakenList& list : state.held.rest.taken_lists) {
    view.lists.push_back(taken_list_view(state, list));
  }
  std::ranges::reverse(view.lists);
  return view;
}

std::string reason_of(const trade::TakenList& list) {
  return fmt::format("list {}: {} of {}", list.number, list.file, list.supplier.text);
}

}  // namespace rollwright::shop
