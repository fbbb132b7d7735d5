#pragma once

#include <optional>
#include <string>
#include <vector>

#include "http/wire.hpp"

namespace rollwright::http {

/// The names under which this server is reached, and what of other sites is turned away.
class OwnSite {
 public:
  OwnSite(std::vector<std::string> names, bool is_https)
      : names_(std::move(names)), scheme_(is_https ? "https://" : "http://") {}

  /// Known only once the server listens.
  void set_port(std::uint16_t port) { port_ = port; }

  /// A page of another site must not reach the book through the browser: the host must be this
  /// machine's name, and a write must come from our own pages and carry JSON.
  [[nodiscard]] std::optional<Out> turned_away(const In& request, const Ends& ends) const;

 private:
  [[nodiscard]] bool is_our_name(const std::string& host, const Ends& ends) const;

  std::vector<std::string> names_;
  std::string scheme_;
  std::uint16_t port_ = 0;
};

}  // namespace rollwright::http
