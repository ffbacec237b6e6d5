// The files of a seal, their names and their text.
//   segments/DAY/STREAM.NUMBER.ndjson   rows of one stream and UTC day, sealed by checkpoint NUMBER
//   checkpoints/NUMBER.sha256           the list, as `sha256sum -c` reads it: the checkpoint before this
//                                       one, what is about this one, a key that takes over, the segments
//   checkpoints/NUMBER.sha256.sig       Ed25519 signature of that file
//   checkpoints/NUMBER.about            when and why, which rows, how many in each segment
//   checkpoints/NUMBER.tsr              where it was asked for: a time stamp of the list (RFC 3161); itself
//                                       in no list
//   keys/NUMBER.pem                     the public key that signs from checkpoint NUMBER on; the first is
//                                       the root of trust, each other is listed by the checkpoint before
// NUMBER counts from 00000001 without a gap.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "domain/types.hpp"

namespace dryclock::seal {

[[nodiscard]] std::string padded(std::int64_t number);  // eight digits
[[nodiscard]] std::string list_name(std::int64_t number);
[[nodiscard]] std::string signature_name(std::int64_t number);
[[nodiscard]] std::string about_name(std::int64_t number);
[[nodiscard]] std::string key_name(std::int64_t number);
[[nodiscard]] std::string segment_name(Time day, std::string_view stream_id, std::int64_t number);
// The stream's part of a segment's name; empty where it is no such name.
[[nodiscard]] std::string stream_of_segment(std::string_view name);
// Of "00000012.sha256"; absent: another file.
[[nodiscard]] std::optional<std::int64_t> number_of_list(std::string_view file_name);

struct ListLine {
  std::string sha256, name;
  bool operator==(const ListLine&) const = default;
};
using List = std::vector<ListLine>;

[[nodiscard]] std::string to_text(const List& list);
// Problem: a line that to_text() would not have written, or a name that leads out of the folder.
[[nodiscard]] Result<List> parse_list(std::string_view text);
[[nodiscard]] const ListLine* find_line(const List& list, std::string_view name);

struct Rows {
  Seq first = 0, last = 0;
  bool operator==(const Rows&) const = default;
};
struct SegmentRows {
  std::string name;
  Rows rows;
  std::int64_t count = 0;
  bool operator==(const SegmentRows&) const = default;
};

struct About {
  std::int64_t number = 0;
  Time at;
  std::string reason;
  Rows rows;  // covered: all that the journal had, without a hole between two checkpoints
  std::vector<SegmentRows> segments;  // in the order of their first rows
  std::vector<Rows> missing;          // rows that the journal itself did not have any more
  bool operator==(const About&) const = default;
};

[[nodiscard]] std::string to_text(const About& about);
// Problem: text that to_text() would not have written.
[[nodiscard]] Result<About> parse_about(std::string_view text);

// What is told of a checkpoint: name and hash of its list are what is printed on a receipt.
struct Sealed {
  std::int64_t number = 0;
  std::string name, sha256;
  Time at;
  Seq seq = 0;  // the last row covered
};

}  // namespace dryclock::seal
