#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>  // before the network library, which uses it and does not say so

#include <boost/asio.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>

#include "base/result.hpp"
#include "http/api.hpp"

/// Messages as the network library has them, and how they are told from and made into ours.
namespace rollwright::http {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace bhttp = boost::beast::http;

using In = bhttp::request<bhttp::string_body>;
using Out = bhttp::response<bhttp::string_body>;

/// Who a connection goes between.
struct Ends {
  std::string from;  // the other machine, as tries are counted: of IPv6 the network
  std::string here;  // this machine's address as a host is written, with the port
};

[[nodiscard]] Ends ends_of(const asio::ip::tcp::socket& socket);

[[nodiscard]] inline std::string_view view(beast::string_view text) {
  return {text.data(), text.size()};
}

/// What every answer says, whatever it is.
void add_house_headers(bhttp::fields& headers);

/// The value of each cookie; of two of one name the first, which is the narrower path's.
[[nodiscard]] std::map<std::string, std::string> cookies_of(const In& request);

[[nodiscard]] Out to_http(const Response& response);
[[nodiscard]] Out refused(int status, Code code, const std::string& sentence);

/// A file of the pages, or that the browser has it already.
[[nodiscard]] Out asset_answer(const In& request, const Request& parsed);

}  // namespace rollwright::http
