#include "http/server.hpp"

#include <algorithm>
#include <set>
#include <utility>
#include <vector>

#include <boost/asio.hpp>
#include <boost/beast/core.hpp>
#include <boost/beast/http.hpp>
#include <fmt/chrono.h>
#include <fmt/format.h>

#include "http/api.hpp"
#include "http/assets.hpp"
#include "http/door.hpp"
#include "http/events.hpp"
#include "http/photo_api.hpp"
#include "base/text.hpp"
#include "json/answers.hpp"
#include "shop/bench_desk.hpp"
#include "shop/people_desk.hpp"
#include "shop/plan_desk.hpp"

// The only file that knows the network library. One thread runs the event loop; use cases run on a
// small pool beside it, so that a promise being computed never holds up a page.
namespace rollwright::http {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace bhttp = boost::beast::http;
using asio::ip::tcp;
using asio::use_awaitable;
using namespace std::chrono_literals;

constexpr std::uint64_t kMostBodyBytes = 1024 * 1024;
// Suppliers' lists come as text within JSON, photographs as they are.
constexpr std::uint64_t kMostListBytes = 8 * 1024 * 1024;
static_assert(kMostListBytes == book::kMostPictureBytes);
constexpr std::uint32_t kMostHeaderBytes = 16 * 1024;
constexpr auto kRequestDeadline = 10s;  // for the whole request, however slowly it trickles in
constexpr auto kFileDeadline = 90s;     // for 8 MiB over the wireless of a back room
constexpr auto kIdleDeadline = 60s;
constexpr auto kHeartbeat = 15s;
constexpr auto kStopDeadline = 30s;  // for what is being answered; idle connections close at once
constexpr auto kDrainDeadline = 2s;
constexpr std::uint64_t kMostDrained = 64 * 1024 * 1024;
constexpr int kMostConnections = 256;

using In = bhttp::request<bhttp::string_body>;

std::string_view view(beast::string_view text) { return {text.data(), text.size()}; }

void add_house_headers(auto& message) {
  message.set(bhttp::field::server, "rollwright");
  message.set("X-Content-Type-Options", "nosniff");
  message.set("Referrer-Policy", "same-origin");
  message.set("Cross-Origin-Resource-Policy", "same-origin");
  const std::string_view of_pages = edition();
  message.set("X-Edition", beast::string_view(of_pages.data(), of_pages.size()));
  message.set("Content-Security-Policy",
              "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; "
              "frame-ancestors 'none'; base-uri 'none'; form-action 'self'");
}

class Server {
 public:
  Server(shop::Shop& shop, const ServeOptions& options)
      : shop_(shop), door_(shop, std::chrono::steady_clock::now, options.is_https),
        pool_(static_cast<std::size_t>(std::max(1, options.threads))), names_(options.names),
        scheme_(options.is_https ? "https://" : "http://") {}

