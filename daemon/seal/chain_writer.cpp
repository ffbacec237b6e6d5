#include "seal/chain_writer.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "base/sha256.hpp"
#include "seal/canonical_line.hpp"
#include "seal/durable_file.hpp"
#include "seal/key_folder.hpp"
#include "seal/salt.hpp"
#include "seal/taken.hpp"
#include "store/reader.hpp"

namespace dryclock::seal {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t rows_a_read = 4096;  // short reads: the write-ahead log can be emptied between them
constexpr std::uintmax_t least_room = 64 * 1024 * 1024;  // bytes: the journal comes first on a full disk

auto day_of(Time time) {
  return std::chrono::floor<std::chrono::days>(time);
}

// One line of the checkpoint's text.
std::string one_line(std::string text) {
  std::ranges::replace_if(
      text, [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
  return text;
}

std::int64_t highest_number(const fs::path& folder) {
  std::int64_t highest = 0;
  if (fs::is_directory(folder / "checkpoints")) {
    for (const auto& entry : fs::directory_iterator(folder / "checkpoints")) {
      highest = std::max(highest, number_of_list(entry.path().filename().string()).value_or(0));
    }
  }
  return highest;
}

Sealed read_sealed(const fs::path& folder, std::int64_t number) {
  const auto list_text = read_whole(folder / list_name(number));
  const auto about_text = read_whole(folder / about_name(number));
  const auto list = taken(parse_list(list_text));
  const auto* line = find_line(list, about_name(number));
  if (line == nullptr || line->sha256 != sha256_hex(about_text)) {
    throw std::runtime_error((folder / about_name(number)).string() + " has been altered");
  }
  const auto about = taken(parse_about(about_text));
  return {number, list_name(number), sha256_hex(list_text), about.at, about.rows.last};
}

// Rows on their way into segments.
struct Segment {
  SegmentRows rows;
  std::string text;
};
struct Batch {
  About about;
  std::map<std::string, Segment> segments;  // by name
};

}  // namespace

struct ChainWriter::State {
  explicit State(ChainOptions given)
      : options(std::move(given)),
        reader(taken(store::Reader::open(options.database))),
        streams(options.read_event),
        keys(options.keys) {}

  ChainOptions options;
  store::Reader reader;
  Streams streams;
  KeyFolder keys;
  std::string salt;
  std::optional<Sealed> last;
  std::optional<SigningKey> key;
  bool doubtful = false;  // after a failure only the disk knows which checkpoint is the last

  void resume();
  void seal_until(Seq to, Time now, const std::string& reason);
  [[nodiscard]] Batch collect(Rows rows);
  void add(const JournalRow& row, Batch& batch);
  void write(Batch batch);
  [[nodiscard]] bool hands_over(Time now) const { return last && day_of(now) > day_of(last->at); }
  void put(const std::string& name, std::string_view bytes) const {
    write_durably(options.folder / name, bytes, options.folder / "tmp" / "file");
  }
};

void ChainWriter::State::resume() {
  for (const char* name : {"checkpoints", "keys", "segments", "tmp"}) {
    make_folder(options.folder / name);
  }
  salt = salt_of(options.folder);
  const auto number = highest_number(options.folder);
  last = number > 0 ? std::optional{read_sealed(options.folder, number)} : std::nullopt;
  if (last && taken(reader.extent()).last < last->seq) {
    throw std::runtime_error(
        fmt::format("{}: row {} is sealed, but the journal ends before it: an older copy?",
                    options.database.string(), last->seq));
  }
  // A try at the next checkpoint that was killed may have left the key to follow it: the next try makes its
  // own, or none. A key counts when the checkpoint before it names it.
  fs::remove(options.folder / key_name(number + 2));
  const auto is_named = [&](std::int64_t which) {
    return read_whole(options.folder / list_name(which - 1)).find(key_name(which)) != std::string::npos;
  };
  auto signer = number + 1;
  while (signer > 1 && !is_named(signer)) {
    --signer;
  }
  if (number == 0) {
    keys.keep(signer, SigningKey::generate());
  }
  if (!keys.holds(signer)) {
    throw std::runtime_error(
        fmt::format("{}: the private key that follows checkpoint {} is not here: the seal cannot go on",
                    options.keys.string(), number));
  }
  key = keys.load(signer);
  if (number > 0 && key->public_pem() != read_whole(options.folder / key_name(signer))) {
    throw std::runtime_error(options.keys.string() + ": the private key is not the one of this seal");
  }
  keys.erase_all_but(signer);
  for (const auto& row : taken(reader.rows_of(RowKind::event))) {
    (void)streams.stream_of(row);
  }
}

void ChainWriter::State::add(const JournalRow& row, Batch& batch) {
  const auto name =
      segment_name(row.message.received_at, stream_id(salt, streams.stream_of(row)), batch.about.number);
  auto& segment = batch.segments[name];
  if (segment.text.empty()) {
    segment.rows.name = name;
    segment.rows.rows.first = row.seq;
  }
  segment.rows.rows.last = row.seq;
  ++segment.rows.count;
  segment.text += canonical_line(row);
}

Batch ChainWriter::State::collect(Rows rows) {
  Batch batch;
  batch.about.number = last ? last->number + 1 : 1;
  batch.about.rows = rows;
  Seq next = rows.first;
  while (next <= rows.last) {
    const auto wanted = std::min(static_cast<std::size_t>(rows.last - next + 1), rows_a_read);
    const auto read = taken(reader.rows(next, wanted));
    for (const auto& row : read) {
      if (row.seq > rows.last) {
        break;
      }
      if (row.seq > next) {
        batch.about.missing.push_back({next, row.seq - 1});
      }
      add(row, batch);
      next = row.seq + 1;
    }
    if (read.empty() || read.back().seq > rows.last) {
      break;
    }
  }
  if (next <= rows.last) {
    batch.about.missing.push_back({next, rows.last});
  }
  return batch;
}

void ChainWriter::State::write(Batch batch) {
  const auto number = batch.about.number;
  List list;
  const auto put_listed = [&](const std::string& name, std::string_view bytes) {
    put(name, bytes);
    list.push_back({sha256_hex(bytes), name});
  };
  if (last) {
    list.push_back({last->sha256, last->name});
  }
  for (auto& [name, segment] : batch.segments) {
    batch.about.segments.push_back(segment.rows);
  }
  std::ranges::sort(batch.about.segments, {}, [](const SegmentRows& segment) { return segment.rows.first; });
  put_listed(about_name(number), to_text(batch.about));
  if (!last) {
    put_listed(key_name(number), key->public_pem());
  }
  std::optional<SigningKey> next_key;
  if (hands_over(batch.about.at)) {
    next_key = SigningKey::generate();
    keys.keep(number + 1, *next_key);
    put_listed(key_name(number + 1), next_key->public_pem());
  }
  for (const auto& [name, segment] : batch.segments) {
    make_folder((options.folder / name).parent_path());
    put_listed(name, segment.text);
  }
  const auto text = to_text(list);
  put(signature_name(number), key->sign(text));
  put(list_name(number), text);  // from here on it counts
  last = {number, list_name(number), sha256_hex(text), batch.about.at, batch.about.rows.last};
  if (next_key) {
    key = std::move(next_key);
    keys.erase_all_but(number + 1);
  }
}

void ChainWriter::State::seal_until(Seq to, Time now, const std::string& reason) {
  Seq next = last ? last->seq + 1 : 1;
  while (next <= to) {
    if (fs::space(options.folder).available < least_room) {
      throw std::runtime_error("the disk has no room to spare: the journal comes first");
    }
    auto batch = collect({next, std::min(to, next + options.most_rows - 1)});
    batch.about.at = now;
    batch.about.reason = one_line(reason);
    if (last && now < last->at) {
      batch.about.reason += "; the clock was set back since the checkpoint before";
    }
    write(std::move(batch));
    next = last->seq + 1;
  }
}

ChainWriter::ChainWriter(std::unique_ptr<State> state) : state_(std::move(state)) {}
ChainWriter::ChainWriter(ChainWriter&&) noexcept = default;
ChainWriter& ChainWriter::operator=(ChainWriter&&) noexcept = default;
ChainWriter::~ChainWriter() = default;

Result<ChainWriter> ChainWriter::open(ChainOptions options) {
  const auto where = options.folder.string();
  try {
    auto state = std::make_unique<State>(std::move(options));
    state->resume();
    return ChainWriter(std::move(state));
  } catch (const std::runtime_error& error) {
    return Problem{error.what(), where};
  }
}

Result<void> ChainWriter::seal(Time now, const std::string& reason) {
  try {
    if (state_->doubtful) {
      state_->resume();
      state_->doubtful = false;
    }
    state_->seal_until(taken(state_->reader.extent()).last, now, reason);
    return {};
  } catch (const std::runtime_error& error) {
    state_->doubtful = true;
    return Problem{error.what(), state_->options.folder.string()};
  }
}

const std::optional<Sealed>& ChainWriter::last() const {
  return state_->last;
}

Result<std::optional<Sealed>> last_sealed(const fs::path& folder) {
  try {
    const auto number = highest_number(folder);
    return number == 0 ? std::optional<Sealed>{} : read_sealed(folder, number);
  } catch (const std::runtime_error& error) {
    return Problem{error.what(), folder.string()};
  }
}

}  // namespace dryclock::seal
