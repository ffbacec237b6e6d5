#include "seal/verify.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>
#include <sstream>
#include <stdexcept>

#include "base/sha256.hpp"
#include "seal/durable_file.hpp"
#include "seal/extract.hpp"
#include "seal/segment.hpp"
#include "seal/signing_key.hpp"
#include "seal/time_stamp.hpp"

namespace dryclock::seal {
namespace {

namespace fs = std::filesystem;

class Verifier {
 public:
  Verifier(const fs::path& folder, const Trust& trust) : folder_(folder), trust_(trust) {}

  Report run() {
    find_checkpoints();
    read_withheld();
    check_first_key();
    for (std::int64_t number = 1; number <= report_.checkpoints; ++number) {
      check_checkpoint(number);
    }
    check_declared();
    check_unlisted();
    check_anchor();
    return std::move(report_);
  }

 private:
  void found(std::string where, std::string what) {
    report_.findings.push_back({std::move(what), std::move(where)});
  }

  void find_checkpoints() {
    if (fs::is_directory(folder_ / "checkpoints")) {
      for (const auto& entry : fs::directory_iterator(folder_ / "checkpoints")) {
        const auto number = number_of_list(entry.path().filename().string()).value_or(0);
        report_.checkpoints = std::max(report_.checkpoints, number);
      }
    }
    if (report_.checkpoints == 0) {
      throw std::runtime_error("there is no checkpoint here");
    }
  }

  void read_withheld() {
    std::istringstream names(read_if_there(folder_ / withheld_file).value_or(""));
    for (std::string name; std::getline(names, name);) {
      withheld_.insert(name);
    }
  }

  void check_first_key() {
    const auto pem = read_if_there(folder_ / key_name(1));
    report_.key_sha256 = pem ? sha256_hex(*pem) : "";
    if (!trust_.key_sha256.empty() && trust_.key_sha256 != report_.key_sha256) {
      found(key_name(1), "is not the key that was named: this seal was made with another");
    }
    key_ = pem.value_or("");
  }

  void check_checkpoint(std::int64_t number) {
    const auto name = list_name(number);
    const auto text = read_if_there(folder_ / name);
    const auto before = std::exchange(before_, Before{});
    before_.number = number;
    if (!text) {
      found(name, "this checkpoint is missing");
      return;
    }
    before_.sha256 = sha256_hex(*text);
    all_hashes_.insert(before_.sha256);
    check_signature(number, *text, before);
    check_stamp(number, *text);
    auto list = parse_list(*text);
    if (!list.has_value()) {
      found(name, to_string(list.error()));
      return;
    }
    before_.list = std::move(list).value();
    check_link(number, before);
    check_keys(number);
    check_about(number, before);
  }

  // What the next checkpoint is held against; without hash and list where this one is not to be read.
  struct Before {
    std::int64_t number = 0;
    std::string sha256;
    List list;
    Seq last_row = 0;
  };

  void check_signature(std::int64_t number, const std::string& text, const Before& before) {
    if (find_line(before.list, key_name(number)) != nullptr) {
      key_ = read_if_there(folder_ / key_name(number)).value_or("");
    }
    const auto signature = read_if_there(folder_ / signature_name(number));
    if (!signature) {
      found(signature_name(number), "this signature is missing");
    } else if (!signature_holds(key_, text, *signature)) {
      found(list_name(number),
            "its signature does not hold: the checkpoint, its signature or the key has been altered");
    }
  }

  void check_stamp(std::int64_t number, const std::string& text) {
    const auto stamp = read_if_there(folder_ / stamp_name(number));
    if (!stamp) {
      return;
    }
    const auto at = time_of_stamp(text, *stamp, trust_.stamp_authority);
    if (at) {
      report_.stamps.push_back({number, *at});
    } else {
      found(stamp_name(number), "the time stamp " + to_string(at.error()));
    }
  }

  void check_link(std::int64_t number, const Before& before) {
    if (number == 1) {
      return;
    }
    const auto& line = before_.list.front();
    if (line.name != list_name(number - 1)) {
      found(list_name(number), "does not name the checkpoint before it");
    } else if (!before.sha256.empty() && line.sha256 != before.sha256) {
      found(list_name(number - 1),
            "is not the file that the next checkpoint names: one of the two has been altered");
    }
  }

  void check_keys(std::int64_t number) {
    for (const auto& [sha256, name] : before_.list) {
      if (name.starts_with("keys/")) {
        listed_.insert(name);
        const bool its_own = name == key_name(number + 1) || (number == 1 && name == key_name(1));
        if (!its_own) {
          found(list_name(number), name + " may not be named here");
        }
        (void)check_file(name, sha256, "this key is missing");
      }
    }
    if (number == 1 && find_line(before_.list, key_name(1)) == nullptr) {
      found(list_name(1), "does not name the first key");
    }
  }

  // The content, where it is there and the one that was listed.
  std::optional<std::string> check_file(const std::string& name, const std::string& sha256,
                                        const char* if_missing) {
    auto bytes = read_if_there(folder_ / name);
    if (!bytes) {
      found(name, if_missing);
      return std::nullopt;
    }
    if (sha256_hex(*bytes) != sha256) {
      found(name, "has been altered");
      return std::nullopt;
    }
    return bytes;
  }

