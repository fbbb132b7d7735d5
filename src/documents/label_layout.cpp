#include "documents/label_layout.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "base/text.hpp"

namespace rollwright::documents {
namespace {

constexpr double kDot = 0.125;          // of a label printer with 8 dots to the millimetre
constexpr double kGoodModule = 4 * kDot;
constexpr double kMostModule = 8 * kDot;
constexpr int kSturdyVersion = 5;
constexpr double kMostOfWidth = 0.525;   // of the label for the code
constexpr double kNumberShare = 0.465;   // of the label's height for the number
constexpr double kLeastNumber = 2.6;    // sizes of type in mm
constexpr double kLeastLines = 1.75;    // 5 points
constexpr double kMostLines = 3.4;
constexpr double kLeastCode = 1.4;
constexpr double kStep = 0.1;
constexpr double kGap = 1.2;            // between code and text
constexpr double kLineGap = 0.3;        // above the code in letters
constexpr double kSlack = 0.05;         // so that rounding ends no line

struct FittedCode {
  QrCode code;
  double most_module;  // that the label has room for
};

/// What a code may be, best first. Version 5 of level H is read under a stroke of 2 mm from 18.5 mm on,
/// smaller versions of the same size are not: fewer codewords, of which the stroke spoils more. On
/// the smallest labels, with finer modules, it bears 1 mm.
struct Sort {
  QrCode::Level level;
  int least_version;
  double least_module;
};
constexpr Sort kSorts[] = {{QrCode::Level::kH, kSturdyVersion, kGoodModule},
                           {QrCode::Level::kH, kSturdyVersion, LabelLayout::kLeastModule},
                           {QrCode::Level::kH, 1, kGoodModule},
                           {QrCode::Level::kQ, 1, kGoodModule},
                           {QrCode::Level::kM, 1, kGoodModule},
                           {QrCode::Level::kM, 1, LabelLayout::kLeastModule}};

std::optional<FittedCode> fitted_code(const std::string& text, double side) {
  for (const Sort& sort : kSorts) {
    std::optional<QrCode> code = QrCode::of(text, sort.level, sort.least_version);
    if (!code) continue;
    const double most = side / code->modules_with_quiet_zone();
    if (most >= sort.least_module) return FittedCode{std::move(*code), most};
  }
  return std::nullopt;
}

/// Largest first.
std::vector<double> modules_up_to(double most) {
  std::vector<double> modules;
  const double whole_dots = std::floor(std::min(most, kMostModule) / kDot + 1e-9) * kDot;
  for (double module = whole_dots; module >= kGoodModule - 1e-9; module -= kDot) {
    modules.push_back(module);
  }
  if (modules.empty()) modules.push_back(most);
  return modules;
}

/// The largest size from `most` down at which the text goes into the box, broken into lines; none
/// when it does not even at `least`.
std::optional<double> size_for(const LabelInk& ink, std::string_view text, LabelInk::Type type,
                               const LabelInk::Box& box, double least) {
  for (; type.size_mm >= least - 1e-9; type.size_mm -= kStep) {
    const LabelInk::Extent extent = ink.extent(text, type, box.width);
    if (extent.height <= box.height && extent.width <= box.width) return type.size_mm;
  }
  return std::nullopt;
}

/// The number on one line as large as it goes; broken when it would become too small.
std::optional<LabelInk::Type> type_of_number(const LabelInk& ink, const std::string& number,
                                             double width, double height) {
  LabelInk::Type type{.size_mm = height / ink.extent("0", {.size_mm = 1, .bold = true}).height,
                      .bold = true};
  const double of_one = ink.extent(number, {.size_mm = 10, .bold = true}).width / 10;
  const double on_one_line = std::min(type.size_mm, (width - kSlack) / of_one);
  if (on_one_line >= kLeastNumber) {
    type.size_mm = on_one_line;
    return type;
  }
  type.size_mm = std::min(type.size_mm, 2 * kLeastNumber);
  const auto size = size_for(ink, number, type, {.width = width, .height = height}, kLeastLines);
  if (!size) return std::nullopt;
  type.size_mm = *size;
  return type;
}

/// On one line where that stays readable.
LabelInk::Type type_of_kind(const LabelInk& ink, const std::string& what,
                            const LabelInk::Box& box) {
  const double usual = std::clamp(0.09 * box.height, 2.0, 4.0);
  const double of_one = ink.extent(what, {.size_mm = 10, .bold = true}).width / 10;
  const double on_one_line = std::min(usual, (box.width - kSlack) / of_one);
  return {.size_mm = on_one_line >= kLeastLines ? on_one_line : std::min(usual, 2.0), .bold = true};
}

/// Puts texts below each other into the column beside the code.
class Column {
 public:
  Column(const LabelInk& ink, LabelLayout& layout, const LabelInk::Box& box)
      : ink_(ink), layout_(layout), left_(box) {}

