#include "http/event_stream.hpp"

#include <chrono>
#include <cstdlib>

#include "http/receiving.hpp"

namespace rollwright::http {
namespace {

using asio::use_awaitable;
constexpr std::chrono::seconds kHeartbeat{15};

asio::awaitable<boost::system::error_code> send_head(beast::tcp_stream& stream) {
  bhttp::response<bhttp::empty_body> head(bhttp::status::ok, 11);
  add_house_headers(head);
  head.set(bhttp::field::content_type, "text/event-stream");
  head.set(bhttp::field::cache_control, "no-store");
  head.chunked(true);
  bhttp::response_serializer<bhttp::empty_body> serializer(head);
  boost::system::error_code error;
  stream.expires_after(kRequestDeadline);
  co_await bhttp::async_write_header(stream, serializer,
                                     asio::redirect_error(use_awaitable, error));
  co_return error;
}

}  // namespace

void EventStream::add(const std::string& order, const std::string& what) {
  events_.add(order, what);
  wake();
}

void EventStream::add_progress(const std::string& json) {
  events_.add_progress(json);
  wake();
}

void EventStream::wake() {
  for (asio::steady_timer* reader : readers_) reader->cancel();
}

void EventStream::stop() {
  stopping_ = true;
  wake();
}

asio::awaitable<void> EventStream::send(
    beast::tcp_stream& stream, const In& request,
    const std::function<asio::awaitable<bool>()>& is_turned_away) {
  std::int64_t seen = events_.last();
  if (const auto last = request.find("Last-Event-ID"); last != request.end()) {
    seen = std::atoll(std::string(last->value()).c_str());
  }
  boost::system::error_code error = co_await send_head(stream);
  std::int64_t seen_progress = events_.last_progress();
  while (!error && !stopping_) {
    if (co_await is_turned_away()) break;  // signed out meanwhile
    std::string text = events_.since(seen) + events_.progress_since(seen_progress);
    seen = events_.last();
    seen_progress = events_.last_progress();
    if (text.empty()) text = ": still here\n\n";
    stream.expires_after(kRequestDeadline);
    co_await asio::async_write(stream, bhttp::make_chunk(asio::buffer(text)),
                               asio::redirect_error(use_awaitable, error));
    if (error || events_.last() > seen || events_.last_progress() > seen_progress) continue;
    asio::steady_timer pause(loop_, kHeartbeat);
    readers_.push_back(&pause);
    boost::system::error_code woken;
    co_await pause.async_wait(asio::redirect_error(use_awaitable, woken));
    std::erase(readers_, &pause);
  }
  if (!error) {
    co_await asio::async_write(stream, bhttp::make_chunk_last(),
                               asio::redirect_error(use_awaitable, error));
  }
}

}  // namespace rollwright::http
