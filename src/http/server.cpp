#include "http/server.hpp"

#include <algorithm>
#include <functional>
#include <set>
#include <utility>

#include <fmt/chrono.h>
#include <fmt/format.h>

#include "http/api.hpp"
#include "http/door.hpp"
#include "http/event_stream.hpp"
#include "http/own_site.hpp"
#include "http/photo_api.hpp"
#include "http/receiving.hpp"
#include "http/wire.hpp"
#include "json/answers.hpp"
#include "shop/bench_desk.hpp"
#include "shop/people_desk.hpp"
#include "shop/plan_desk.hpp"

// This file, wire, own_site, receiving and event_stream are those that know the network library.
// One thread runs the event loop; use cases run on a small pool beside it, so that a promise being
// computed never holds up a page.
namespace rollwright::http {
namespace {

using asio::ip::tcp;
using asio::use_awaitable;
using namespace std::chrono_literals;

constexpr auto kIdleDeadline = 60s;
constexpr auto kStopDeadline = 30s;  // for what is being answered; idle connections close at once
constexpr int kMostConnections = 256;

class Server {
 public:
  Server(shop::Shop& shop, const ServeOptions& options)
      : shop_(shop), door_(shop, std::chrono::steady_clock::now, options.is_https),
        pool_(static_cast<std::size_t>(std::max(1, options.threads))),
        site_(options.names, options.is_https) {}

  Result<void> run(const ServeOptions& options, const std::function<void(const std::string&)>& ready) {
    if (Result<void> ok = listen(options); !ok) return ok;
    const std::uint16_t port = acceptor_.local_endpoint().port();
    site_.set_port(port);
    shop_.on_change([this](const std::string& order, const std::string& what) {
      asio::post(loop_, [this, order, what] { events_.add(order, what); });
    });
    shop_.plan_desk().on_progress([this](const shop::ImproveProgress& progress) {
      asio::post(loop_, [this, text = json::text_of(progress)] { events_.add_progress(text); });
    });
    asio::signal_set signals(loop_, SIGINT, SIGTERM);
    signals.async_wait([this](const boost::system::error_code& error, int) {
      if (!error) stop();
    });
    asio::co_spawn(loop_, accept(), asio::detached);
    ready(fmt::format("http://{}:{}/", options.address, port));
    loop_.run();
    shop_.on_change(nullptr);
    shop_.plan_desk().on_progress(nullptr);
    pool_.join();
    door_pool_.join();
    picture_pool_.join();
    return {};
  }

 private:
  Result<void> listen(const ServeOptions& options) {
    boost::system::error_code error;
    const auto address = asio::ip::make_address(options.address, error);
    const Result<bool> open = shop_.people_desk().is_open();
    if (!open) return std::unexpected(open.error());
    if (*open && (error || !address.is_loopback())) {
      return refuse(Code::kNotAllowed,
                    "pages are served on this machine only (127.0.0.1 or ::1) until people sign in; "
                    "`rollwright make-owner` makes the first who does",
                    {.field = "--address", .value = options.address});
    }
    for (const std::string& name : options.names) {
      if (name.find_first_of("/@ :") == std::string::npos && !name.empty()) continue;
      return refuse(Code::kBadInput, "a name is written without scheme and port, as in shop.example",
                    {.field = "--name", .value = name});
    }
    if (error) {
      return refuse(Code::kBadInput, "an address is written in numbers, as in 192.168.0.7",
                    {.field = "--address", .value = options.address});
    }
    const tcp::endpoint endpoint(address, static_cast<std::uint16_t>(options.port));
    acceptor_.open(endpoint.protocol(), error);
    if (!error) acceptor_.set_option(asio::socket_base::reuse_address(true), error);
    if (!error) acceptor_.bind(endpoint, error);
    if (!error) acceptor_.listen(1024, error);
    if (!error) return {};
    if (error == asio::error::address_in_use) {
      return refuse(Code::kUnavailable,
                    fmt::format("port {} is taken by another program; choose another with --port",
                                options.port),
                    {.field = "--port", .value = std::to_string(options.port)});
    }
    return refuse(Code::kUnavailable, "cannot listen there: " + error.message());
  }

