#include "cli/as_text.hpp"
#include "cli/catalogue_verbs.hpp"

#include <filesystem>
#include <fstream>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/columns.hpp"
#include "trade/supplier_sheet.hpp"

namespace rollwright::cli {
namespace {

std::string problem_text(const shop::ListProblemView& problem) {
  std::string text = problem.line > 0 ? fmt::format("line {}, ", problem.line) : "";
  // A heading may be "column 3" itself: that is how a column without one is called.
  text += problem.field.starts_with("column ") ? problem.field : "column " + problem.field;
  if (!problem.value.empty()) text += fmt::format(", \"{}\"", problem.value);
  return text + ": " + problem.sentence;
}

std::string change_text(const shop::ListChangeView& change) {
  if (change.from.empty()) return fmt::format("{}: {}", change.what, change.to);
  return fmt::format("{}: {} -> {}", change.what, change.from,
                     change.to.empty() ? "none" : change.to);
}

std::string row_text(const shop::ListRowView& row) {
  std::string text =
      fmt::format("{:>6}  {:<8} {}{}{}\n", row.line, row.fate, row.article,
                  row.part.empty() || row.fate == "refused" ? "" : " = " + row.part,
                  row.name.empty() ? "" : "  " + row.name);
  const auto under = [&text](const std::string& line) { text += "                " + line + "\n"; };
  for (const shop::ListProblemView& problem : row.problems) under(problem_text(problem));
  std::vector<std::string> changes;
  for (const shop::ListChangeView& change : row.changes) changes.push_back(change_text(change));
  if (!changes.empty()) under(join(changes, "; "));
  for (const shop::ContradictionView& each : row.contradictions) {
    under(fmt::format("{}: measured {} by {} on {}, the list says {}: {}", each.name,
                      each.measured, each.by, iso(each.date), each.listed,
                      each.taken_over ? "the list's is taken"
                                      : fmt::format("kept (--take-over \"{} {}\")", row.part,
                                                    each.attribute)));
  }
  for (const std::string& note : row.notes) under(note);
  return text;
}

}  // namespace

Result<shop::GivenList> given_list(const CatalogueOptions& options) {
  Result<std::string> text = read_file(options.path, trade::kMostSheetBytes);
  if (!text) {
    Error error = text.error();
    if (error.place.file.empty()) error.place.file = options.path;
    return std::unexpected(std::move(error));
  }
  shop::GivenList given{.file = std::filesystem::path(options.path).filename().string(),
                        .text = std::move(*text),
                        .supplier = options.supplier,
                        .take_over = options.take_over};
  if (!options.day.empty()) {
    const Result<Day> day = parse_day(options.day);
    if (!day) {
      return refuse(day.error().code, day.error().sentence,
                    {.field = "--day", .value = options.day});
    }
    given.day = *day;
  }
  if (options.mapping.empty()) return given;
  const Result<std::string> written = read_file(options.mapping);
  if (!written) return std::unexpected(written.error());
  trade::ReadMapping read = trade::read_mapping(*written, options.mapping);
  if (!read.problems.empty()) {
    std::vector<std::string> rest;
    for (const Error& problem : read.problems) rest.push_back(problem.full());
    if (rest.size() == 1) return std::unexpected(read.problems.front());
    return refuse(Code::kBadInput, "the mapping cannot be used:\n" + join(rest, "\n"),
                  {.file = options.mapping});
  }
  if (read.mapping.supplier != options.supplier) {
    return refuse(Code::kContradiction,
                  fmt::format("this mapping is for {}, the list is said to be of {}",
                              read.mapping.supplier, options.supplier),
                  {.file = options.mapping, .field = "supplier", .value = read.mapping.supplier});
  }
  given.mapping = std::move(read.mapping);
  return given;
}

Result<void> write_refused(const CatalogueOptions& options, const shop::PreviewView& preview) {
  if (options.refused.empty() || preview.refused_rows.empty()) return {};
  std::ofstream file(options.refused, std::ios::binary);
  file << preview.refused_rows;
  file.close();
  if (!file) {
    return refuse(Code::kUnavailable, "the file cannot be written", {.file = options.refused});
  }
  return {};
}

bool is_clean(const shop::PreviewView& preview) {
  return preview.problems.empty() && preview.counts.at("refused") == 0;
}

std::string as_text(const shop::MappingView& view) {
  std::string text = fmt::format("# {}: {}.\n", view.file, view.sentence);
  if (!view.decimal_why.empty()) text += fmt::format("# {}.\n", view.decimal_why);
  if (!view.kind_why.empty()) text += fmt::format("# kind: {}.\n", view.kind_why);
  text += "#\n";
  for (const shop::ColumnView& column : view.columns) {
    text += fmt::format("# {} ({}): {}; {}.\n", column.heading,
                        join(column.first_values, " | "),
                        column.proposal.goes_to.empty() ? "left out" : column.proposal.goes_to,
                        column.why);
  }
  return text + "\n" + trade::mapping_text(view.mapping);
}

std::string as_text(const shop::PreviewView& view) {
  std::string text = fmt::format("{}, list of {}, {}.\n{}\n", view.file, view.supplier_name,
                                 iso(view.day), view.sentence);
  for (const shop::ListProblemView& problem : view.problems) text += problem_text(problem) + "\n";
  if (!view.left_out.empty()) text += "Columns left out: " + listed(view.left_out) + ".\n";
  for (const shop::ListRowView& row : view.rows) {
    if (row.fate == "same" && row.contradictions.empty() && row.notes.empty()) continue;
    text += row_text(row);
  }
  return text;
}

std::string as_text(const shop::TakeInView& view) {
  return view.taken ? view.sentence + "\n" : as_text(view.preview) + view.sentence + "\n";
}

std::string as_text(const shop::UndoView& view) {
  std::string text = view.sentence + "\n";
  for (const std::string& part : view.discontinued) text += "  discontinued: " + part + "\n";
  for (const std::string& each : view.left) text += "  " + each + "\n";
  return text;
}

std::string as_text(const shop::CatalogueView& view) {
  if (view.lists.empty()) return "No supplier's list was taken in yet.\n";
  using enum Columns::Side;
  Columns columns({kRight, kLeft, kLeft, kLeft, kRight, kRight, kRight, kLeft});
  for (const shop::TakenListView& list : view.lists) {
    columns.row({std::to_string(list.number), in_short(list.taken), list.supplier_name, list.file,
                 fmt::format("{} new", list.added), fmt::format("{} changed", list.changed),
                 fmt::format("{} left out", list.refused),
                 list.undone ? "taken back" : "by " + list.who});
  }
  return columns.text();
}

}  // namespace rollwright::cli
