// A client that sends exactly the bytes it is given: a well-behaved library could not send what the server
// must refuse.
#pragma once

#include <chrono>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>

namespace dryclock::test {

struct Reply {
  int status = 0;                              // 0: the connection was closed without a whole head
  std::map<std::string, std::string> headers;  // names in lower case
  std::string body;
};

class Client {
 public:
  explicit Client(std::uint16_t port);
  ~Client();
  Client(const Client&) = delete;
  Client& operator=(const Client&) = delete;

  void send(std::string_view bytes) const;
  // The next reply; `bodiless` after HEAD.
  [[nodiscard]] Reply reply(bool bodiless = false);
  // What has come when `text` has, or the time is over, or the other side closed.
  [[nodiscard]] std::string read_until(std::string_view text, std::chrono::milliseconds longest);
  // Whether the other side closes within that time.
  [[nodiscard]] bool closes(std::chrono::milliseconds longest);
  void shrink_receive_buffer() const;  // a slow reader

 private:
  bool read_more(std::chrono::milliseconds longest);
  int socket_;
  std::string come_;
};

// One request on its own connection.
[[nodiscard]] Reply ask(std::uint16_t port, std::string_view bytes);
[[nodiscard]] Reply get(std::uint16_t port, const std::string& target, const std::string& more_headers = {});
[[nodiscard]] Reply post(std::uint16_t port, const std::string& body, const std::string& more_headers = {});

}  // namespace dryclock::test
