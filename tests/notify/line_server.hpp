// A TCP server of a few lines, to see what a client really sends. One connection at a time.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <string>
#include <thread>

namespace dryclock::notify {

// The server's side of one connection.
class Conversation {
 public:
  explicit Conversation(int socket) : socket_(socket) {}
  void say(const std::string& text) const;
  // Without its line end; empty at the end of the stream too.
  std::string line();
  std::string bytes(std::size_t count);

 private:
  bool read_more();

  int socket_;
  std::string unread_;
};

class LineServer {
 public:
  explicit LineServer(std::function<void(Conversation&)> talk);
  LineServer(const LineServer&) = delete;
  LineServer& operator=(const LineServer&) = delete;
  ~LineServer();
  [[nodiscard]] std::uint16_t port() const { return port_; }

 private:
  int listener_;
  std::uint16_t port_ = 0;
  std::jthread thread_;
};

}  // namespace dryclock::notify
