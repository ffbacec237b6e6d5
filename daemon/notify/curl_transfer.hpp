// One transfer by libcurl with what all of ours need: time-out, checked certificates, no surprise protocols.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/time.hpp"

namespace dryclock::notify {

class CurlTransfer {
 public:
  // `protocols`: those that `url` may name, "http,https". `ca_file` empty: the system's authorities.
  CurlTransfer(const std::string& url, const char* protocols, Millis time_out,
               const std::filesystem::path& ca_file);
  ~CurlTransfer();

  [[nodiscard]] void* handle() const;  // CURL*, for curl_easy_setopt
  // A list option (CURLoption); the strings live as long as the transfer.
  void set_list(int option, const std::vector<std::string>& lines);
  // What comes back goes there, instead of being dropped; more than `most` bytes end the transfer.
  void keep_answer(std::string& into, std::size_t most);
  // Problem: what libcurl says; the status is the caller's to ask for.
  [[nodiscard]] Result<void> run();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::notify
