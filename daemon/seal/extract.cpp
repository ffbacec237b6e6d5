#include "seal/extract.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <set>
#include <stdexcept>

#include "base/sha256.hpp"
#include "seal/chain_writer.hpp"
#include "seal/durable_file.hpp"
#include "seal/recipe.hpp"
#include "seal/salt.hpp"
#include "seal/taken.hpp"
#include "seal/time_stamp.hpp"

namespace dryclock::seal {
namespace {

namespace fs = std::filesystem;

class Extraction {
 public:
  Extraction(const fs::path& seal, const fs::path& destination) : seal_(seal), destination_(destination) {}

  Extracted run(const Wanted& wanted) {
    if (fs::exists(destination_) && !fs::is_empty(destination_)) {
      throw std::runtime_error(destination_.string() + " is not empty");
    }
    find_last(wanted);
    std::set<std::string> ids;
    const auto salt = salt_of(seal_);
    for (const auto& stream : wanted.streams) {
      ids.insert(stream_id(salt, stream));
    }
    for (std::int64_t number = 1; number <= done_.last.number; ++number) {
      copy_checkpoint(number, ids);
    }
    for (const auto& [id, segments] : of_stream_) {
      copy_span(segments, wanted.rows);
    }
    done_.withheld = withheld_.size();
    done_.key_sha256 = sha256_hex(read_whole(seal_ / key_name(1)));
    std::string names;
    for (const auto& name : withheld_) {
      names += name + "\n";
    }
    write(withheld_file, names);
    write(recipe_file, recipe(done_));
    return done_;
  }

 private:
  void find_last(const Wanted& wanted) {
    const auto last = taken(last_sealed(seal_));
    if (!last) {
      throw std::runtime_error("nothing is sealed yet");
    }
    done_.last = *last;
    if (wanted.through > 0 && wanted.through < last->number) {
      const auto about = read_about(wanted.through);
      const auto name = list_name(wanted.through);
      done_.last = {wanted.through, name, sha256_hex(read_whole(seal_ / name)), about.at, about.rows.last};
    }
    if (done_.last.seq < wanted.rows.last) {
      throw std::runtime_error(fmt::format("row {} is not sealed yet: the last checkpoint ends at {}",
                                           wanted.rows.last, done_.last.seq));
    }
  }

  About read_about(std::int64_t number) const {
    return taken(parse_about(read_whole(seal_ / about_name(number))));
  }

  void copy_checkpoint(std::int64_t number, const std::set<std::string>& ids) {
    for (const auto& name : {list_name(number), signature_name(number), about_name(number)}) {
      copy(name);
    }
    if (fs::exists(seal_ / stamp_name(number))) {
      copy(stamp_name(number));
      ++done_.stamps;
    }
    for (const auto& line : taken(parse_list(read_whole(seal_ / list_name(number))))) {
      if (line.name.starts_with("keys/")) {
        copy(line.name);
      }
    }
    for (const auto& segment : read_about(number).segments) {
      withheld_.insert(segment.name);
      if (const auto id = stream_of_segment(segment.name); ids.contains(id)) {
        of_stream_[id].push_back(segment);
      }
    }
  }

  // From the first segment that has wanted rows to the last, without a hole.
  void copy_span(const std::vector<SegmentRows>& segments, Rows rows) {
    const auto wanted = [&](const SegmentRows& segment) {
      return segment.rows.first <= rows.last && segment.rows.last >= rows.first;
    };
    const auto first = std::ranges::find_if(segments, wanted);
    const auto end = std::find_if(segments.rbegin(), segments.rend(), wanted).base();
    for (auto segment = first; segment < end; ++segment) {
      copy(segment->name);
      withheld_.erase(segment->name);
      ++done_.segments;
      done_.rows += segment->count;
    }
  }

  void copy(const std::string& name) const {
    fs::create_directories((destination_ / name).parent_path());
    fs::copy_file(seal_ / name, destination_ / name);
  }

  void write(const char* name, const std::string& text) const {
    std::ofstream out(destination_ / name, std::ios::binary);
    if (!(out << text << std::flush)) {
      throw std::runtime_error((destination_ / name).string() + " cannot be written");
    }
  }

  const fs::path& seal_;
  const fs::path& destination_;
  Extracted done_;
  std::set<std::string> withheld_;
  std::map<std::string, std::vector<SegmentRows>> of_stream_;
};

}  // namespace

Result<Extracted> extract(const fs::path& seal, const fs::path& destination, const Wanted& wanted) {
  try {
    return Extraction(seal, destination).run(wanted);
  } catch (const std::runtime_error& error) {
    return Problem{error.what(), seal.string()};
  }
}

}  // namespace dryclock::seal
