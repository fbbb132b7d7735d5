#include "http/receiving.hpp"

#include "book/picture.hpp"
#include "http/photo_api.hpp"

namespace rollwright::http {
namespace {

using asio::use_awaitable;
using namespace std::chrono_literals;

constexpr std::uint64_t kMostBodyBytes = 1024 * 1024;
// Suppliers' lists come as text within JSON, photographs as they are.
constexpr std::uint64_t kMostListBytes = 8 * 1024 * 1024;
static_assert(kMostListBytes == book::kMostPictureBytes);
constexpr std::uint32_t kMostHeaderBytes = 16 * 1024;
constexpr auto kFileDeadline = 90s;  // for 8 MiB over the wireless of a back room
constexpr auto kDrainDeadline = 2s;
constexpr std::uint64_t kMostDrained = 64 * 1024 * 1024;

Out too_large(bool is_file, bool is_picture) {
  return refused(413, Code::kTooLarge,
                 !is_file     ? "a request may have at most 1 MiB"
                 : is_picture ? "a photograph may have at most 8 MiB; set the camera to a smaller "
                                "size"
                              : "a file may have at most 6 MiB");
}

}  // namespace

asio::awaitable<bool> something_comes(beast::tcp_stream& stream, beast::flat_buffer& buffer,
                                      std::chrono::seconds deadline) {
  boost::system::error_code error;
  stream.expires_after(deadline);
  const std::size_t bytes = co_await stream.async_read_some(
      buffer.prepare(4096), asio::redirect_error(use_awaitable, error));
  if (error) co_return false;
  buffer.commit(bytes);
  co_return true;
}

asio::awaitable<Received> receive(
    beast::tcp_stream& stream, beast::flat_buffer& buffer,
    const std::function<asio::awaitable<bool>(const In& header)>& may_ask) {
  bhttp::request_parser<bhttp::string_body> parser;
  parser.body_limit(kMostListBytes);
  parser.header_limit(kMostHeaderBytes);
  boost::system::error_code error;
  stream.expires_after(kRequestDeadline);
  co_await bhttp::async_read_header(stream, buffer, parser,
                                    asio::redirect_error(use_awaitable, error));
  const std::string_view target = view(parser.get().target());
  const bool is_picture = takes_picture(target);
  const bool takes_lists = is_picture || target.starts_with("/api/catalogue/") ||
                           target.starts_with("/api/aids/");
  const bool beyond_lists = error == bhttp::error::body_limit;
  const bool is_list = !error && takes_lists && co_await may_ask(parser.get());
  if (!error && !is_list) {
    parser.body_limit(kMostBodyBytes);  // of what comes in pieces; the rest says its length
    if (parser.content_length().value_or(0) > kMostBodyBytes) error = bhttp::error::body_limit;
  }
  if (is_list) stream.expires_after(kFileDeadline);
  if (!error) {
    co_await bhttp::async_read(stream, buffer, parser, asio::redirect_error(use_awaitable, error));
  }
  Received received;
  if (error == bhttp::error::body_limit) {
    received.refusal = too_large(is_list || (takes_lists && beyond_lists), is_picture);
  } else if (!error) {
    received.request = parser.release();
  }
  co_return received;
}

asio::awaitable<void> drain(beast::tcp_stream& stream, beast::flat_buffer& buffer) {
  boost::system::error_code error;
  stream.socket().shutdown(asio::ip::tcp::socket::shutdown_send, error);
  stream.expires_after(kDrainDeadline);
  for (std::uint64_t read = 0; !error && read < kMostDrained;) {
    buffer.clear();
    read += co_await stream.async_read_some(buffer.prepare(64 * 1024),
                                            asio::redirect_error(use_awaitable, error));
  }
}

}  // namespace rollwright::http
