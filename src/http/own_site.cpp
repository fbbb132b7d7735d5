#include "http/own_site.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "http/assets.hpp"
#include "http/photo_api.hpp"

namespace rollwright::http {

// A name that another site's page could be made to lead to is none of these.
bool OwnSite::is_our_name(const std::string& host, const Ends& ends) const {
  const std::string port = ":" + std::to_string(port_);
  std::vector<std::string> ours = {"127.0.0.1" + port, "localhost" + port, "[::1]" + port,
                                   ends.here};
  for (const std::string& name : names_) {
    ours.push_back(name);
    ours.push_back(name + port);
  }
  return std::ranges::find(ours, host) != ours.end();
}

std::optional<Out> OwnSite::turned_away(const In& request, const Ends& ends) const {
  const std::string host(request[bhttp::field::host]);
  if (!is_our_name(host, ends)) {
    return refused(421, Code::kNotAllowed,
                   names_.empty() ? "this server answers to 127.0.0.1 and localhost only"
                                  : "this server does not answer to this name");
  }
  const bool writes =
      request.method() == bhttp::verb::post || request.method() == bhttp::verb::put;
  if (!writes) return std::nullopt;  // other methods are turned away by the path they ask for
  const auto origin = request.find(bhttp::field::origin);
  if (origin != request.end() && view(origin->value()) != scheme_ + host) {
    return refused(403, Code::kNotAllowed, "a page of another site may not change the book");
  }
  // Pages that were open, or kept in a browser, while the program was renewed. Other programs that
  // write say no edition.
  const auto of_pages = request.find("X-Edition");
  if (of_pages != request.end() && view(of_pages->value()) != edition()) {
    return refused(412, Code::kConflict,
                   "the program was renewed: load the page again, then this can be written");
  }
  // A form of another site can send neither of these types.
  const std::string_view target = view(request.target());
  const bool is_file = target.starts_with("/api/aids/") || takes_picture(target);
  const char* wanted = is_file ? "application/octet-stream" : "application/json";
  if (!request[bhttp::field::content_type].starts_with(wanted)) {
    return refused(415, Code::kBadInput,
                   fmt::format("{} is sent as {}", is_file ? "a file" : "a change", wanted));
  }
  return std::nullopt;
}

}  // namespace rollwright::http
