#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "shop/catalogue_views.hpp"
#include "shop/fact_views.hpp"
#include "shop/order_views.hpp"

/// Bodies of requests. Each is an object with exactly the fields of web/openapi.yaml.
/// Errors: kBadInput naming the field: text that is no JSON, a field that is missing, unknown or of
/// another type.
namespace rollwright::json {

[[nodiscard]] Result<shop::NewOrder> new_order_from(std::string_view text);

[[nodiscard]] Result<shop::BudgetGiven> budget_from(std::string_view text);
[[nodiscard]] Result<shop::FollowUpGiven> follow_up_from(std::string_view text);

struct ChooseRequest {
  std::optional<std::string> part;  // null empties the slot
  std::int64_t revision = 0;
};
[[nodiscard]] Result<ChooseRequest> choose_from(std::string_view text);

struct ChooseAllRequest {
  std::map<std::string, std::optional<std::string>> choices;  // slot -> part, null empties it
  std::int64_t revision = 0;
};
[[nodiscard]] Result<ChooseAllRequest> choose_all_from(std::string_view text);

struct AgreeRequest {
  Day promised = {};
  std::int64_t deposit_cents = 0;
  std::int64_t revision = 0;
};
[[nodiscard]] Result<AgreeRequest> agree_from(std::string_view text);

/// The question itself stands in the address.
[[nodiscard]] Result<shop::AnswerGiven> answer_from(std::string_view text);
[[nodiscard]] Result<shop::FactGiven> fact_from(std::string_view text);

/// A supplier's list: file, text and supplier; mapping, day and take_over may be left out.
[[nodiscard]] Result<shop::GivenList> given_list_from(std::string_view text);

struct TakeInRequest {
  shop::GivenList given;
  shop::HowToTakeIn how;
};
[[nodiscard]] Result<TakeInRequest> take_in_from(std::string_view text);

/// Number of the list to take back; 0 when it is left out: the newest.
[[nodiscard]] Result<int> undo_from(std::string_view text);

}  // namespace rollwright::json
