#pragma once

#include <functional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "shop/shop.hpp"

namespace rollwright::http {

struct ServeOptions {
  std::string address = "127.0.0.1";  // loopback unless the owner says otherwise
  int port = 8420;                    // 0 takes a free one
  int threads = 2;
  /// Names under which people reach this server beside its address, as in shop.example: a page of
  /// another name is turned away.
  std::vector<std::string> names = {};
  /// People reach it over https only: something in front of it sees to that.
  bool is_https = false;
};

/// Serves the pages and the API of web/openapi.yaml until SIGINT or SIGTERM, then answers what is
/// in flight and returns. `ready` is called once with the address people open, as in
/// http://127.0.0.1:8420/.
/// Errors: kUnavailable when the port is taken or the address is not this machine's; kNotAllowed
/// for another address than loopback before there is an owner who signs in.
[[nodiscard]] Result<void> serve(shop::Shop& shop, const ServeOptions& options,
                                 const std::function<void(const std::string& url)>& ready);

}  // namespace rollwright::http
