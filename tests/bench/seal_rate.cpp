// Rows a second into the journal, each on disk before the next, while the sealing thread seals what came,
// against the same writer without it, on the same disk in the same run. Each turn with it makes one
// checkpoint: a shop with 40 sensors that send every 10 s makes one for every 14400 rows, so the load here is
// some thirty times that.
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "seal/sealer.hpp"
#include "stopwatch.hpp"
#include "store/writer.hpp"
#include "support/scratch_folder.hpp"

using namespace dryclock;
using bench::figure;
using bench::median;

namespace {

constexpr int rows_a_turn = 500;
constexpr int turns = 40;
constexpr int topics = 8;

class Journal {
 public:
  double rows_per_second() {
    const auto begin = std::chrono::steady_clock::now();
    for (int i = 0; i < rows_a_turn; ++i) {
      const auto appended = writer_->append(
          {.kind = RowKind::message,
           .message = {.topic = "bay/" + std::to_string(i % topics),
                       .payload = R"({"temperature":21.5,"humidity":48.2,"battery":97,"linkquality":120})",
                       .received_at = SystemClock{}.now(),
                       .qos = 1},
           .key = {}},
          Millis{30'000});
      if (!appended.has_value()) {
        std::fprintf(stderr, "%s\n", to_string(appended.error()).c_str());
        std::exit(1);
      }
    }
    return rows_a_turn / std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  }
  [[nodiscard]] seal::ChainOptions seal_options() const {
    return {.database = folder_ / "a.db",
            .folder = folder_ / "seal",
            .keys = folder_ / "keys",
            .read_event = [](const JournalRow&) { return std::nullopt; }};
  }

 private:
  test::ScratchFolder folder_;
  std::unique_ptr<store::Writer> writer_ =
      store::Writer::open({.path = folder_ / "a.db", .ballast_bytes = 0}, {}, {}).value();
};

}  // namespace

int main(int argc, char** argv) {
  if (argc > 1 && std::string_view{argv[1]} != "seal_ingest_ratio") {
    return 0;  // another figure is asked for
  }
  Journal plain;
  Journal sealed;
  int checkpoints = 0;
  seal::Sealer sealer({.chain = sealed.seal_options(), .now = [] { return SystemClock{}.now(); }},
                      {.on_sealed = [&](const seal::Sealed&) { ++checkpoints; },
                       .on_problem = [](const Problem&) { std::exit(1); }});
  sealer.start();
  std::vector<double> without;
  std::vector<double> with;
  std::vector<double> ratio;
  for (int turn = 0; turn < turns; ++turn) {
    without.push_back(plain.rows_per_second());
    sealer.seal_now("bench");
    with.push_back(sealed.rows_per_second());
    ratio.push_back(with.back() / without.back());
  }
  sealer.stop();
  std::printf("%d checkpoints beside %d rows\n", checkpoints, turns * rows_a_turn);
  figure("ingest_without_seal", median(without), "rows/s");
  figure("ingest_with_seal", median(with), "rows/s");
  figure("seal_ingest_ratio", median(ratio), "1");
}
