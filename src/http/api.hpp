#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "shop/shop.hpp"

namespace rollwright::http {

/// A request without its transport: what the API looks at.
struct Request {
  std::string method;                        // "GET"
  std::vector<std::string> path;             // decoded pieces: {"api", "orders", "2041"}
  std::map<std::string, std::string> query;  // decoded
  std::string body;
};

struct Response {
  int status = 200;
  std::string type = "application/json";
  std::string body;
  std::map<std::string, std::string> headers;
};

/// Splits "/api/orders/2041?draws=10". Errors: kBadInput for bad percent codes and NUL bytes.
[[nodiscard]] Result<Request> parse_target(std::string_view method, std::string_view target);

/// Answers a request under /api: finds its use case, calls it, writes JSON. Every refusal becomes
/// the status of its code (base/result.cpp) with its sentence; an unknown path is 404, a known path
/// with another method 405 with Allow.
[[nodiscard]] Response answer_api(shop::Shop& shop, const Request& request);

[[nodiscard]] Response refusal(const Error& error);

}  // namespace rollwright::http
