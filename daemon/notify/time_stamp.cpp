#include "notify/time_stamp.hpp"

#include <curl/curl.h>

#include <utility>

#include "notify/curl_transfer.hpp"

namespace dryclock::notify {
namespace {

constexpr std::size_t longest_answer = 64 * 1024;  // bytes; with its certificates it takes some 6 KiB
constexpr long answered = 200;

}  // namespace

Result<std::string> ask_time_stamp(const std::string& url, const std::string& query, Millis time_out) {
  CurlTransfer transfer(url, "http,https", time_out, {});
  CURL* curl = transfer.handle();
  transfer.set_list(CURLOPT_HTTPHEADER,
                    {"Content-Type: application/timestamp-query", "Accept: application/timestamp-reply"});
  curl_easy_setopt(curl, CURLOPT_POSTFIELDSIZE_LARGE, static_cast<curl_off_t>(query.size()));
  curl_easy_setopt(curl, CURLOPT_POSTFIELDS, query.data());
  std::string answer;
  transfer.keep_answer(answer, longest_answer);
  if (const auto done = transfer.run(); !done) {
    return done.error();
  }
  long status = 0;
  curl_easy_getinfo(curl, CURLINFO_RESPONSE_CODE, &status);
  if (status != answered) {
    return Problem{"answered with status " + std::to_string(status), url};
  }
  const char* type = nullptr;
  curl_easy_getinfo(curl, CURLINFO_CONTENT_TYPE, &type);
  if (type == nullptr || !std::string_view{type}.starts_with("application/timestamp-reply")) {
    return Problem{"did not answer with a time stamp", url};
  }
  return Result<std::string>{boost::system::in_place_value, std::move(answer)};
}

}  // namespace dryclock::notify
