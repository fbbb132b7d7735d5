#include "json/plan_requests.hpp"

#include "json/body.hpp"

namespace rollwright::json {

Result<ProposeRequest> propose_from(std::string_view text) {
  return read_object<ProposeRequest>(text, [](Object& object, ProposeRequest& request) {
    object.read("over", request.over);
    const bool of_order = object.has("order");
    object.read("order", request.wish.order, false);
    object.read("operation", request.wish.operation, of_order);
    object.read("unpin", request.wish.unpin, false);
    const bool is_move = of_order && !request.wish.unpin;
    object.read("person", request.wish.person, is_move);
    object.read("start", request.wish.start, is_move);
    object.read("stand", request.wish.stand, false);
  });
}

Result<double> seconds_from(std::string_view text) {
  return read_object<double>(text, [](Object& object, double& seconds) {
    object.read("seconds", seconds);
  });
}

Result<shop::PlanSettingsView> plan_settings_from(std::string_view text) {
  return read_object<shop::PlanSettingsView>(
      text, [](Object& object, shop::PlanSettingsView& settings) {
        object.read("frozen_days", settings.frozen_days);
        object.read("day_late", settings.day_late);
        object.read("moved", settings.moved);
        object.read("kit_day", settings.kit_day);
        object.read("last_day", settings.last_day);
        object.read("uneven_hour", settings.uneven_hour);
      });
}

Result<shop::DaysAway> days_away_from(std::string_view text) {
  return read_object<shop::DaysAway>(text, [](Object& object, shop::DaysAway& days) {
    object.read("from", days.first);
    days.last = days.first;
    object.read("to", days.last, false);
    object.read("is_back", days.is_back, false);
  });
}

Result<void> nothing_from(std::string_view text) {
  const auto nothing = read_object<int>(text, [](Object&, int&) {});
  if (!nothing) return std::unexpected(nothing.error());
  return {};
}

}  // namespace rollwright::json
