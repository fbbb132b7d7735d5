#include "http/wire.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "http/assets.hpp"

namespace rollwright::http {
namespace {

std::string host_text(const asio::ip::tcp::endpoint& endpoint) {
  const std::string text = endpoint.address().to_string();
  return endpoint.address().is_v6() ? "[" + text + "]" : text;
}

}  // namespace

Ends ends_of(const asio::ip::tcp::socket& socket) {
  boost::system::error_code error;
  const asio::ip::tcp::endpoint from = socket.remote_endpoint(error);
  const asio::ip::tcp::endpoint here = socket.local_endpoint(error);
  Ends ends{.from = from.address().to_string(), .here = fmt::format("{}:{}", host_text(here),
                                                                    here.port())};
  if (from.address().is_v6()) {
    auto bytes = from.address().to_v6().to_bytes();
    // A machine may take any of the addresses of its network.
    if (!from.address().to_v6().is_v4_mapped()) std::fill(bytes.begin() + 8, bytes.end(), 0);
    ends.from = asio::ip::address_v6(bytes).to_string();
  }
  return ends;
}

void add_house_headers(bhttp::fields& headers) {
  headers.set(bhttp::field::server, "rollwright");
  headers.set("X-Content-Type-Options", "nosniff");
  headers.set("Referrer-Policy", "same-origin");
  headers.set("Cross-Origin-Resource-Policy", "same-origin");
  const std::string_view of_pages = edition();
  headers.set("X-Edition", beast::string_view(of_pages.data(), of_pages.size()));
  headers.set("Content-Security-Policy",
              "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; "
              "frame-ancestors 'none'; base-uri 'none'; form-action 'self'");
}

Out to_http(const Response& response) {
  Out out(static_cast<bhttp::status>(response.status), 11);
  out.set(bhttp::field::content_type, response.type);
  out.set(bhttp::field::cache_control, "no-store");
  for (const auto& [name, value] : response.headers) out.set(name, value);
  for (const std::string& cookie : response.cookies) {
    out.insert(bhttp::field::set_cookie, cookie);
  }
  out.body() = response.body;
  return out;
}

Out refused(int status, Code code, const std::string& sentence) {
  Response response = refusal({code, sentence});
  response.status = status;
  return to_http(response);
}

std::map<std::string, std::string> cookies_of(const In& request) {
  std::map<std::string, std::string> cookies;
  for (const std::string& pair : split(view(request[bhttp::field::cookie]), ';')) {
    const std::size_t equals = pair.find('=');
    if (equals != std::string::npos) cookies.emplace(pair.substr(0, equals), pair.substr(equals + 1));
  }
  return cookies;
}

Out asset_answer(const In& request, const Request& parsed) {
  if (parsed.method != "GET" && parsed.method != "HEAD") {
    Out out = refused(405, Code::kBadInput, "pages are only read");
    out.set(bhttp::field::allow, "GET, HEAD");
    return out;
  }
  std::string path;
  for (const std::string& piece : parsed.path) path += "/" + piece;
  const Asset* asset = asset_for(path.empty() ? "/index.html" : path);
  if (asset == nullptr) {
    return refused(404, Code::kNotFound, "there is nothing at this address");
  }
  const bool packed = !asset->gzip.empty() &&
                      request[bhttp::field::accept_encoding].find("gzip") !=
                          beast::string_view::npos;
  std::string etag(asset->etag);
  if (packed) etag.insert(etag.size() - 1, "-gz");
  const bool unchanged = request[bhttp::field::if_none_match] == etag;
  Out out(unchanged ? bhttp::status::not_modified : bhttp::status::ok, 11);
  out.set(bhttp::field::content_type, std::string(asset->type));
  out.set(bhttp::field::etag, etag);
  out.set(bhttp::field::vary, "Accept-Encoding");
  out.set(bhttp::field::cache_control,
          asset->for_ever ? "public, max-age=31536000, immutable" : "no-cache");
  if (packed) out.set(bhttp::field::content_encoding, "gzip");
  if (!unchanged) out.body() = std::string(packed ? asset->gzip : asset->plain);
  return out;
}

}  // namespace rollwright::http
