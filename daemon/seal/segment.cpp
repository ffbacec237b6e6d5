#include "seal/segment.hpp"

#include <fmt/core.h>

#include <charconv>

namespace dryclock::seal {

Result<std::vector<Seq>> seqs_of_segment(std::string_view text) {
  constexpr std::string_view start = R"({"seq":)";
  std::vector<Seq> seqs;
  while (!text.empty()) {
    const auto end = text.find('\n');
    const auto line = text.substr(0, end);
    Seq seq = 0;
    const bool good =
        end != std::string_view::npos && line.starts_with(start) &&
        std::from_chars(line.data() + start.size(), line.data() + line.size(), seq).ec == std::errc{};
    if (!good) {
      return Problem{fmt::format("line {} is not a whole row", seqs.size() + 1), ""};
    }
    if (!seqs.empty() && seq <= seqs.back()) {
      return Problem{fmt::format("row {} stands after row {}", seq, seqs.back()), ""};
    }
    seqs.push_back(seq);
    text.remove_prefix(end + 1);
  }
  return seqs;
}

}  // namespace dryclock::seal
