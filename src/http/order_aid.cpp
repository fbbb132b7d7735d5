#include "http/order_aid.hpp"

namespace rollwright::http {

Result<aids::FilledAid> order_aid(shop::Shop& shop, const OrderAid& asked) {
  const auto aid = aids::aid_called(asked.aid);
  if (!aid) return std::unexpected(aid.error());
  auto fields = shop.aid_fields(asked.order, asked.aid, asked.end);
  if (!fields) return std::unexpected(fields.error());
  if (!fields->not_here.empty()) {
    return aids::FilledAid{.aid = asked.aid, .end = asked.end, .ends = fields->ends, .fields = {}, .reckoned = {},
                           .refusal = Error{Code::kRefused, fields->not_here}};
  }
  aids::Filling filling{.known = {}, .typed = asked.typed, .file = std::move(fields->file)};
  for (const auto& [key, value, origin] : fields->fields) {
    filling.known.push_back({.key = key, .value = value, .origin = origin, .question = {}});
  }
  for (const auto& [key, sentence] : fields->questions) {
    filling.known.push_back({.key = key, .value = {}, .origin = {}, .question = sentence});
  }
  aids::FilledAid made = aids::filled(**aid, filling);
  made.end = asked.end;
  made.ends = std::move(fields->ends);
  return made;
}

}  // namespace rollwright::http
