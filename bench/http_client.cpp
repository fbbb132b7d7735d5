#include "http_client.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <unistd.h>

#include <cstdlib>

#include <fmt/format.h>

namespace rollwright::bench {
namespace {

/// Closes the socket whatever happens.
struct Socket {
  int handle = ::socket(AF_INET, SOCK_STREAM, 0);
  ~Socket() { ::close(handle); }
};

bool send_all(int handle, const std::string& text) {
  std::size_t sent = 0;
  while (sent < text.size()) {
    const ssize_t now = ::send(handle, text.data() + sent, text.size() - sent, MSG_NOSIGNAL);
    if (now <= 0) return false;
    sent += static_cast<std::size_t>(now);
  }
  return true;
}

}  // namespace

Answer ask(int port, const std::string& method, const std::string& target,
           const std::string& body) {
  const Socket socket;
  timeval limit{.tv_sec = 5, .tv_usec = 0};
  ::setsockopt(socket.handle, SOL_SOCKET, SO_RCVTIMEO, &limit, sizeof limit);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(port));
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (::connect(socket.handle, reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) {
    return {};
  }
  const std::string request = fmt::format(
      "{} {} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\n"
      "Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{}",
      method, target, port, body.size(), body);
  if (!send_all(socket.handle, request)) return {};
  std::string text;
  char piece[8192];
  ssize_t got = 0;
  while ((got = ::recv(socket.handle, piece, sizeof piece, 0)) > 0) {
    text.append(piece, static_cast<std::size_t>(got));
  }
  const std::size_t head = text.find("\r\n\r\n");
  if (got < 0 || head == std::string::npos || !text.starts_with("HTTP/1.1 ")) return {};
  Answer answer{.status = std::atoi(text.c_str() + 9), .body = text.substr(head + 4)};
  // Half an answer is none: the server may have been killed while it wrote.
  const std::size_t length = text.find("Content-Length: ");
  if (length != std::string::npos && length < head &&
      answer.body.size() != static_cast<std::size_t>(std::atoll(text.c_str() + length + 16))) {
    return {};
  }
  return answer;
}

long long number_in(const std::string& json, const std::string& name) {
  const std::string key = "\"" + name + "\":";
  const std::size_t at = json.find(key);
  return at == std::string::npos ? -1 : std::atoll(json.c_str() + at + key.size());
}

}  // namespace rollwright::bench
