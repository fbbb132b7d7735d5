#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "shop/listed.hpp"
#include "shop/recall_desk.hpp"
#include "shop/shop.hpp"
#include "trade/propose_mapping.hpp"

// Use cases around suppliers' lists: propose, preview, take in, and what was taken in. Taking one
// back is in undo_import.cpp.
namespace rollwright::shop {
namespace {

constexpr int kMostTries = 3;  // when others change parts of the list at the same moment

struct ReadList {
  const trade::Supplier* supplier = nullptr;
  trade::SupplierSheet sheet;
  trade::HeldCatalogue held;
  std::optional<trade::ColumnMapping> saved;
};

Result<std::optional<trade::ColumnMapping>> saved_mapping(const State& state,
                                                          const std::string& supplier) {
  const auto found = state.held.rest.mappings.find(supplier);
  if (found == state.held.rest.mappings.end()) return std::nullopt;
  trade::ReadMapping read = trade::read_mapping(found->second, "mapping of " + supplier);
  if (!read.problems.empty()) return std::unexpected(read.problems.front());
  return std::move(read.mapping);
}

Result<ReadList> read_list(const State& state, const GivenList& given) {
  const auto supplier = state.suppliers.find(trade::SupplierId(given.supplier));
  if (supplier == state.suppliers.end()) {
    std::vector<std::string> known;
    for (const auto& [id, about] : state.suppliers) known.push_back(id.text);
    return refuse(Code::kNotFound,
                  "there is no such supplier in the book" +
                      (known.empty() ? std::string("; take in suppliers.toml first")
                                     : "; there are " + listed(known)),
                  {.field = "supplier", .value = given.supplier});
  }
  auto saved = saved_mapping(state, given.supplier);
  if (!saved) return std::unexpected(saved.error());
  std::optional<char> separator;
  if (given.mapping) {
    separator = trade::separator_named(given.mapping->separator);
    if (!separator) {
      return refuse(Code::kBadInput, "cells are parted by comma, semicolon or tab",
                    {.field = "mapping.separator", .value = given.mapping->separator});
    }
  }
  Result<trade::SupplierSheet> sheet =
      trade::read_supplier_sheet(given.text, given.file, separator);
  if (!sheet) return std::unexpected(sheet.error());
  return ReadList{.supplier = supplier->second,
                  .sheet = std::move(*sheet),
                  .held = trade::held_catalogue(state.held.parts, state.held.offers,
                                                supplier->second->id),
                  .saved = std::move(*saved)};
}

std::string columns_and_rows(const trade::SupplierSheet& sheet) {
  return fmt::format("{} columns parted by a {}, {} rows", sheet.headings.size(),
                     trade::word_of_separator(sheet.separator), sheet.rows.size());
}

Result<trade::TakeInTerms> terms_of(const GivenList& given, const trade::Supplier& supplier,
                                    Day today) {
  trade::TakeInTerms terms{.supplier = supplier.id,
                           .source = fmt::format("{}: {}", supplier.name, given.file),
                           .day = given.day.value_or(today)};
  if (today < terms.day) {
    return refuse(Code::kOutOfRange, "a list is not of a day to come; today is " + iso(today),
                  {.field = "day", .value = iso(terms.day)});
  }
  for (const std::string& each : given.take_over) {
    const std::size_t space = each.rfind(' ');
    if (space == std::string::npos || space == 0 || space + 1 == each.size()) {
      return refuse(Code::kBadInput,
                    "name the part and the attribute, as in \"HB-0412 mass\"",
                    {.field = "take_over", .value = each});
    }
    terms.take_over.emplace(each.substr(0, space), each.substr(space + 1));
  }
  return terms;
}

}  // namespace

Result<JudgedList> judge_list(const trade::Trade& trade, const State& state,
                              const GivenList& given, Day today) {
  Result<ReadList> list = read_list(state, given);
  if (!list) return std::unexpected(list.error());
  JudgedList judged{.supplier = list->supplier};
  judged.mapping = given.mapping ? *given.mapping
                                 : trade::propose_mapping(trade, list->sheet, list->supplier->id,
                                                          list->held, list->saved)
                                       .mapping;
  judged.mapping.supplier = list->supplier->id.text;
  auto terms = terms_of(given, *list->supplier, today);
  if (!terms) return std::unexpected(terms.error());
  judged.day = terms->day;
  judged.problems = trade::check_mapping(trade, list->sheet, judged.mapping);
  judged.sheet = std::move(list->sheet);
  if (!judged.problems.empty()) return judged;
  const auto rows = trade::read_sheet_rows(trade, judged.sheet, judged.mapping,
                                           state.settings.currency);
  judged.outcomes =
      trade::judge_rows(trade, judged.sheet, judged.mapping, rows, list->held, *terms);
  // A fact that is let go must be one that really stands against the list.
  for (const auto& [part, attribute] : terms->take_over) {
    const bool there = std::ranges::any_of(judged.outcomes, [&](const trade::RowOutcome& row) {
      return row.part == part &&
             std::ranges::any_of(row.contradictions, [&](const trade::MeasuredElsewise& each) {
               return each.attribute == attribute;
             });
    });
    if (there) continue;
    judged.problems.push_back({Code::kNotFound,
                               "the list says nothing against a measured fact of this name",
                               {.file = given.file, .field = "take_over",
                                .value = part + " " + attribute}});
  }
  return judged;
}

Result<MappingView> Shop::propose_mapping(const GivenList& given) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const Result<ReadList> list = read_list(**current, given);
  if (!list) return std::unexpected(list.error());
  trade::ProposedMapping proposed = trade::propose_mapping(trade_, list->sheet, list->supplier->id,
                                                           list->held, list->saved);
  MappingView view{.file = given.file,
                   .rows = static_cast<int>(list->sheet.rows.size()),
                   .sentence = columns_and_rows(list->sheet),
                   .saved = list->saved.has_value(),
                   .mapping = std::move(proposed.mapping),
                   .kind_why = std::move(proposed.kind_why),
                   .decimal_why = std::move(proposed.decimal_why)};
  for (trade::SeenColumn& column : proposed.columns) {
    view.columns.push_back({.heading = std::move(column.heading),
                            .first_values = std::move(column.first_values),
                            .words = std::move(column.words),
                            .filled = column.filled,
                            .proposal = std::move(column.proposal),
                            .why = std::move(column.why)});
  }
  return view;
}

