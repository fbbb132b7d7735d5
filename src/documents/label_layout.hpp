#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "documents/label_ink.hpp"
#include "documents/qr_code.hpp"

namespace rollwright::documents {

/// What stands on one label.
struct Label {
  std::string code;                // what the QR code says, printed in letters too
  std::string what;                // "Order", "Front wheel"
  std::string number;              // printed large: "2041", "HB-0412"
  std::vector<std::string> lines;  // what it is, whose it is; may be empty
};

/// Where everything of a label goes: the code on the left, text on the right.
struct LabelLayout {
  /// No code is printed with smaller modules: the scanners of a shop read it in the hand.
  static constexpr double kLeastModule = 0.4;
  /// Figures of this height are read at 1.5 m: a 200th of the distance (common practice).
  static constexpr double kFarFigures = 7.5;

  struct Text {
    std::string text;
    LabelInk::Type type;
    LabelInk::Box box;
  };

  QrCode code;
  double x = 0;  // of the first module; the quiet zone lies around it, inside the label
  double y = 0;
  double module = 0;
  std::vector<Text> texts;    // what, number, lines, code
  double figures_mm = 0;      // height of the number's figures
  bool is_whole = true;       // false when a line ends in "…"
};

/// Lays a label out in `inside`. The code is of version 5 and level H if its modules can be 0.5 mm
/// (then they are whole dots of a printer with 8 to the millimetre) or 0.4 mm, else smaller and of
/// the highest level down to M that has room. It grows while the number stays readable from afar.
/// Text shrinks, then breaks; only the lines may end in "…", never number or code.
/// Errors: kOutOfRange when code or number do not go onto a label of this size.
[[nodiscard]] Result<LabelLayout> lay_out(const LabelInk& ink, const Label& label,
                                          const LabelInk::Box& inside);

}  // namespace rollwright::documents