  asio::awaitable<void> accept() {
    while (!stopping_) {
      boost::system::error_code error;
      tcp::socket socket =
          co_await acceptor_.async_accept(asio::redirect_error(use_awaitable, error));
      if (error == asio::error::operation_aborted) co_return;
      if (error || connections_ >= kMostConnections) continue;
      ++connections_;
      asio::co_spawn(loop_, converse(beast::tcp_stream(std::move(socket))),
                     [this](std::exception_ptr) {
                       // A connection that breaks is the other side's matter.
                       --connections_;
                       if (stopping_ && connections_ == 0) loop_.stop();
                     });
    }
  }

  /// Requests of one connection, one after the other.
  asio::awaitable<void> converse(beast::tcp_stream stream) {
    beast::flat_buffer buffer;
    const Ends ends = ends_of(stream.socket());
    const std::function<asio::awaitable<bool>(const In&)> may_ask =
        [this, &ends](const In& header) { return may_have_answer(header, ends); };
    bool first = true;
    while (!stopping_) {
      if (buffer.size() == 0) {
        idle_.insert(&stream);
        const bool comes =
            co_await something_comes(stream, buffer, first ? kRequestDeadline : kIdleDeadline);
        idle_.erase(&stream);
        if (!comes) co_return;
      }
      first = false;
      Received received = co_await receive(stream, buffer, may_ask);
      if (received.refusal) {
        co_await send(stream, std::move(*received.refusal), false);
        co_await drain(stream, buffer);
      }
      if (!received.request) co_return;
      const In request = std::move(*received.request);
      const bool keep = request.keep_alive() && !stopping_;
      if (is_events(request)) {
        co_await send_events(stream, request, ends);
        co_return;
      }
      Out out = co_await answer(request, ends);
      co_await send(stream, std::move(out), keep, request.method() == bhttp::verb::head);
      if (!keep) break;
    }
    boost::system::error_code ignored;
    stream.socket().shutdown(tcp::socket::shutdown_send, ignored);
  }

  /// Answers on the pool beside the loop; what hashes on a thread of its own, so that no number of
  /// tries holds up the others; what takes pictures apart on another.
  asio::awaitable<Response> answer_inside(Request request) {
    asio::thread_pool& pool = Door::is_slow(request)           ? door_pool_
                              : takes_pictures_apart(request) ? picture_pool_
                                                              : pool_;
    co_return co_await asio::co_spawn(
        pool,
        [this, &request]() -> asio::awaitable<Response> {
          co_return door_.answer(std::move(request));
        },
        use_awaitable);
  }

  static void add_ends(Request& parsed, const In& request, const Ends& ends) {
    parsed.cookies = cookies_of(request);
    parsed.from = ends.from;
    parsed.held = std::string(request[bhttp::field::if_none_match]);
    parsed.nobody_is_there = request.find("X-Nobody-Is-There") != request.end();
  }

  asio::awaitable<Out> answer(const In& request, const Ends& ends) {
    if (auto refused = site_.turned_away(request, ends)) co_return std::move(*refused);
    Result<Request> parsed = parse_target(view(bhttp::to_string(request.method())),
                                          view(request.target()));
    if (!parsed) co_return to_http(refusal(parsed.error()));
    if (parsed->path.empty() || parsed->path[0] != "api") co_return asset_answer(request, *parsed);
    parsed->body = request.body();
    add_ends(*parsed, request, ends);
    const bool may_end_streams = Door::may_end_sessions(*parsed);
    const Response response = co_await answer_inside(std::move(*parsed));
    if (may_end_streams) events_.wake();
    co_return to_http(response);
  }

