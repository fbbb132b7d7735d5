#include "documents/paper_rows.hpp"

#include <algorithm>

namespace rollwright::documents {

void heading(Paper& paper, const std::string& text) {
  paper.need(40);
  paper.down(10);
  paper.paragraph(text, {.size = 12, .bold = true});
  paper.down(2);
  paper.rule();
  paper.down(4);
}

void row(Paper& paper, const std::vector<PaperCell>& cells) {
  double height = 0;
  for (const PaperCell& cell : cells) {
    if (cell.text.empty()) continue;
    height = std::max(height, paper.height_of(cell.text, cell.width, cell.style));
  }
  paper.need(height + 2);
  for (const PaperCell& cell : cells) paper.write(cell.left, cell.width, cell.text, cell.style);
  paper.down(height + 2);
}

void head(Paper& paper, const PaperHead& head) {
  constexpr double kCode = 84;
  double width = Paper::kInside;
  if (!head.code.empty()) {
    paper.code(head.code, kCode);
    width -= kCode + 10;
  }
  double height = paper.write(0, width, head.title, {.size = 20, .bold = true});
  paper.down(height);
  for (const std::string& line : head.lines) {
    if (line.empty()) continue;
    const double more = paper.write(0, width, line, {.size = 10});
    paper.down(more);
    height += more;
  }
  const std::string by = head.shop + (head.invented ? " (everything on this paper is invented)" : "");
  const double last = paper.write(0, width, by, kSmall) + 6;
  height += last;
  paper.down(head.code.empty() ? last : last + std::max(0.0, kCode - height));
}

void line_to_write_on(Paper& paper, double left, double width, const std::string& what) {
  paper.down(22);
  paper.box(left, width, 0);
  paper.down(2);
  paper.write(left, width, what, kSmall);
  paper.down(-24);
}

}  // namespace rollwright::documents
