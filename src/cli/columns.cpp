#include "cli/columns.hpp"

#include <algorithm>

namespace rollwright::cli {

std::size_t shown_width(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xc0) != 0x80;
  }));
}

void Columns::row(std::vector<std::string> cells) {
  cells.resize(sides_.size());
  rows_.push_back(std::move(cells));
}

std::string Columns::text() const {
  std::vector<std::size_t> widths(sides_.size());
  for (const auto& cells : rows_) {
    for (std::size_t i = 0; i < cells.size(); ++i) {
      widths[i] = std::max(widths[i], shown_width(cells[i]));
    }
  }
  std::string text;
  for (const auto& cells : rows_) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::string space(widths[i] - shown_width(cells[i]), ' ');
      line += (i == 0 ? "" : "  ");
      line += sides_[i] == Side::kRight ? space + cells[i] : cells[i] + space;
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  return text;
}

}  // namespace rollwright::cli
