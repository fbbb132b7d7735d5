#pragma once

#include <chrono>
#include <functional>
#include <optional>

#include "http/wire.hpp"

/// Requests as they come in over a connection: how large they may be and how long they may take.
namespace rollwright::http {

/// For a whole request, however slowly it trickles in, and for a whole answer.
constexpr std::chrono::seconds kRequestDeadline{10};

/// A whole request, or why it is refused; neither when the other side went away or was too slow.
struct Received {
  std::optional<In> request;
  std::optional<Out> refusal;  // the rest of the request is still on its way (drain)
};

/// Waits until something of a request is here. False when nothing came in time.
[[nodiscard]] asio::awaitable<bool> something_comes(beast::tcp_stream& stream,
                                                    beast::flat_buffer& buffer,
                                                    std::chrono::seconds deadline);

/// Reads the request of which something is here. `may_ask` says whether whoever sends this header
/// may have an answer: nobody else's file is read into memory.
[[nodiscard]] asio::awaitable<Received> receive(
    beast::tcp_stream& stream, beast::flat_buffer& buffer,
    const std::function<asio::awaitable<bool>(const In& header)>& may_ask);

/// Reads on for a moment after a refusal, so that the other side, still sending, gets to read it.
[[nodiscard]] asio::awaitable<void> drain(beast::tcp_stream& stream, beast::flat_buffer& buffer);

}  // namespace rollwright::http