  Result<void> run(const ServeOptions& options, const std::function<void(const std::string&)>& ready) {
    if (Result<void> ok = listen(options); !ok) return ok;
    port_ = acceptor_.local_endpoint().port();
    shop_.on_change([this](const std::string& order, const std::string& what) {
      asio::post(loop_, [this, order, what] {
        events_.add(order, what);
        wake_readers();
      });
    });
    shop_.plan_desk().on_progress([this](const shop::ImproveProgress& progress) {
      asio::post(loop_, [this, text = json::text_of(progress)] {
        events_.add_progress(text);
        wake_readers();
      });
    });
    asio::signal_set signals(loop_, SIGINT, SIGTERM);
    signals.async_wait([this](const boost::system::error_code& error, int) {
      if (!error) stop();
    });
    asio::co_spawn(loop_, accept(), asio::detached);
    ready(fmt::format("http://{}:{}/", options.address, port_));
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
    bool first = true;
    while (!stopping_) {
      bhttp::request_parser<bhttp::string_body> parser;
      parser.body_limit(kMostListBytes);
      parser.header_limit(kMostHeaderBytes);
      boost::system::error_code error;
      if (buffer.size() == 0) {
        stream.expires_after(first ? kRequestDeadline : kIdleDeadline);
        idle_.insert(&stream);
        const std::size_t bytes = co_await stream.async_read_some(
            buffer.prepare(4096), asio::redirect_error(use_awaitable, error));
        idle_.erase(&stream);
        if (error) co_return;
        buffer.commit(bytes);
      }
      first = false;
      stream.expires_after(kRequestDeadline);
      co_await bhttp::async_read_header(stream, buffer, parser,
                                        asio::redirect_error(use_awaitable, error));
      const std::string_view target = view(parser.get().target());
      const bool is_picture = takes_picture(target);
      const bool takes_lists = is_picture || target.starts_with("/api/catalogue/") ||
                               target.starts_with("/api/aids/");
      const bool beyond_lists = error == bhttp::error::body_limit;
      // Nobody else's list is read into memory.
      const bool is_list = !error && takes_lists && co_await may_ask(parser.get(), ends);
      if (!error && !is_list) {
        parser.body_limit(kMostBodyBytes);  // of what comes in pieces; the rest says its length
        if (parser.content_length().value_or(0) > kMostBodyBytes) error = bhttp::error::body_limit;
      }
      if (is_list) stream.expires_after(kFileDeadline);
      if (!error) {
        co_await bhttp::async_read(stream, buffer, parser,
                                   asio::redirect_error(use_awaitable, error));
      }
      if (error == bhttp::error::body_limit) {
        const bool is_file = is_list || (takes_lists && beyond_lists);
        co_await send(stream,
                      refused(413, Code::kTooLarge,
                              !is_file     ? "a request may have at most 1 MiB"
                              : is_picture ? "a photograph may have at most 8 MiB; set the camera "
                                             "to a smaller size"
                                           : "a file may have at most 6 MiB"),
                      false);
        co_await drain(stream, buffer);
        co_return;
      }
      if (error) co_return;
      const In request = parser.release();
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

  /// Who a connection goes between.
  struct Ends {
    std::string from;  // the other machine, as tries are counted: of IPv6 the network
    std::string here;  // this machine's address as a host is written, with the port
  };

  static Ends ends_of(const tcp::socket& socket) {
    boost::system::error_code error;
    const tcp::endpoint from = socket.remote_endpoint(error);
    const tcp::endpoint here = socket.local_endpoint(error);
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

  static std::string host_text(const tcp::endpoint& endpoint) {
    const std::string text = endpoint.address().to_string();
    return endpoint.address().is_v6() ? "[" + text + "]" : text;
  }

  using Out = bhttp::response<bhttp::string_body>;

  static Out refused(int status, Code code, const std::string& sentence) {
    Response response = refusal({code, sentence});
    response.status = status;
    return to_http(response);
  }

  /// Reads on for a moment after a refusal, so that the other side, still sending, gets to read it.
  asio::awaitable<void> drain(beast::tcp_stream& stream, beast::flat_buffer& buffer) {
    boost::system::error_code error;
    stream.socket().shutdown(tcp::socket::shutdown_send, error);
    stream.expires_after(kDrainDeadline);
    for (std::uint64_t read = 0; !error && read < kMostDrained;) {
      buffer.clear();
      read += co_await stream.async_read_some(buffer.prepare(64 * 1024),
                                              asio::redirect_error(use_awaitable, error));
    }
  }

  static Out to_http(const Response& response) {
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

  /// A name that another site's page could be made to lead to is none of these.
  [[nodiscard]] bool is_our_name(const std::string& host, const Ends& ends) const {
    const std::string port = ":" + std::to_string(port_);
    std::vector<std::string> ours = {"127.0.0.1" + port, "localhost" + port, "[::1]" + port,
                                     ends.here};
    for (const std::string& name : names_) {
      ours.push_back(name);
      ours.push_back(name + port);
    }
    return std::ranges::find(ours, host) != ours.end();
  }

  /// A page of another site must not reach the book through the browser: the host must be this
  /// machine's name, and a write must come from our own pages and carry JSON.
  [[nodiscard]] std::optional<Out> turned_away(const In& request, const Ends& ends) const {
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

  /// The value of each cookie; of two of one name the first, which is the narrower path's.
  static std::map<std::string, std::string> cookies_of(const In& request) {
    std::map<std::string, std::string> cookies;
    for (const std::string& pair : split(view(request[bhttp::field::cookie]), ';')) {
      const std::size_t equals = pair.find('=');
      if (equals != std::string::npos) cookies.emplace(pair.substr(0, equals), pair.substr(equals + 1));
    }
    return cookies;
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
    if (auto refused = turned_away(request, ends)) co_return std::move(*refused);
    Result<Request> parsed = parse_target(view(bhttp::to_string(request.method())),
                                          view(request.target()));
    if (!parsed) co_return to_http(refusal(parsed.error()));
    if (parsed->path.empty() || parsed->path[0] != "api") co_return asset_answer(request, *parsed);
    parsed->body = request.body();
    add_ends(*parsed, request, ends);
    const bool may_end_streams = Door::may_end_sessions(*parsed);
    const Response response = co_await answer_inside(std::move(*parsed));
    if (may_end_streams) wake_readers();
    co_return to_http(response);
  }

  static Out asset_answer(const In& request, const Request& parsed) {
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
  asio::awaitable<bool> may_ask(const In& header, const Ends& ends) {
    Result<Request> parsed = parse_target(view(bhttp::to_string(header.method())),
                                          view(header.target()));
    if (!parsed) co_return false;
    add_ends(*parsed, header, ends);
    const auto refused = co_await turned_away_inside(*parsed);
    co_return !refused.has_value();
  }

  asio::awaitable<void> send_events(beast::tcp_stream& stream, const In& request,
                                    const Ends& ends) {
    if (auto refused = turned_away(request, ends)) {
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
    std::int64_t seen = events_.last();
    if (const auto last = request.find("Last-Event-ID"); last != request.end()) {
      seen = std::atoll(std::string(last->value()).c_str());
    }
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
    std::int64_t seen_progress = events_.last_progress();
    while (!error && !stopping_) {
      if (co_await turned_away_inside(watch)) break;  // signed out meanwhile
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

  void wake_readers() {
    for (asio::steady_timer* reader : readers_) reader->cancel();
  }

  /// No new connections; what is being answered is answered; then the loop ends.
  void stop() {
    stopping_ = true;
    boost::system::error_code ignored;
    acceptor_.close(ignored);
    wake_readers();
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
  Events events_;
  std::vector<asio::steady_timer*> readers_;
  std::set<beast::tcp_stream*> idle_;  // nothing of a request is here yet
  int connections_ = 0;
  std::uint16_t port_ = 0;
  std::vector<std::string> names_;
  std::string scheme_;
  bool stopping_ = false;
};

}  // namespace

Result<void> serve(shop::Shop& shop, const ServeOptions& options,
                   const std::function<void(const std::string& url)>& ready) {
  return Server(shop, options).run(options, ready);
}

}  // namespace rollwright::http
