#pragma once

#include <string>
#include <vector>

#include "base/clock.hpp"
#include "base/result.hpp"
#include "documents/label_layout.hpp"
#include "trade/label_sheet.hpp"

namespace rollwright::documents {

struct LabelPrint {
  const trade::LabelSheet* sheet = nullptr;
  int from = 1;  // position of the first free label on the first page, row by row
  Instant printed = {};
};

/// The labels one after the other on pages of their sheet or roll, nothing else: to be printed at
/// full size. The same labels and moment give the same bytes.
/// Errors: kOutOfRange for a position that the sheet does not have; those of lay_out.
[[nodiscard]] Result<std::string> labels_pdf(const std::vector<Label>& labels,
                                             const LabelPrint& print);

/// One page of the same, from 1 on, as a picture with the edges of the labels; positions before
/// `from` are grey. Errors: as labels_pdf, and kNotFound for a page that there is not.
[[nodiscard]] Result<std::string> labels_svg(const std::vector<Label>& labels,
                                             const LabelPrint& print, int page);

/// How each of them will look, in their order. Errors: as labels_pdf.
[[nodiscard]] Result<std::vector<LabelLayout>> layouts_of(const std::vector<Label>& labels,
                                                          const LabelPrint& print);

/// What is printed of a label of this sheet lies inside this box, from the label's corner. All labels
/// of a sheet have the same, so that they look alike.
[[nodiscard]] LabelInk::Box inside_of_label(const trade::LabelSheet& sheet);

}  // namespace rollwright::documents