  /// `head_only`: the headers as for the whole answer, without its body.
  asio::awaitable<void> send(beast::tcp_stream& stream, Out out, bool keep,
                             bool head_only = false) {
    add_house_headers(out);
    // A tablet that was cut off says when its work was done by this clock, not by its own.
    out.set(bhttp::field::date, fmt::format("{:%a, %d %b %Y %H:%M:%S} GMT", shop_.bench().moment()));
    out.keep_alive(keep);
    out.prepare_payload();
    stream.expires_after(kRequestDeadline);
    boost::system::error_code ignored;
    if (head_only) {
      bhttp::response_serializer<bhttp::string_body> serializer(out);
      co_await bhttp::async_write_header(stream, serializer,
                                         asio::redirect_error(use_awaitable, ignored));
      co_return;
    }
    co_await bhttp::async_write(stream, out, asio::redirect_error(use_awaitable, ignored));
  }

  // Live updates ---------------------------------------------------------------------------------

  static bool is_events(const In& request) {
    return request.method() == bhttp::verb::get && request.target() == "/api/events";
  }

  /// The refusal of whoever may not look (any more).
  asio::awaitable<std::optional<Response>> turned_away_inside(const Request& watch) {
    co_return co_await asio::co_spawn(
        pool_,
        [this, &watch]() -> asio::awaitable<std::optional<Response>> {
          co_return door_.turned_away(watch);
        },
        use_awaitable);
  }

  /// Whether whoever sends this header may have an answer.
  asio::awaitable<bool> may_have_answer(const In& header, const Ends& ends) {
    Result<Request> parsed = parse_target(view(bhttp::to_string(header.method())),
                                          view(header.target()));
    if (!parsed) co_return false;
    add_ends(*parsed, header, ends);
    const auto refused = co_await turned_away_inside(*parsed);
    co_return !refused.has_value();
  }

  asio::awaitable<void> send_events(beast::tcp_stream& stream, const In& request,
                                    const Ends& ends) {
    if (auto refused = site_.turned_away(request, ends)) {
      co_await send(stream, std::move(*refused), false);
      co_return;
    }
    Request watch{.method = "GET", .path = {"api", "events"}, .query = {}, .body = {}};
    add_ends(watch, request, ends);
    watch.nobody_is_there = true;  // a stream goes on by itself
    if (const auto refused = co_await turned_away_inside(watch)) {
      co_await send(stream, to_http(*refused), false);
      co_return;
    }
    const std::function<asio::awaitable<bool>()> is_turned_away =
        [this, &watch]() -> asio::awaitable<bool> {
      const auto refused = co_await turned_away_inside(watch);
      co_return refused.has_value();
    };
    co_await events_.send(stream, request, is_turned_away);
  }

  /// No new connections; what is being answered is answered; then the loop ends.
  void stop() {
    stopping_ = true;
    boost::system::error_code ignored;
    acceptor_.close(ignored);
    events_.stop();
    for (beast::tcp_stream* stream : idle_) stream->cancel();
    if (connections_ == 0) loop_.stop();
    deadline_.expires_after(kStopDeadline);
    deadline_.async_wait([this](const boost::system::error_code&) { loop_.stop(); });
  }

  shop::Shop& shop_;
  asio::io_context loop_{1};
  Door door_;
  asio::thread_pool pool_;
  asio::thread_pool door_pool_{1};
  asio::thread_pool picture_pool_{1};
  tcp::acceptor acceptor_{loop_};
  asio::steady_timer deadline_{loop_};
  EventStream events_{loop_};
  std::set<beast::tcp_stream*> idle_;  // nothing of a request is here yet
  int connections_ = 0;
  OwnSite site_;
  bool stopping_ = false;
};

}  // namespace

Result<void> serve(shop::Shop& shop, const ServeOptions& options,
                   const std::function<void(const std::string& url)>& ready) {
  return Server(shop, options).run(options, ready);
}

}  // namespace rollwright::http
