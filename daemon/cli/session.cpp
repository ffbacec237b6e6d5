#include "cli/session.hpp"

#include <fmt/core.h>

#include <random>

#include "cli/answer.hpp"
#include "cli/failure.hpp"

namespace dryclock::cli {
namespace {

// A version 4 UUID: RFC 9562 section 5.4.
std::string fresh_key() {
  std::random_device random;
  const auto word = [&] { return static_cast<std::uint32_t>(random()); };
  return fmt::format("{:08x}-{:04x}-4{:03x}-{:04x}-{:08x}{:04x}", word(), word() >> 16U, word() >> 20U,
                     (word() >> 18U) | 0x8000U, word(), word() >> 16U);
}

}  // namespace

const Board& Session::board() {
  if (!board_) {
    board_ = understood<Board>(daemon_.get("/api/v1/board"));
  }
  return *board_;
}

const CatalogueView& Session::shop() {
  if (!shop_) {
    shop_ = understood<CatalogueView>(daemon_.get("/api/v1/catalogue"));
  }
  return *shop_;
}

LocalZone Session::zone() {
  const auto name = globals_.zone.empty() ? shop().site.time_zone : globals_.zone;
  auto zone = LocalZone::find(name);
  if (!zone) {
    throw Failure(ExitCode::usage, fmt::format("--zone {}: {}", name, zone.error().what));
  }
  return *zone;
}

wording::Words Session::words_in(LocalZone zone) {
  auto manner = shop().site.manner;
  manner.language = globals_.language.value_or(manner.language);
  return {manner, wording::entries_of(shop()), zone};
}

const wording::Words& Session::words() {
  if (!words_) {
    words_.emplace(words_in(zone()));
  }
  return *words_;
}

const wording::Words& Session::names() {
  if (!names_) {
    names_.emplace(words_in(LocalZone::find("UTC").value()));
  }
  return *names_;
}

wording::Words Session::words_alone(TemperatureScale scale) const {
  const Manner manner{globals_.language.value_or(Language::english_uk), scale};
  return {manner, {}, LocalZone::find("UTC").value()};
}

Time Session::time(const std::string& text, const std::string& option) {
  const auto time = zone().parse(text, board().now);
  if (!time) {
    throw Failure(ExitCode::usage, fmt::format("{}: {}", option, time.error().what));
  }
  return *time;
}

Event Session::event(EventDetail detail) {
  Event event;
  event.at = globals_.at.empty() ? board().now : time(globals_.at, "--at");
  event.who = globals_.who;
  event.note = globals_.note;
  event.key = fresh_key();
  event.detail = std::move(detail);
  return event;
}

std::string Session::submit(const Event& event, const std::string& plate, const std::string& customer) {
  try {
    return daemon_.submit(event, plate, customer);
  } catch (const Refused& refused) {
    const auto& problem = refused.problem();
    if (!problem.fact || globals_.json) {
      throw;
    }
    const auto how = problem.fact->key == "refusals.has-piece" ? "\n" + say("client.has-piece-how") : "";
    throw Failure(refused.code(), Refused::placed(words().fact(*problem.fact), problem.where) + how);
  }
}

}  // namespace dryclock::cli
