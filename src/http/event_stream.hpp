#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "http/events.hpp"
#include "http/wire.hpp"

namespace rollwright::http {

/// Streams of what happens to the pages that are open, one for each; a heartbeat keeps them up
/// while nothing does.
///
/// Threads: none of its own; lives on the server's event loop.
class EventStream {
 public:
  explicit EventStream(asio::io_context& loop) : loop_(loop) {}

  void add(const std::string& order, const std::string& what);
  /// How a search goes, as JSON.
  void add_progress(const std::string& json);
  /// Lets every reader look now whether there is something, or whether it is still let in.
  void wake();
  /// Ends every stream, and those that would begin.
  void stop();

  /// Sends what happened after the number that the request names, and goes on until the other side
  /// is gone, the server stops or `is_turned_away` says so: asked before each piece.
  [[nodiscard]] asio::awaitable<void> send(
      beast::tcp_stream& stream, const In& request,
      const std::function<asio::awaitable<bool>()>& is_turned_away);

 private:
  asio::io_context& loop_;
  Events events_;
  std::vector<asio::steady_timer*> readers_;
  bool stopping_ = false;
};

}  // namespace rollwright::http
