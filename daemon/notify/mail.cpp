#include <curl/curl.h>

#include <algorithm>

#include "base/secret_file.hpp"
#include "notify/channels.hpp"
#include "notify/curl_transfer.hpp"
#include "notify/mail_text.hpp"

namespace dryclock::notify {
namespace {

struct Unread {
  std::string text;
  std::size_t at = 0;
};

std::size_t read_some(char* into, std::size_t size, std::size_t count, void* user) {
  auto& source = *static_cast<Unread*>(user);
  const auto n = std::min(size * count, source.text.size() - source.at);
  source.text.copy(into, n, source.at);
  source.at += n;
  return n;
}

Result<void> send(const Mail& settings, const Outgoing& message, Time now) {
  CurlTransfer transfer(settings.url, "smtp,smtps", settings.time_out, settings.ca_file);
  CURL* curl = transfer.handle();
  if (!settings.user.empty()) {
    const auto password = read_secret(settings.secret_file);
    if (!password) {
      return password.error();
    }
    curl_easy_setopt(curl, CURLOPT_USERNAME, settings.user.c_str());
    curl_easy_setopt(curl, CURLOPT_PASSWORD, password->c_str());
    // A password never goes out in the clear.
    curl_easy_setopt(curl, CURLOPT_USE_SSL, static_cast<long>(CURLUSESSL_ALL));
  }
  Unread source{.text = compose({.from = settings.from,
                                 .to = settings.to,
                                 .subject = message.topic,
                                 .body = message.payload,
                                 .at = now})};
  transfer.set_list(CURLOPT_MAIL_RCPT, settings.to);
  curl_easy_setopt(curl, CURLOPT_MAIL_FROM, settings.from.c_str());
  curl_easy_setopt(curl, CURLOPT_READFUNCTION, &read_some);
  curl_easy_setopt(curl, CURLOPT_READDATA, &source);
  curl_easy_setopt(curl, CURLOPT_UPLOAD, 1L);
  return transfer.run();
}

}  // namespace

Deliver make_deliver(Mail settings, std::function<Time()> now) {
  return [settings = std::move(settings), now = std::move(now)](const Outgoing& message) {
    return send(settings, message, now());
  };
}

}  // namespace dryclock::notify
