#pragma once

#include <set>
#include <string>
#include <vector>

#include "build/bench_rules.hpp"

namespace rollwright::build {

/// Who writes, and with what.
struct BenchWriter {
  const trade::Person& person;
  const trade::Tool* tool = nullptr;                // as in DeedAsked, like the rest
  std::span<const std::string_view> four_eyes = {};
  std::string blocked = {};
};

/// Lines on their way into a bike's record: each deed is judged over what those before it made of
/// the bike.
class BenchWriting {
 public:
  /// `sheet` outlives this; `now` is a state of it.
  BenchWriting(const trade::Sheet& sheet, BenchState now) : sheet_(sheet), now_(std::move(now)) {}

  /// Judges a deed and puts its line behind the others. Errors: those of judge, and nothing is put.
  [[nodiscard]] Result<void> add(const BenchWriter& writer, const DeedWanted& wanted);

  /// The bike with every line until now.
  [[nodiscard]] const BenchState& now() const { return now_; }
  [[nodiscard]] const std::vector<trade::BikeLine>& lines() const { return lines_; }

 private:
  const trade::Sheet& sheet_;
  BenchState now_;
  std::vector<trade::BikeLine> lines_;
};

/// The operations of an order that are done: of those on the sheet what the record says, of all
/// others what the order said before.
[[nodiscard]] std::set<std::string> done_by(const BenchState& state,
                                            std::set<std::string> before);

}  // namespace rollwright::build
