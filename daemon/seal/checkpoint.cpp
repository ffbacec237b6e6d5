#include "seal/checkpoint.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "base/number_text.hpp"
#include "base/sha256.hpp"

namespace dryclock::seal {
namespace {

constexpr std::size_t number_digits = 8;
constexpr std::string_view list_ending = ".sha256";

// A number of rows or of a checkpoint; absent where it is none, or one that nobody counts to: sums of them
// must stay numbers too, whoever has written the file.
std::optional<std::int64_t> whole(std::string_view text) {
  constexpr std::int64_t most = 1'000'000'000'000;
  const auto value = number_of<std::int64_t>(text);
  return value && *value >= 0 && *value <= most ? value : std::nullopt;
}

// Cuts the text up to `separator` off `rest`; all of it where there is none.
std::string_view cut(std::string_view& rest, char separator) {
  const auto end = std::min(rest.find(separator), rest.size());
  const auto head = rest.substr(0, end);
  rest.remove_prefix(std::min(end + 1, rest.size()));
  return head;
}

std::optional<Rows> rows_of(std::string_view& rest) {
  const auto first = whole(cut(rest, ' '));
  const auto last = whole(cut(rest, ' '));
  return first && last ? std::optional{Rows{*first, *last}} : std::nullopt;
}

bool take_line(std::string_view line, About& about) {
  auto rest = line;
  const auto key = cut(rest, ' ');
  if (key == "checkpoint") {
    const auto number = whole(rest);
    about.number = number.value_or(0);
    return number.has_value();
  }
  if (key == "at") {
    const auto at = parse_rfc3339(rest);
    about.at = at ? *at : Time{};
    return at.has_value();
  }
  if (key == "reason") {
    about.reason = rest;
    return true;
  }
  const auto rows = rows_of(rest);
  if (!rows) {
    return false;
  }
  if (key == "rows") {
    about.rows = *rows;
    return true;
  }
  if (key == "missing") {
    about.missing.push_back(*rows);
    return true;
  }
  const auto count = whole(cut(rest, ' '));
  about.segments.push_back({std::string{rest}, *rows, count.value_or(0)});
  return key == "segment" && count.has_value();
}

bool leads_out(std::string_view name) {
  return name.empty() || name.front() == '/' || name.find("..") != std::string_view::npos ||
         name.find('\\') != std::string_view::npos;
}

}  // namespace

std::string padded(std::int64_t number) {
  return fmt::format("{:08}", number);
}

std::string list_name(std::int64_t number) {
  return fmt::format("checkpoints/{}{}", padded(number), list_ending);
}

std::string signature_name(std::int64_t number) {
  return list_name(number) + ".sig";
}

std::string about_name(std::int64_t number) {
  return fmt::format("checkpoints/{}.about", padded(number));
}

std::string key_name(std::int64_t number) {
  return fmt::format("keys/{}.pem", padded(number));
}

std::string segment_name(Time day, std::string_view stream_id, std::int64_t number) {
  return fmt::format("segments/{}/{}.{}.ndjson", to_rfc3339(day).substr(0, 10), stream_id, padded(number));
}

std::string stream_of_segment(std::string_view name) {
  if (cut(name, '/') != "segments") {
    return {};
  }
  (void)cut(name, '/');  // the day
  return std::string{cut(name, '.')};
}

std::optional<std::int64_t> number_of_list(std::string_view file_name) {
  const bool is_list =
      file_name.size() == number_digits + list_ending.size() && file_name.ends_with(list_ending);
  return is_list ? whole(file_name.substr(0, number_digits)) : std::nullopt;
}

std::string to_text(const List& list) {
  std::string text;
  for (const auto& [sha256, name] : list) {
    text += fmt::format("{}  {}\n", sha256, name);
  }
  return text;
}

Result<List> parse_list(std::string_view text) {
  List list;
  auto rest = text;
  while (!rest.empty()) {
    auto line = cut(rest, '\n');
    const auto hash = cut(line, ' ');
    if (!is_sha256_hex(hash) || !cut(line, ' ').empty() || leads_out(line)) {
      return Problem{fmt::format("line {} is not a hash and a name", list.size() + 1), ""};
    }
    list.push_back({std::string{hash}, std::string{line}});
  }
  if (to_text(list) != text || list.empty()) {
    return Problem{"is cut off", ""};
  }
  return list;
}

const ListLine* find_line(const List& list, std::string_view name) {
  const auto found = std::ranges::find(list, name, &ListLine::name);
  return found == list.end() ? nullptr : &*found;
}

std::string to_text(const About& about) {
  auto text = fmt::format("checkpoint {}\nat {}\nreason {}\nrows {} {}\n", about.number, to_rfc3339(about.at),
                          about.reason, about.rows.first, about.rows.last);
  for (const auto& [name, rows, count] : about.segments) {
    text += fmt::format("segment {} {} {} {}\n", rows.first, rows.last, count, name);
  }
  for (const auto& [first, last] : about.missing) {
    text += fmt::format("missing {} {}\n", first, last);
  }
  return text;
}

Result<About> parse_about(std::string_view text) {
  About about;
  auto rest = text;
  for (int line = 1; !rest.empty(); ++line) {
    if (!take_line(cut(rest, '\n'), about)) {
      return Problem{fmt::format("line {} cannot be read", line), ""};
    }
  }
  if (to_text(about) != text) {
    return Problem{"its lines are not as dryclock writes them", ""};
  }
  return about;
}

}  // namespace dryclock::seal