  void check_about(std::int64_t number, const Before& before) {
    const auto name = about_name(number);
    const auto* line = find_line(before_.list, name);
    if (line == nullptr) {
      found(list_name(number), "does not name " + name);
      return;
    }
    const auto about = read_about(name, line->sha256);
    if (!about) {
      return check_segments_without_about();
    }
    if (about->number != number) {
      found(name, "is about another checkpoint");
    }
    if ((number == 1 || before.last_row > 0) && about->rows.first != before.last_row + 1) {
      found(name, fmt::format("begins at row {}, but the checkpoint before it ends at row {}",
                              about->rows.first, before.last_row));
    }
    if (report_.last && report_.last->number + 1 == number && about->at < report_.last->at) {
      report_.set_back.push_back(number);
    }
    before_.last_row = about->rows.last;
    report_.last = {number, list_name(number), before_.sha256, about->at, about->rows.last};
    for (const auto& [first, last] : about->missing) {
      found(name,
            fmt::format("rows {} to {} were not in the journal any more when it was sealed", first, last));
    }
    check_count(*about);
    check_segments(*about);
  }

  std::optional<About> read_about(const std::string& name, const std::string& sha256) {
    const auto text = check_file(name, sha256, "this file is missing");
    if (!text) {
      return std::nullopt;
    }
    auto about = parse_about(*text);
    if (!about.has_value()) {
      found(name, to_string(about.error()));
      return std::nullopt;
    }
    return std::move(about).value();
  }

  // Every row number is in one segment, or declared missing.
  void check_count(const About& about) {
    std::int64_t count = 0;
    for (const auto& segment : about.segments) {
      count += segment.count;
    }
    for (const auto& [first, last] : about.missing) {
      count += last - first + 1;
    }
    const auto covered = about.rows.last - about.rows.first + 1;
    if (count != covered) {
      found(about_name(about.number), fmt::format("accounts for {} rows, but covers {}", count, covered));
    }
  }

  void check_segments(const About& about) {
    std::set<std::string> described;
    std::set<Seq> seen;
    for (const auto& segment : about.segments) {
      described.insert(segment.name);
      const auto* line = find_line(before_.list, segment.name);
      if (line == nullptr) {
        found(list_name(about.number), "does not name " + segment.name);
        continue;
      }
      if (const auto text = check_segment(*line)) {
        check_rows(segment, *text, about.rows, seen);
      }
    }
    for (const auto& line : before_.list) {
      if (line.name.starts_with("segments/") && !described.contains(line.name)) {
        found(about_name(about.number), "does not tell of " + line.name);
        (void)check_segment(line);
      }
    }
  }

  void check_segments_without_about() {
    for (const auto& line : before_.list) {
      if (line.name.starts_with("segments/")) {
        (void)check_segment(line);
      }
    }
  }

  std::optional<std::string> check_segment(const ListLine& line) {
    listed_.insert(line.name);
    auto& skipped = skipped_[stream_of_segment(line.name)];
    if (withheld_.contains(line.name) && !fs::exists(folder_ / line.name)) {
      ++report_.withheld;
      if (skipped.some_given) {
        skipped.names.push_back(line.name);
      }
      return std::nullopt;
    }
    for (const auto& name : std::exchange(skipped.names, {})) {
      found(name, "is withheld, though what came before and after it in the same stream is here");
    }
    skipped.some_given = true;
    ++report_.segments;
    return check_file(line.name, line.sha256, "this segment is missing, and not declared as withheld");
  }

  void check_rows(const SegmentRows& segment, const std::string& text, Rows covered, std::set<Seq>& seen) {
    const auto parsed = seqs_of_segment(text);
    if (!parsed.has_value()) {
      found(segment.name, to_string(parsed.error()));
      return;
    }
    const auto& seqs = parsed.value();
    if (seqs.empty()) {
      found(segment.name, "is empty");
      return;
    }
    report_.rows += static_cast<std::int64_t>(seqs.size());
    const bool as_described = static_cast<std::int64_t>(seqs.size()) == segment.count &&
                              Rows{seqs.front(), seqs.back()} == segment.rows &&
                              segment.rows.first >= covered.first && segment.rows.last <= covered.last;
    if (!as_described) {
      found(segment.name, "holds other rows than the checkpoint tells of");
    }
    for (const auto seq : seqs) {
      if (!seen.insert(seq).second) {
        found(segment.name, fmt::format("row {} is also in another segment", seq));
      }
    }
  }

  void check_declared() {
    for (const auto& name : withheld_) {
      if (!listed_.contains(name)) {
        found(withheld_file, "no checkpoint names " + name);
      }
    }
  }

  void check_unlisted() {
    std::set<std::string> unlisted;
    for (const char* part : {"keys", "segments"}) {
      if (!fs::is_directory(folder_ / part)) {
        continue;
      }
      for (const auto& entry : fs::recursive_directory_iterator(folder_ / part)) {
        const auto name = fs::relative(entry.path(), folder_).generic_string();
        if (!entry.is_directory() && !listed_.contains(name)) {
          unlisted.insert(name);
        }
      }
    }
    for (const auto& name : unlisted) {
      found(name, "no checkpoint names this file: it is not sealed");
    }
  }

  void check_anchor() {
    if (!trust_.anchor.empty() && !all_hashes_.contains(trust_.anchor)) {
      found("checkpoints",
            "the anchored checkpoint is not here: the end has been cut off, or the seal was made anew");
    }
  }

  struct Skipped {
    bool some_given = false;
    std::vector<std::string> names;  // withheld since
  };

  const fs::path& folder_;
  const Trust& trust_;
  Report report_;
  std::set<std::string> withheld_, listed_, all_hashes_;
  std::map<std::string, Skipped> skipped_;  // by stream
  std::string key_;                         // the one in charge
  Before before_;
};

}  // namespace

Result<Report> verify(const fs::path& folder, const Trust& trust) {
  try {
    return Verifier(folder, trust).run();
  } catch (const std::runtime_error& error) {
    return Problem{error.what(), folder.string()};
  }
}

}  // namespace dryclock::seal
