#include "mech/tyre.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/text.hpp"
#include "mech/field_range.hpp"

namespace rollwright::mech {
namespace {

constexpr Pressure kHooklessMost = 5.0 * bar;  // [hookless]
constexpr Pressure kHighestMark = 12.0 * bar;

std::optional<Error> size_problem(const TyreSize& size) {
  return first_outside({{"tyre width", size.width.in(mm), 10, 150, "mm"},
                        {"bead seat diameter", size.bead_seat.in(mm), 150, 800, "mm"}});
}

std::string_view advice_for(std::string_view text) {
  const bool by_name = text.find_first_of("xX\"") != std::string_view::npos ||
                       text.find("×") != std::string_view::npos;
  return by_name ? "Names in inches and with an x stand for several rims that do not match. " : "";
}

std::optional<Error> table_problem(const std::vector<RimWidthRow>& rows) {
  if (rows.empty()) {
    return Error{Code::kBadInput, "The table of tyre widths for rims has no rows.",
                 Place{.field = "rim width table"}};
  }
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const bool rising = i == 0 || rows[i - 1].rim_inner < rows[i].rim_inner;
    if (rising && rows[i].least_tyre <= rows[i].most_tyre) continue;
    return Error{Code::kBadInput,
                 fmt::format("Row {} of the table of tyre widths for rims is out of order: rim "
                             "widths rise from row to row and the least tyre is not over the most.",
                             i + 1),
                 Place{.field = "rim width table"}};
  }
  return std::nullopt;
}

Length between(Length a, Length b, double share) { return a + share * (b - a); }

RimWidthRow row_at(Length rim_inner, const std::vector<RimWidthRow>& rows) {
  const auto above =
      std::lower_bound(rows.begin(), rows.end(), rim_inner,
                       [](const RimWidthRow& row, Length width) { return row.rim_inner < width; });
  if (above->rim_inner == rim_inner) return *above;
  const RimWidthRow& low = *(above - 1);
  const double share = (rim_inner - low.rim_inner) / (above->rim_inner - low.rim_inner);
  return {rim_inner, between(low.least_tyre, above->least_tyre, share),
          between(low.most_tyre, above->most_tyre, share)};
}

std::optional<Error> marks_problem(const PressureMarks& marks) {
  if (auto error =
          first_outside({{"tyre's least pressure", marks.tyre_least.in(bar), 0, 12, "bar"},
                         {"tyre's greatest pressure", marks.tyre_most.in(bar), 0, 12, "bar"},
                         {"rim's greatest pressure", marks.rim_most.in(bar), 0, 12, "bar"}})) {
    return error;
  }
  if (marks.hookless_rim && !marks.tyre_for_hookless) {
    return Error{Code::kContradiction,
                 "The rim is hookless and the tyre is not released for hookless rims; it can blow "
                 "off. Take a tyre that its maker releases for straight-sided rims.",
                 Place{.field = "tyre for hookless"}};
  }
  if (marks.tyre_most > Pressure{} || marks.rim_most > Pressure{}) return std::nullopt;
  return Error{Code::kBadInput,
               "Neither the tyre nor the rim states a greatest pressure; read it off the side wall "
               "or the rim's label.",
               Place{.field = "tyre's greatest pressure"}};
}

}  // namespace

Result<TyreSize> parse_tyre_size(std::string_view text) {
  const auto pieces = split(text, '-');
  const auto width = pieces.size() == 2 ? to_number(pieces[0]) : std::nullopt;
  const auto seat = pieces.size() == 2 ? to_number(pieces[1]) : std::nullopt;
  if (!width || !seat) {
    return refuse(
        Code::kBadInput,
        fmt::format("\"{}\" is no tyre size. {}Type width-rim in mm as printed on the side "
                    "wall, for example 47-622.",
                    text, advice_for(text)),
        {.field = "tyre size", .value = std::string(text)});
  }
  const TyreSize size{*width * mm, *seat * mm};
  if (auto error = size_problem(size)) {
    error->place.value = std::string(text);
    return std::unexpected(*error);
  }
  return size;
}

std::string designation(const TyreSize& size) {
  return plain(size.width.in(mm)) + "-" + plain(size.bead_seat.in(mm));
}

Length tyre_diameter(const TyreSize& size) { return size.bead_seat + 2 * size.width; }

Length tyre_circumference(const TyreSize& size) { return std::numbers::pi * tyre_diameter(size); }

Result<RimMatch> tyre_on_rim(Length width, Length rim_inner, const std::vector<RimWidthRow>& rows) {
  if (auto error = table_problem(rows)) return std::unexpected(*error);
  if (auto error =
          first_outside({{"tyre width", width.in(mm), 10, 150, "mm"},
                         {"rim inner width", rim_inner.in(mm), rows.front().rim_inner.in(mm),
                          rows.back().rim_inner.in(mm), "mm"}})) {
    return std::unexpected(*error);
  }
  const RimWidthRow row = row_at(rim_inner, rows);
  return RimMatch{row.least_tyre, row.most_tyre, row.least_tyre <= width && width <= row.most_tyre};
}

Result<TyreClearance> tyre_clearance(const TyreRoom& room) {
  if (auto error = first_outside({{"opening", room.opening.in(mm), 15, 250, "mm"},
                                  {"tyre width", room.real_width.in(mm), 10, 150, "mm"},
                                  {"wanted room", room.least_room.in(mm), 0, 30, "mm"}})) {
    return std::unexpected(*error);
  }
  const Length each = (room.opening - room.real_width) / 2;
  return TyreClearance{each, room.opening - 2 * room.least_room, each >= room.least_room};
}

Result<PressureRange> pressure_range(const PressureMarks& marks) {
  if (auto error = marks_problem(marks)) return std::unexpected(*error);
  PressureRange range{.least = marks.tyre_least, .most = kHighestMark, .most_set_by = {}};
  const auto lower = [&range](Pressure limit, const char* name) {
    if (!(Pressure{} < limit) || limit > range.most) return;
    if (limit == range.most && !range.most_set_by.empty()) return;
    range.most = limit;
    range.most_set_by = name;
  };
  lower(marks.tyre_most, "tyre");
  lower(marks.rim_most, "rim");
  if (marks.hookless_rim) lower(kHooklessMost, "hookless rim");
  if (range.least <= range.most) return range;
  return refuse(Code::kContradiction,
                fmt::format("The tyre needs at least {} bar and the {} allows no more than {} bar; "
                            "they cannot go together.",
                            rounded(range.least.in(bar), 2), range.most_set_by,
                            rounded(range.most.in(bar), 2)),
                {.field = "tyre's least pressure"});
}

Result<SuggestedPressure> suggested_pressure(Mass wheel_load, Length real_width,
                                             const PressureRange& range) {
  if (auto error =
          first_outside({{"wheel load", wheel_load.in(kg), 10, 250, "kg"},
                         {"tyre width", real_width.in(mm), 18, 120, "mm"},
                         {"greatest pressure", range.most.in(bar), 0.2, 12, "bar"},
                         {"least pressure", range.least.in(bar), 0, range.most.in(bar), "bar"}})) {
    return std::unexpected(*error);
  }
  // Anchor of the fit: 45.4 kg (100 lb) on a 28 mm tyre. [tyre-drop]
  const Pressure free =
      4.55 * (wheel_load.in(kg) / 45.4) * std::pow(28 / real_width.in(mm), 1.8) * bar;
  const Pressure kept = std::clamp(free, range.least, range.most);
  return SuggestedPressure{kept, free, kept != free};
}

}  // namespace rollwright::mech
