#include "documents/bike_history_pdf.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "documents/paper_rows.hpp"

namespace rollwright::documents {
namespace {

void print_proof(Paper& paper, const BikeHistory& history) {
  if (history.last_hash.empty()) {
    paper.paragraph("Nothing is in the journal yet.", kText);
    return;
  }
  paper.paragraph(
      fmt::format("The journal's last hash when this was printed, also in the code above: {}",
                  history.last_hash),
      kText);
  paper.paragraph(
      fmt::format("rollwright verify --printed {}... says whether the book is whole and still goes "
                  "on from here. Keep this paper where the book is not.",
                  history.last_hash.substr(0, 8)),
      kSmall);
}

void print_history_parts(Paper& paper, const BikeHistory& history) {
  heading(paper, "Parts, on and off");
  if (history.parts.empty()) {
    paper.paragraph("No part was written down for this bike.", kText);
  }
  for (const BikeHistory::Part& part : history.parts) {
    std::string when = "on " + part.on;
    if (!part.off.empty()) {
      when += fmt::format("; off {}{}", part.off, part.why.empty() ? "" : ": " + part.why);
    }
    row(paper, {{0, 90, part.place, kSmall},
                {94, 160, part.name},
                {258, 118, part.marks.empty() ? "number and lot not written down" : part.marks,
                 part.marks.empty() ? kSmall : kBold},
                {380, Paper::kInside - 380, when, kSmall}});
  }
}

void print_history_checks(Paper& paper, const BikeHistory& history) {
  if (history.checks.empty()) return;
  heading(paper, "Checks");
  row(paper, {{44, 222, "what", kSmall}, {270, 34, "result", kSmall},
              {308, 108, "signed by", kSmall}, {420, Paper::kInside - 420, "work by", kSmall}});
  for (const BikeHistory::Check& check : history.checks) {
    const std::string text = check.note.empty() ? check.text : check.text + ". " + check.note;
    row(paper, {{0, 24, check.id, kSmall},
                {26, 14, check.mark, kBold},
                {44, 222, text},
                {270, 34, check.outcome.empty() ? "open" : check.outcome, kBold},
                {308, 108, check.who},
                {420, Paper::kInside - 420, check.work_by}});
  }
}

constexpr double kWho = 86;
constexpr Paper::Size kPhoto = {112, 84};  // 40 x 30 mm: eight to a sheet, 206 pixels to the inch
constexpr double kSentence = 220;
constexpr double kBesidePhoto = Paper::kInside - kSentence - kPhoto.width - 10;

/// What every line begins with.
std::vector<PaperCell> start_of(const BikeHistory::Line& line) {
  return {{0, 26, std::to_string(line.number), {.size = 7.5, .grey = true, .right = true}},
          {34, 92, line.at, kSmall},
          {130, kWho, line.who}};
}

/// "4f1c09aa23 ...": enough to find the picture by, and to see that it is another.
std::string hash_start(const std::string& hash) { return hash.substr(0, 16) + " ..."; }

/// A line with what it is about beside it: number, moment, who and sentence, then picture and hash.
void print_photo(Paper& paper, const BikeHistory::Line& line, const BikeHistory::Photo& photo) {
  const bool is_shown = !photo.jpeg.empty();
  std::string about = "picture " + hash_start(photo.picture);
  if (!is_shown) about += "\nNot shown: " + photo.why_not + ".";
  const double width = is_shown ? kBesidePhoto : Paper::kInside - kSentence;
  const double sentence = paper.height_of(line.sentence, width, kText) + 2;
  const double text = sentence + paper.height_of(about, width, kSmall);
  const double who = paper.height_of(line.who, kWho, kText);
  const double height = std::max({text, who, is_shown ? kPhoto.height : 0}) + 6;
  paper.need(height);
  if (is_shown) {
    paper.picture({.name = photo.picture, .jpeg = photo.jpeg, .width = photo.width,
                   .height = photo.height},
                  Paper::kInside - kPhoto.width, kPhoto);
  }
  for (const PaperCell& cell : start_of(line)) {
    paper.write(cell.left, cell.width, cell.text, cell.style);
  }
  paper.write(kSentence, width, line.sentence, kText);
  paper.down(sentence);
  paper.write(kSentence, width, about, kSmall);
  paper.down(height - sentence);
}

void print_lines(Paper& paper, const BikeHistory& history) {
  heading(paper, "Record");
  if (history.lines.empty()) paper.paragraph("Nothing was written down at the stand.", kText);
  for (const BikeHistory::Line& line : history.lines) {
    if (line.photo) {
      print_photo(paper, line, *line.photo);
      continue;
    }
    std::vector<PaperCell> cells = start_of(line);
    cells.push_back({kSentence, Paper::kInside - kSentence, line.sentence});
    row(paper, cells);
  }
}

void print_entries(Paper& paper, const BikeHistory& history) {
  heading(paper, "Journal entries about the order, its bike and its maker");
  for (const BikeHistory::Entry& entry : history.journal) {
    row(paper, {{0, 34, std::to_string(entry.number), {.size = 7.5, .grey = true, .right = true}},
                {42, 92, entry.at, kSmall},
                {138, 78, entry.who},
                {220, Paper::kInside - 220, entry.what}});
  }
}

}  // namespace

std::string bike_history_pdf(const BikeHistory& history) {
  return printed({.title = "History of bike " + history.order,
                  .foot = fmt::format("History of bike {}, {}, printed {}", history.order,
                                      history.rider, in_words(day_of(history.printed), true)),
                  .made = history.printed},
                 [&](Paper& paper) {
                   head(paper, {.title = fmt::format("{}  {}", history.order, history.rider),
                                .lines = {"History of the bike", history.build,
                                          "State of the order: " + history.state},
                                .code = history.last_hash,
                                .shop = history.shop,
                                .invented = history.invented});
                   print_proof(paper, history);
                   print_history_parts(paper, history);
                   print_history_checks(paper, history);
                   print_lines(paper, history);
                   print_entries(paper, history);
                 });
}

}  // namespace rollwright::documents
