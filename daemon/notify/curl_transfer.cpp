#include "notify/curl_transfer.hpp"

#include <curl/curl.h>

#include <array>
#include <new>

namespace dryclock::notify {
namespace {

struct CleanUp {
  void operator()(CURL* handle) const { curl_easy_cleanup(handle); }
  void operator()(curl_slist* list) const { curl_slist_free_all(list); }
};

std::size_t drop(char* /*data*/, std::size_t size, std::size_t count, void* /*user*/) {
  return size * count;
}

struct Kept {
  std::string* into = nullptr;
  std::size_t most = 0;
};

std::size_t keep(char* data, std::size_t size, std::size_t count, void* user) {
  const auto* kept = static_cast<const Kept*>(user);
  if (kept->into->size() + size * count > kept->most) {
    return 0;  // ends the transfer
  }
  kept->into->append(data, size * count);
  return size * count;
}

CURL* new_handle() {
  // Before the first transfer, once; the compiler's lock around a static makes it safe.
  static const auto started = curl_global_init(CURL_GLOBAL_DEFAULT);
  CURL* handle = started == CURLE_OK ? curl_easy_init() : nullptr;
  if (handle == nullptr) {
    throw std::bad_alloc{};
  }
  return handle;
}

}  // namespace

struct CurlTransfer::State {
  std::string url;
  std::unique_ptr<CURL, CleanUp> handle{new_handle()};
  std::vector<std::unique_ptr<curl_slist, CleanUp>> lists;
  std::array<char, CURL_ERROR_SIZE> error{};
  Kept kept;
};

CurlTransfer::CurlTransfer(const std::string& url, const char* protocols, Millis time_out,
                           const std::filesystem::path& ca_file)
    : state_(std::make_unique<State>()) {
  state_->url = url;
  CURL* curl = state_->handle.get();
  curl_easy_setopt(curl, CURLOPT_URL, url.c_str());
  curl_easy_setopt(curl, CURLOPT_PROTOCOLS_STR, protocols);
  curl_easy_setopt(curl, CURLOPT_TIMEOUT_MS, static_cast<long>(time_out.count()));
  curl_easy_setopt(curl, CURLOPT_NOSIGNAL, 1L);  // threads
  curl_easy_setopt(curl, CURLOPT_ERRORBUFFER, state_->error.data());
  curl_easy_setopt(curl, CURLOPT_WRITEFUNCTION, &drop);
  curl_easy_setopt(curl, CURLOPT_USERAGENT, "dryclock");
  curl_easy_setopt(curl, CURLOPT_SSL_VERIFYPEER, 1L);
  curl_easy_setopt(curl, CURLOPT_SSL_VERIFYHOST, 2L);
  if (!ca_file.empty()) {
    curl_easy_setopt(curl, CURLOPT_CAINFO, ca_file.c_str());
  }
}

CurlTransfer::~CurlTransfer() = default;

void* CurlTransfer::handle() const {
  return state_->handle.get();
}

void CurlTransfer::set_list(int option, const std::vector<std::string>& lines) {
  std::unique_ptr<curl_slist, CleanUp> list;
  for (const auto& line : lines) {
    curl_slist* longer = curl_slist_append(list.get(), line.c_str());
    if (longer == nullptr) {
      throw std::bad_alloc{};
    }
    (void)list.release();
    list.reset(longer);
  }
  curl_easy_setopt(state_->handle.get(), static_cast<CURLoption>(option), list.get());
  state_->lists.push_back(std::move(list));
}

void CurlTransfer::keep_answer(std::string& into, std::size_t most) {
  state_->kept = {&into, most};
  curl_easy_setopt(state_->handle.get(), CURLOPT_WRITEFUNCTION, &keep);
  curl_easy_setopt(state_->handle.get(), CURLOPT_WRITEDATA, &state_->kept);
}

Result<void> CurlTransfer::run() {
  const CURLcode code = curl_easy_perform(state_->handle.get());
  if (code != CURLE_OK) {
    return Problem{state_->error[0] != '\0' ? state_->error.data() : curl_easy_strerror(code), state_->url};
  }
  return {};
}

}  // namespace dryclock::notify
