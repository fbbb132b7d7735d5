#include "build/value_text.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "units/unit_table.hpp"

namespace rollwright::build {
namespace {

enum class Round { kNearest, kUp, kDown };

constexpr int kMostDecimals = 3;

double rounded_to(double number, int decimals, Round how) {
  const double scale = std::pow(10, decimals);
  // Room for the last bit, so that 4.0 N·m does not become 4.1 when rounded up.
  const double scaled = number * scale;
  const double slack = 1e-6;
  if (how == Round::kUp) return std::ceil(scaled - slack) / scale;
  if (how == Round::kDown) return std::floor(scaled + slack) / scale;
  return std::round(scaled) / scale;
}

/// Numbers of one value, in its own shown unit and with decimals that fit all of them.
class Shown {
 public:
  explicit Shown(const trade::SheetValue& value) : value_(value) {
    const UnitRow* row = find_unit(value.unit);
    size_ = row == nullptr ? 1 : row->size;
    decimals_ = size_ == 1 ? gauge_decimals(value.dimension) : 1;
    for (const auto& limit : {value.strictest.least, value.strictest.most}) {
      if (!limit || *limit == 0) continue;
      // A limit that the gauge's decimals would round away by more than a tenth needs more.
      while (decimals_ < kMostDecimals &&
             std::abs(rounded_to(*limit / size_, decimals_, Round::kNearest) - *limit / size_) >
                 0.1 * std::abs(*limit / size_)) {
        ++decimals_;
      }
    }
  }

  [[nodiscard]] std::string number(double own, Round how) const {
    return rounded(rounded_to(own / size_, decimals_, how), decimals_);
  }
  [[nodiscard]] std::string with_unit_after(const std::string& number) const {
    return value_.unit.empty() ? number : number + " " + value_.unit;
  }

 private:
  const trade::SheetValue& value_;
  double size_ = 1;
  int decimals_ = 1;
};

std::string range_of(const trade::Limit& limit, const Shown& shown) {
  if (limit.least && limit.most) {
    const std::string least = shown.number(*limit.least, Round::kUp);
    const std::string most = shown.number(*limit.most, Round::kDown);
    if (least == most) return shown.with_unit_after(least);
    return shown.with_unit_after(least + " to " + most);
  }
  if (limit.most) return "at most " + shown.with_unit_after(shown.number(*limit.most, Round::kDown));
  if (limit.least) return "at least " + shown.with_unit_after(shown.number(*limit.least, Round::kUp));
  return {};
}

std::string us_of(const trade::SheetValue& value) {
  const auto us = [&value](double number) {
    return us_customary(number, value.dimension).value_or("");
  };
  if (value.target) return us(*value.target);
  const trade::Limit& limit = value.strictest;
  if (limit.least && limit.most && !us(*limit.most).empty()) {
    const std::string least = us(*limit.least);
    return least.substr(0, least.find(' ')) + " to " + us(*limit.most);  // one unit for both
  }
  if (limit.most && !us(*limit.most).empty()) return "at most " + us(*limit.most);
  if (limit.least && !us(*limit.least).empty()) return "at least " + us(*limit.least);
  return {};
}

}  // namespace

void tell(trade::SheetValue& value) {
  if (value.pass_or_fail) return;
  const Shown shown(value);
  if (value.target) {
    value.target_text = shown.with_unit_after(shown.number(*value.target, Round::kNearest));
  }
  value.range_text = range_of(value.strictest, shown);
  value.us_text = us_of(value);
}

}  // namespace rollwright::build