Result<PreviewView> Shop::preview_catalogue(const GivenList& given) {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  const auto time = now(**current);
  if (!time) return std::unexpected(time.error());
  const auto judged = judge_list(trade_, **current, given, time->day);
  if (!judged) return std::unexpected(judged.error());
  return preview_of(trade_, *judged);
}

Result<TakeInView> Shop::import_catalogue(const GivenList& given, const HowToTakeIn& how,
                                          const std::string& who) {
  for (int tries = 1;; ++tries) {
    const auto current = state();
    if (!current) return std::unexpected(current.error());
    const auto time = now(**current);
    if (!time) return std::unexpected(time.error());
    const auto judged = judge_list(trade_, **current, given, time->day);
    if (!judged) return std::unexpected(judged.error());
    TakeInView view{.preview = preview_of(trade_, *judged)};
    if (!how.as_seen.empty() && how.as_seen != view.preview.as_seen) {
      return refuse(Code::kConflict,
                    "this list would do something else now than what you looked at: the mapping, "
                    "the file or the book has changed; look at it again",
                    {.field = "as_seen"});
    }
    view.sentence = why_not_taken(view.preview, how);
    if (!view.sentence.empty()) return view;
    book::Change change = change_of(**current, *judged, {.who = who, .today = time->day});
    change.at = clock_.now();
    if (change.put.parts.empty() && change.put.offers.empty()) {
      view.sentence = "The list says nothing that the book does not have: nothing was written.";
      return view;
    }
    if (Result<void> ok = recalls_->keep_flags(change); !ok) return std::unexpected(ok.error());
    const auto written = book_.write(change);
    if (!written && written.error().code == Code::kConflict && tries < kMostTries) continue;
    if (!written) return std::unexpected(written.error());
    view.taken = true;
    view.list = taken_list_view(**current, change.put.taken_lists.front());
    view.sentence = fmt::format("Taken in as list {}: {} new, {} changed.", view.list->number,
                                view.list->added, view.list->changed);
    if (listener_) listener_("", "take in list");
    return view;
  }
}

Result<CatalogueView> Shop::imports() {
  const auto current = state();
  if (!current) return std::unexpected(current.error());
  return catalogue_view(trade_, **current);
}

}  // namespace rollwright::shop
