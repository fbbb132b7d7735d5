#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "shop/views.hpp"

/// Bodies of requests. Each is an object with exactly the fields of web/openapi.yaml.
/// Errors: kBadInput naming the field: text that is no JSON, a field that is missing, unknown or of
/// another type.
namespace rollwright::json {

[[nodiscard]] Result<shop::NewOrder> new_order_from(std::string_view text);

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

}  // namespace rollwright::json
