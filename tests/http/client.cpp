#include "http/client.hpp"

#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>
#include <stdexcept>

namespace dryclock::test {
namespace {

constexpr std::chrono::milliseconds patience{5000};

std::string lower(std::string text) {
  for (char& c : text) {
    c = c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  }
  return text;
}

}  // namespace

Client::Client(std::uint16_t port) : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(port);
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (::connect(socket_, reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) {
    throw std::runtime_error("cannot connect");
  }
}

Client::~Client() {
  ::close(socket_);
}

void Client::send(std::string_view bytes) const {
  while (!bytes.empty()) {
    const auto sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
    if (sent <= 0) {
      return;  // the server has closed; the reply tells why
    }
    bytes.remove_prefix(static_cast<std::size_t>(sent));
  }
}

bool Client::read_more(std::chrono::milliseconds longest) {
  pollfd wait{socket_, POLLIN, 0};
  if (::poll(&wait, 1, static_cast<int>(longest.count())) <= 0) {
    return false;
  }
  std::array<char, 65536> bytes{};
  const auto count = ::recv(socket_, bytes.data(), bytes.size(), 0);
  if (count <= 0) {
    return false;
  }
  come_.append(bytes.data(), static_cast<std::size_t>(count));
  return true;
}

Reply Client::reply(bool bodiless) {
  std::size_t end = std::string::npos;
  while ((end = come_.find("\r\n\r\n")) == std::string::npos) {
    if (!read_more(patience)) {
      return {};
    }
  }
  Reply reply;
  reply.status = std::stoi(come_.substr(9, 3));
  std::size_t line = come_.find("\r\n") + 2;
  while (line < end + 2) {
    const std::size_t stop = come_.find("\r\n", line);
    const std::size_t colon = come_.find(':', line);
    reply.headers[lower(come_.substr(line, colon - line))] = come_.substr(colon + 2, stop - colon - 2);
    line = stop + 2;
  }
  come_.erase(0, end + 4);
  const auto length = reply.headers.find("content-length");
  const std::size_t size = bodiless || length == reply.headers.end() ? 0 : std::stoul(length->second);
  while (come_.size() < size && read_more(patience)) {
  }
  reply.body = come_.substr(0, size);
  come_.erase(0, size);
  return reply;
}

std::string Client::read_until(std::string_view text, std::chrono::milliseconds longest) {
  const auto deadline = std::chrono::steady_clock::now() + longest;
  std::size_t at = std::string::npos;
  while ((at = come_.find(text)) == std::string::npos) {
    const auto left =
        std::chrono::duration_cast<std::chrono::milliseconds>(deadline - std::chrono::steady_clock::now());
    if (left.count() <= 0 || !read_more(left)) {
      break;
    }
  }
  const std::size_t end = at == std::string::npos ? come_.size() : at + text.size();
  std::string taken = come_.substr(0, end);
  come_.erase(0, end);
  return taken;
}

bool Client::closes(std::chrono::milliseconds longest) {
  const auto deadline = std::chrono::steady_clock::now() + longest;
  while (std::chrono::steady_clock::now() < deadline) {
    pollfd wait{socket_, POLLIN, 0};
    if (::poll(&wait, 1, 20) > 0 && !read_more(std::chrono::milliseconds{0})) {
      return true;
    }
  }
  return false;
}

void Client::shrink_receive_buffer() const {
  const int bytes = 2048;
  ::setsockopt(socket_, SOL_SOCKET, SO_RCVBUF, &bytes, sizeof bytes);
}

Reply ask(std::uint16_t port, std::string_view bytes) {
  Client client{port};
  client.send(bytes);
  return client.reply(bytes.starts_with("HEAD "));
}

Reply get(std::uint16_t port, const std::string& target, const std::string& more_headers) {
  return ask(port, "GET " + target + " HTTP/1.1\r\nHost: localhost\r\n" + more_headers + "\r\n");
}

Reply post(std::uint16_t port, const std::string& body, const std::string& more_headers) {
  return ask(port, "POST /api/v1/events HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n" +
                       more_headers + "Content-Length: " + std::to_string(body.size()) + "\r\n\r\n" + body);
}

}  // namespace dryclock::test
