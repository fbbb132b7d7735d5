#pragma once

#include <string>
#include <vector>

namespace rollwright::cli {

/// Rows of cells set in columns as wide as their widest cell, two spaces apart.
class Columns {
 public:
  enum class Side { kLeft, kRight };

  explicit Columns(std::vector<Side> sides) : sides_(std::move(sides)) {}
  void row(std::vector<std::string> cells);
  [[nodiscard]] std::string text() const;
  [[nodiscard]] bool empty() const { return rows_.empty(); }

 private:
  std::vector<Side> sides_;
  std::vector<std::vector<std::string>> rows_;
};

/// Letters a terminal shows: code points, combining marks not considered.
[[nodiscard]] std::size_t shown_width(const std::string& text);

}  // namespace rollwright::cli
