#include <curl/curl.h>

#include "base/secret_file.hpp"
#include "notify/channels.hpp"
#include "notify/curl_transfer.hpp"

namespace dryclock::notify {
namespace {

Result<void> post(const Webhook& settings, const Outgoing& message) {
  std::vector<std::string> headers{"Content-Type: application/json; charset=utf-8"};
  if (!settings.secret_file.empty()) {
    const auto token = read_secret(settings.secret_file);
    if (!token) {
      return token.error();
    }
    headers.push_back("Authorization: Bearer " + *token);
  }
  CurlTransfer transfer(settings.url, "http,https", settings.time_out, settings.ca_file);
  CURL* curl = transfer.handle();
  transfer.set_list(CURLOPT_HTTPHEADER, headers);
  curl_easy_setopt(curl, CURLOPT_POSTFIELDSIZE_LARGE, static_cast<curl_off_t>(message.payload.size()));
  curl_easy_setopt(curl, CURLOPT_POSTFIELDS, message.payload.data());
  if (auto done = transfer.run(); !done) {
    return done;
  }
  long status = 0;
  curl_easy_getinfo(curl, CURLINFO_RESPONSE_CODE, &status);
  if (status < 200 || status > 299) {
    return Problem{"answered with status " + std::to_string(status), settings.url};
  }
  return {};
}

}  // namespace

Deliver make_deliver(Webhook settings) {
  return [settings = std::move(settings)](const Outgoing& message) { return post(settings, message); };
}

}  // namespace dryclock::notify
