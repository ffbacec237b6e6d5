#include "cli/daemon.hpp"

#include <curl/curl.h>
#include <fmt/core.h>

#include <array>
#include <chrono>
#include <memory>
#include <thread>

#include "cli/failure.hpp"
#include "wire/answer_json.hpp"
#include "wire/event_json.hpp"

namespace dryclock::cli {
namespace {

constexpr long unavailable = 503;
// A daemon that reads its journal again takes nothing for a moment.
constexpr int busy_repeats = 3;
constexpr std::chrono::seconds busy_pause{1};

constexpr long connect_seconds = 5;
constexpr long whole_seconds = 30;

std::size_t append(char* data, std::size_t size, std::size_t count, void* body) {
  static_cast<std::string*>(body)->append(data, size * count);
  return size * count;
}

}  // namespace

Daemon::Daemon(std::string url, std::string token) : url_(std::move(url)), token_(std::move(token)) {
  while (url_.ends_with('/')) {
    url_.pop_back();
  }
}

Daemon::Answer Daemon::exchange(const std::string& path, const std::string* body) const {
  static const bool started = curl_global_init(CURL_GLOBAL_DEFAULT) == CURLE_OK;
  const std::unique_ptr<CURL, decltype(&curl_easy_cleanup)> curl(started ? curl_easy_init() : nullptr,
                                                                 &curl_easy_cleanup);
  if (!curl) {
    throw Failure(ExitCode::no_daemon, "the HTTP library does not start");
  }
  Answer answer;
  curl_slist* list = nullptr;
  if (body != nullptr) {
    list = curl_slist_append(list, "Content-Type: application/json");
  }
  if (!token_.empty()) {
    list = curl_slist_append(list, ("Authorization: Bearer " + token_).c_str());
  }
  const std::unique_ptr<curl_slist, decltype(&curl_slist_free_all)> headers(list, &curl_slist_free_all);
  std::array<char, CURL_ERROR_SIZE> error{};
  const std::string address = url_ + path;
  CURL* const handle = curl.get();
  curl_easy_setopt(handle, CURLOPT_URL, address.c_str());
  curl_easy_setopt(handle, CURLOPT_PROTOCOLS_STR, "http,https");
  curl_easy_setopt(handle, CURLOPT_HTTPHEADER, headers.get());
  curl_easy_setopt(handle, CURLOPT_CONNECTTIMEOUT, connect_seconds);
  curl_easy_setopt(handle, CURLOPT_TIMEOUT, whole_seconds);
  curl_easy_setopt(handle, CURLOPT_NOSIGNAL, 1L);
  curl_easy_setopt(handle, CURLOPT_ERRORBUFFER, error.data());
  curl_easy_setopt(handle, CURLOPT_WRITEFUNCTION, &append);
  curl_easy_setopt(handle, CURLOPT_WRITEDATA, &answer.body);
  if (body != nullptr) {
    curl_easy_setopt(handle, CURLOPT_POSTFIELDSIZE, static_cast<long>(body->size()));
    curl_easy_setopt(handle, CURLOPT_POSTFIELDS, body->c_str());
  }
  if (const auto code = curl_easy_perform(handle); code != CURLE_OK) {
    answer.no_answer = error[0] != '\0' ? error.data() : curl_easy_strerror(code);
  }
  curl_easy_getinfo(handle, CURLINFO_RESPONSE_CODE, &answer.status);
  return answer;
}

std::string Daemon::checked(const Answer& answer) const {
  constexpr long first_error = 400;
  if (!answer.no_answer.empty()) {
    throw Failure(ExitCode::no_daemon,
                  fmt::format("no daemon answers at {} ({}). Is dryclockd running? Another address: --url",
                              url_, answer.no_answer));
  }
  if (answer.status >= first_error) {
    if (const auto problem = wire::read_answer<ProblemDetails>(answer.body)) {
      throw Refused(*problem);
    }
    throw Failure(ExitCode::refused, fmt::format("the daemon refused with status {}", answer.status));
  }
  return answer.body;
}

std::string Daemon::get(const std::string& path, const Query& query) const {
  std::string target = path;
  for (const auto& [name, value] : query) {
    target += fmt::format("{}{}={}", target.find('?') == std::string::npos ? '?' : '&', name, escaped(value));
  }
  return checked(exchange(target, nullptr));
}

std::string Daemon::post(const std::string& path, const std::string& body) const {
  return checked(exchange(path, &body));
}

std::string Daemon::health() const {
  auto answer = exchange("/api/v1/health", nullptr);
  return answer.no_answer.empty() && answer.status == unavailable ? answer.body : checked(answer);
}

std::string Daemon::post(const std::string& path) const {
  const std::string nothing = "{}";
  return checked(exchange(path, &nothing));
}

std::string Daemon::submit(const Event& event, const std::string& plate, const std::string& customer) const {
  const auto body = wire::with_personal(wire::to_json(event), plate, customer);
  auto answer = exchange("/api/v1/events", &body);
  if (!answer.no_answer.empty()) {
    answer = exchange("/api/v1/events", &body);
  }
  for (int i = 0; i < busy_repeats && answer.no_answer.empty() && answer.status == unavailable; ++i) {
    std::this_thread::sleep_for(busy_pause);
    answer = exchange("/api/v1/events", &body);
  }
  return checked(answer);
}

std::string Daemon::escaped(std::string_view part) {
  constexpr std::string_view unreserved =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~";
  std::string out;
  for (const char c : part) {
    if (unreserved.find(c) != std::string_view::npos) {
      out += c;
    } else {
      out += fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
  }
  return out;
}

}  // namespace dryclock::cli
