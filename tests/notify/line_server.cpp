#include "line_server.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <cstdlib>

namespace dryclock::notify {

void Conversation::say(const std::string& text) const {
  (void)::send(socket_, text.data(), text.size(), MSG_NOSIGNAL);
}

bool Conversation::read_more() {
  std::array<char, 4096> buffer{};
  const auto count = ::recv(socket_, buffer.data(), buffer.size(), 0);
  if (count <= 0) {
    return false;
  }
  unread_.append(buffer.data(), static_cast<std::size_t>(count));
  return true;
}

std::string Conversation::line() {
  auto end = unread_.find("\r\n");
  while (end == std::string::npos) {
    if (!read_more()) {
      return {};
    }
    end = unread_.find("\r\n");
  }
  auto text = unread_.substr(0, end);
  unread_.erase(0, end + 2);
  return text;
}

std::string Conversation::bytes(std::size_t count) {
  while (unread_.size() < count && read_more()) {
  }
  auto text = unread_.substr(0, count);
  unread_.erase(0, count);
  return text;
}

LineServer::LineServer(std::function<void(Conversation&)> talk)
    : listener_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  socklen_t size = sizeof address;
  auto* generic = reinterpret_cast<sockaddr*>(&address);
  if (::bind(listener_, generic, size) != 0 || ::listen(listener_, 8) != 0 ||
      ::getsockname(listener_, generic, &size) != 0) {
    std::perror("no socket to listen on");
    std::abort();
  }
  port_ = ntohs(address.sin_port);
  thread_ = std::jthread([listener = listener_, talk = std::move(talk)] {
    for (int socket = ::accept(listener, nullptr, nullptr); socket >= 0;
         socket = ::accept(listener, nullptr, nullptr)) {
      Conversation conversation(socket);
      talk(conversation);
      ::close(socket);
    }
  });
}

LineServer::~LineServer() {
  ::shutdown(listener_, SHUT_RDWR);  // wakes accept()
  thread_.join();
  ::close(listener_);
}

}  // namespace dryclock::notify
