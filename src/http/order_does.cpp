#include "http/order_does.hpp"

#include <algorithm>

#include "http/order_aid.hpp"

namespace rollwright::http {
namespace {

/// A row of an aid that is shown of every bike that it concerns.
struct Figure {
  const char* name;
  const char* aid;
  const char* end;
  const char* row;
};
constexpr Figure kFigures[] = {
    {"Steepest start", "hill-start", "", "Steepest start"},
    {"Lowest gear", "gears", "", "Lowest gear"},
    {"Highest gear", "gears", "", "Highest gear"},
    {"Stopping distance", "stopping", "", "Stopping distance"},
    {"Front rotor on the way", "route-heat", "front", "Hottest"},
    {"Rear rotor on the way", "route-heat", "rear", "Hottest"},
    {"Front tyre, to try first", "tyre-pressure", "front", "Front, to try first"},
    {"Rear tyre, to try first", "tyre-pressure", "rear", "Rear, to try first"},
};

/// An aid along a route, of an order that has none.
bool lacks_its_route(const aids::FilledAid& filled) {
  const auto route = std::ranges::find(filled.fields, "route", &aids::FilledField::key);
  return route != filled.fields.end() && route->from == "preset";
}

std::vector<std::string> presets_of(const aids::FilledAid& filled) {
  std::vector<std::string> presets;
  for (const aids::FilledField& field : filled.fields) {
    if (field.from == "preset" && !field.value.empty()) {
      presets.push_back(field.label + ": " + field.value);
    }
  }
  return presets;
}

aids::Doing doing_of(const Figure& figure, const aids::FilledAid& filled) {
  aids::Doing doing{.name = figure.name, .aid = figure.aid, .end = figure.end,
                    .questions = filled.open};
  if (!doing.questions.empty()) return doing;  // with presets in their place it says nothing of it
  if (filled.refusal) {
    doing.questions.push_back(filled.refusal->sentence);
    return doing;
  }
  const auto& rows = filled.reckoned->rows;
  const auto row = std::ranges::find(rows, figure.row, &aids::Row::name);
  ROLLWRIGHT_PROMISE(row != rows.end());
  doing.presets = presets_of(filled);
  doing.value = row->value;
  doing.us = row->us;
  doing.note = row->note;
  for (const std::string& caution : filled.reckoned->cautions) {
    doing.note += (doing.note.empty() ? "" : ". ") + caution;
  }
  return doing;
}

}  // namespace

Result<aids::Does> order_does(shop::Shop& shop, const std::string& order) {
  const auto home = shop.aid_fields(order, "home-again", "");
  if (!home) return std::unexpected(home.error());
  aids::Does does{.order = order, .doings = {}, .has_charge = home->not_here.empty()};
  for (const Figure& figure : kFigures) {
    const auto filled = order_aid(shop, {order, figure.aid, figure.end, {}});
    if (!filled) return std::unexpected(filled.error());
    if (filled->fields.empty() || lacks_its_route(*filled)) continue;
    does.doings.push_back(doing_of(figure, *filled));
  }
  return does;
}

Result<std::string> order_sheet_pdf(shop::Shop& shop, const std::string& order) {
  const auto does = order_does(shop, order);
  if (!does) return std::unexpected(does.error());
  std::vector<trade::SheetFigure> figures;
  for (const aids::Doing& doing : does->doings) {
    figures.push_back({.name = doing.name, .value = doing.value, .us = doing.us,
                       .note = doing.note, .presets = doing.presets,
                       .questions = doing.questions});
  }
  return shop.sheet_pdf(order, std::move(figures));
}

}  // namespace rollwright::http
