#pragma once

#include <optional>
#include <string>
#include <vector>

namespace rollwright::documents {

/// A QR code as a square of dark and light modules, without its quiet zone.
class QrCode {
 public:
  /// How much of the code may be spoiled and is still read: about 7, 15, 25 and 30 in 100.
  enum class Level { kL, kM, kQ, kH };
  static constexpr int kQuietZone = 4;  // modules on each side that must stay light: ISO/IEC 18004

  /// The smallest code of the level that holds the text, of `least_version` (1 to 40) or larger; none
  /// when no code does. A larger version than the text needs spreads it over more codewords.
  [[nodiscard]] static std::optional<QrCode> of(const std::string& text, Level level,
                                                int least_version = 1);

  [[nodiscard]] int modules() const { return modules_; }
  [[nodiscard]] int modules_with_quiet_zone() const { return modules_ + 2 * kQuietZone; }
  [[nodiscard]] bool is_dark(int row, int column) const;

 private:
  QrCode(int modules, std::vector<bool> dark) : modules_(modules), dark_(std::move(dark)) {}

  int modules_;
  std::vector<bool> dark_;  // row by row
};

}  // namespace rollwright::documents
