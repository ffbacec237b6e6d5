#include "seal/canonical_line.hpp"

#include <fmt/core.h>

#include <array>

namespace dryclock::seal {
namespace {

// Part of the sealed form: never changed. (The enumeration's order is fixed by the database.)
constexpr std::array<std::string_view, 8> kinds{"message", "event",      "started", "clock-step",
                                                "tick",    "configured", "shown",   "redated"};

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

// How many bytes follow this first one, and the least code point that may be written so: RFC 3629, 3 and 4.
struct Lead {
  int followers;
  unsigned bits, least;
};

Lead lead_of(unsigned byte) {
  if (byte < 0x80) {
    return {0, byte, 0};
  }
  if (byte >= 0xc0 && byte < 0xe0) {
    return {1, byte & 0x1fU, 0x80};
  }
  if (byte >= 0xe0 && byte < 0xf0) {
    return {2, byte & 0x0fU, 0x800};
  }
  if (byte >= 0xf0 && byte < 0xf8) {
    return {3, byte & 0x07U, 0x10000};
  }
  return {-1, 0, 0};
}

}  // namespace

bool is_utf8(std::string_view bytes) {
  for (std::size_t i = 0; i < bytes.size();) {
    auto [followers, code, least] = lead_of(static_cast<unsigned char>(bytes[i++]));
    if (followers < 0) {
      return false;
    }
    for (; followers > 0; --followers) {
      const unsigned next = i < bytes.size() ? static_cast<unsigned char>(bytes[i++]) : 0U;
      if ((next & 0xc0U) != 0x80U) {
        return false;
      }
      code = code << 6U | (next & 0x3fU);
    }
    const bool surrogate = code >= 0xd800 && code < 0xe000;
    if (code < least || code > 0x10ffff || surrogate) {
      return false;
    }
  }
  return true;
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const auto group = bytes.substr(i, 3);
    unsigned bits = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      bits = bits << 8U | (k < group.size() ? static_cast<unsigned char>(group[k]) : 0U);
    }
    for (std::size_t k = 0; k < 4; ++k) {
      out += k <= group.size() ? alphabet[bits >> (18U - 6U * static_cast<unsigned>(k)) & 63U] : '=';
    }
  }
  return out;
}

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