  void top(const std::string& text, const LabelInk::Type& type) {
    const double height = ink_.extent(text, type, left_.width).height + kSlack;
    put(text, type, left_.y, height);
    left_.y += height;
    left_.height -= height;
  }
  void bottom(const std::string& text, const LabelInk::Type& type) {
    const double height = ink_.extent(text, type, left_.width).height + kSlack;
    put(text, type, left_.y + left_.height - height, height);
    left_.height -= height;
  }
  /// Into what is left between top and bottom: line by line, or where that takes too much one after
  /// the other, so that an end in "…" stands for all that is missing.
  void middle(const std::vector<std::string>& lines) {
    left_.height -= kLineGap;
    LabelInk::Type type{.size_mm = kMostLines};
    std::string text = join(lines, "\n");
    auto size = size_for(ink_, text, type, left_, kLeastLines);
    if (!size) {
      text = join(lines, "; ");
      size = size_for(ink_, text, type, left_, kLeastLines);
    }
    type.size_mm = size.value_or(kLeastLines);
    layout_.is_whole = size.has_value();
    put(text, type, left_.y, left_.height + kSlack);
  }
  [[nodiscard]] const LabelInk::Box& left() const { return left_; }

 private:
  void put(const std::string& text, const LabelInk::Type& type, double y, double height) {
    layout_.texts.push_back(
        {text, type, {.x = left_.x, .y = y, .width = left_.width, .height = height}});
  }

  const LabelInk& ink_;
  LabelLayout& layout_;
  LabelInk::Box left_;
};

std::unexpected<Error> too_small(const Label& label, const char* what) {
  return refuse(Code::kOutOfRange,
                fmt::format("{} does not go onto a label of this size; take a larger one", what),
                {.field = "sheet", .value = label.number});
}

/// The column of text beside a code of this module.
LabelInk::Box beside(const LabelInk::Box& inside, const QrCode& code, double module) {
  const double taken = code.modules_with_quiet_zone() * module + kGap;
  return {.x = inside.x + taken, .y = inside.y, .width = inside.width - taken,
          .height = inside.height};
}

struct Sized {
  double module;
  LabelInk::Type number;
};
/// The largest code beside which the number is read from afar; where none is, the one that leaves
/// the number most.
std::optional<Sized> sized(const LabelInk& ink, const Label& label, const LabelInk::Box& inside,
                           const FittedCode& code) {
  std::optional<Sized> best;
  for (const double module : modules_up_to(code.most_module)) {
    const double width = beside(inside, code.code, module).width;
    const auto number =
        type_of_number(ink, label.number, width, kNumberShare * inside.height);
    if (!number) continue;
    if (!best || number->size_mm > best->number.size_mm) best = Sized{module, *number};
    if (number->size_mm * LabelInk::kCapital >= LabelLayout::kFarFigures) break;
  }
  return best;
}

}  // namespace

Result<LabelLayout> lay_out(const LabelInk& ink, const Label& label, const LabelInk::Box& inside) {
  const auto code =
      fitted_code(label.code, std::min(inside.height, kMostOfWidth * inside.width));
  if (!code) return too_small(label, "the code");
  const auto size = sized(ink, label, inside, *code);
  if (!size) return too_small(label, "the number");
  const double quiet = QrCode::kQuietZone * size->module;
  const double side = code->code.modules_with_quiet_zone() * size->module;
  LabelLayout layout{.code = code->code, .x = inside.x + quiet,
                     .y = inside.y + (inside.height - side) / 2 + quiet, .module = size->module,
                     .texts = {}};
  layout.figures_mm = size->number.size_mm * LabelInk::kCapital;

  Column column(ink, layout, beside(inside, code->code, size->module));
  column.top(label.what, type_of_kind(ink, label.what, column.left()));
  column.top(label.number, size->number);
  LabelInk::Type typed{.size_mm = std::clamp(0.07 * inside.height, 1.7, 2.6), .grey = true};
  const auto typed_size = size_for(ink, label.code, typed, column.left(), kLeastCode);
  if (!typed_size) return too_small(label, "the code in letters");
  typed.size_mm = *typed_size;
  column.bottom(label.code, typed);
  if (!label.lines.empty()) column.middle(label.lines);
  return layout;
}

}  // namespace rollwright::documents
