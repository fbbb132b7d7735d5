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
  std::map<std::string, std::string> cookies = {};
  std::string from = {};         // address of the machine that asks
  std::string held = {};         // tag of the copy that the browser holds (If-None-Match)
  bool nobody_is_there = false;  // the page asked by itself, with nobody at it
  /// Stands in the journal: the person who is signed in; where the change came from until people
  /// sign in.
  std::string who = "desk";
  bool is_signed_in = false;  // `who` is a person
  bool is_by_pin = false;     // who proved to be that person by a PIN only
};

struct Response {
  int status = 200;
  std::string type = "application/json";
  std::string body;
  std::map<std::string, std::string> headers;
  std::vector<std::string> cookies = {};  // each as Set-Cookie has it
};

/// Splits "/api/orders/2041?draws=10". Errors: kBadInput for bad percent codes and NUL bytes.
[[nodiscard]] Result<Request> parse_target(std::string_view method, std::string_view target);

/// Whether the API has this address and takes this method there.
[[nodiscard]] bool is_route(const Request& request);

/// Every route as "GET /api/orders/:id".
[[nodiscard]] std::vector<std::string> all_routes();

/// Answers a request under /api, of somebody who may ask (http/door.hpp): finds its use case, calls it, writes JSON. Every refusal becomes
/// the status of its code (base/result.cpp) with its sentence; an unknown path is 404, a known path
/// with another method 405 with Allow.
[[nodiscard]] Response answer_api(shop::Shop& shop, const Request& request);

[[nodiscard]] Response refusal(const Error& error);

}  // namespace rollwright::http
