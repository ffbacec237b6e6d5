#include <curl/curl.h>

#include <memory>
#include <new>

#include "base/secret_file.hpp"
#include "notify/channels.hpp"
#include "notify/curl_transfer.hpp"
#include "notify/mail_headers.hpp"

namespace dryclock::notify {
namespace {

struct FreeMime {
  void operator()(curl_mime* mime) const { curl_mime_free(mime); }
};

// One part of text, in a form that any server passes on.
std::unique_ptr<curl_mime, FreeMime> body_of(CURL* curl, const std::string& text) {
  std::unique_ptr<curl_mime, FreeMime> mime{curl_mime_init(curl)};
  curl_mimepart* part = mime ? curl_mime_addpart(mime.get()) : nullptr;
  if (part == nullptr || curl_mime_data(part, text.data(), text.size()) != CURLE_OK ||
      curl_mime_type(part, "text/plain; charset=utf-8") != CURLE_OK ||
      curl_mime_encoder(part, "base64") != CURLE_OK) {
    throw std::bad_alloc{};
  }
  return mime;
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
  transfer.set_list(CURLOPT_MAIL_RCPT, settings.to);
  curl_easy_setopt(curl, CURLOPT_MAIL_FROM, settings.from.c_str());
  transfer.set_list(CURLOPT_HTTPHEADER, mail_headers(settings, message, now));
  const auto body = body_of(curl, message.payload);
  curl_easy_setopt(curl, CURLOPT_MIMEPOST, body.get());
  return transfer.run();
}

}  // namespace

Deliver make_deliver(Mail settings, std::function<Time()> now) {
  return [settings = std::move(settings), now = std::move(now)](const Outgoing& message) {
    return send(settings, message, now());
  };
}

}  // namespace dryclock::notify
