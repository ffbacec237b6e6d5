#include "seal/canonical_line.hpp"

#include <fmt/core.h>

#include <array>
#include <string_view>

#include "base/base64.hpp"
#include "base/utf8.hpp"

namespace dryclock::seal {
namespace {

// Part of the sealed form: never changed. (The enumeration's order is fixed by the database.)
constexpr std::array<std::string_view, 10> kinds{"message",    "event", "started", "clock-step", "tick",
                                                 "configured", "shown", "redated", "announced",  "learnt"};

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto code = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (code < 0x20 || code == 0x7f) {
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(code));
    } else {
      out += c;
    }
  }
  return out + '"';
}

std::string member(std::string_view name, std::string_view bytes) {
  return is_utf8(bytes) ? fmt::format("\"{}\":{}", name, quoted(bytes))
                        : fmt::format("\"{}_base64\":\"{}\"", name, base64(bytes));
}

}  // namespace

std::string canonical_line(const JournalRow& row) {
  const auto& message = row.message;
  return fmt::format(
      "{{\"seq\":{},\"kind\":\"{}\",\"received\":\"{}\",\"boottime_ms\":{},\"session\":{},{},\"qos\":{},"
      "\"dup\":{},\"retained\":{},\"cut\":{},{}}}\n",
      row.seq, kinds.at(static_cast<std::size_t>(row.kind)), to_rfc3339(message.received_at),
      row.boot_time.count(), row.session, member("topic", message.topic), message.qos, message.dup,
      message.retained, message.cut, member("payload", message.payload));
}

}  // namespace dryclock::seal
