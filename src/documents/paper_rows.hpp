#pragma once

#include <string>
#include <vector>

#include "documents/paper.hpp"

/// What all papers of the shop look like: headings, rows of columns, sheets that know how many they are.
namespace rollwright::documents {

inline constexpr Paper::Style kText{.size = 8.5};
inline constexpr Paper::Style kSmall{.size = 7.5, .grey = true};
inline constexpr Paper::Style kBold{.size = 8.5, .bold = true};

/// With a rule under it, and never alone at the foot of a sheet.
void heading(Paper& paper, const std::string& text);

struct PaperCell {
  double left = 0;   // from the margin
  double width = 0;
  std::string text;
  Paper::Style style = kText;
};
/// One row of columns, on one sheet, and a little room under it.
void row(Paper& paper, const std::vector<PaperCell>& cells);

struct PaperHead {
  std::string title;    // "2041  Wilma Test"
  std::vector<std::string> lines;
  std::string code;     // as a QR code on the right; may be empty
  std::string shop;
  bool invented = false;
};
/// The top of the first sheet.
void head(Paper& paper, const PaperHead& head);

/// A line to write on, with what belongs there under it.
void line_to_write_on(Paper& paper, double left, double width, const std::string& what);

struct PaperMade {
  std::string title;
  std::string foot;
  Instant made = {};
  Paper::Size size = Paper::kA4;
};
/// Prints twice: first to learn how many sheets there are.
template <class Print>
std::string printed(const PaperMade& of, Print print) {
  Paper counting(of.title, of.foot, of.made, 0, of.size);
  print(counting);
  Paper paper(of.title, of.foot, of.made, counting.sheets(), of.size);
  print(paper);
  return paper.finish();
}

}  // namespace rollwright::documents
