// A file system of 32 MiB that really fills up. Needs the right to mount one.
#include <doctest/doctest.h>
#include <sys/mount.h>
#include <unistd.h>

#include <fstream>
#include <mutex>

#include "rows.hpp"
#include "support/eventually.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

class SmallDisk {
 public:
  SmallDisk() { mounted_ = ::mount("tmpfs", folder_.path().c_str(), "tmpfs", 0, "size=32m") == 0; }
  SmallDisk(const SmallDisk&) = delete;
  SmallDisk& operator=(const SmallDisk&) = delete;
  ~SmallDisk() {
    if (mounted_) {
      ::umount2(folder_.path().c_str(), MNT_DETACH);
    }
  }
  [[nodiscard]] bool mounted() const { return mounted_; }
  [[nodiscard]] std::filesystem::path operator/(const char* name) const { return folder_ / name; }

 private:
  test::ScratchFolder folder_;
  bool mounted_ = false;
};

class HealthLog {
 public:
  void add(const StoreHealth& health) {
    const std::lock_guard lock(mutex_);
    log_.push_back(health);
  }
  [[nodiscard]] std::vector<StoreHealth> all() const {
    const std::lock_guard lock(mutex_);
    return log_;
  }

 private:
  mutable std::mutex mutex_;
  std::vector<StoreHealth> log_;
};

// How many rows of 32 KiB were taken before the first was refused.
int fill(Writer& writer) {
  int rows = 0;
  while (writer.append(message(std::string(32'768, 'x')), cap)) {
    ++rows;
  }
  return rows;
}

TEST_CASE("a full disk: the reserve is freed, work goes on, and nothing acknowledged is lost") {
  const SmallDisk disk;
  if (!disk.mounted()) {
    MESSAGE("skipped: this user may not mount a small file system");
    return;
  }
  constexpr std::int64_t reserve = 6 * 1024 * 1024;
  const auto path = disk / "a.db";
  std::ofstream(disk / "somebody-elses-file") << std::string(4 * 1024 * 1024, 'x');
  HealthLog health;
  auto writer = open_writer(
      path, {.on_rows = {}, .on_outbox = {}, .on_health = [&](const StoreHealth& h) { health.add(h); }},
      reserve);
  REQUIRE(std::filesystem::file_size(path.string() + ".ballast") == reserve);

  const int before = fill(*writer);
  CHECK(before > 20);
  REQUIRE(test::eventually([&] { return !writer->health().failing; }));
  CHECK(writer->health().ballast_spent);
  CHECK_FALSE(std::filesystem::exists(path.string() + ".ballast"));

  const int on_reserve = fill(*writer);
  CHECK(on_reserve > 20);
  Effects effects;  // derived rows are not refused: they wait
  effects.applied = before;
  writer->commit(effects);
  CHECK_FALSE(writer->append(message("no room"), cap).has_value());
  CHECK(writer->health().failing);

  std::filesystem::remove(disk / "somebody-elses-file");
  REQUIRE(test::eventually([&] { return !writer->health().failing; }));
  REQUIRE(writer->append(message("room again"), cap).has_value());
  writer->stop();

  const auto states = health.all();
  REQUIRE(states.size() >= 4);
  CHECK(states[0].failing);
  CHECK_FALSE(states[1].failing);
  CHECK(states[1].ballast_spent);
  const auto reader = open_reader(path);
  CHECK(reader.extent().value().last == before + on_reserve + 1);
  CHECK(reader.applied().value() == before);
  for (const auto& row : reader.rows(1, 10'000).value()) {
    CHECK(row.message.payload.size() == (row.seq > before + on_reserve ? 10 : 32'768));
  }
}

}  // namespace
}  // namespace dryclock::store
