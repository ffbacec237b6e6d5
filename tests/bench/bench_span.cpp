// What an empty span of time costs: a machine whose clock began in 1970, with film laid, and then learnt the
// time.
#include <malloc.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "engine/engine.hpp"
#include "ingest/decode.hpp"
#include "stopwatch.hpp"
#include "support/small_shop.hpp"
#include "wire/event_json.hpp"

using namespace dryclock;
using bench::figure;

namespace {

class Journal {
 public:
  explicit Journal(const Setup& setup) : engine_(setup) {}

  Seq append(Time at, RowKind kind, std::string topic, std::string payload) {
    JournalRow row;
    row.seq = ++seq_;
    row.kind = kind;
    row.message = {std::move(topic), std::move(payload), at, 1, false, false};
    static_cast<void>(engine_.apply(row, ingest::decode(row, engine_.mappings())));
    return seq_;
  }
  Seq tell(Time at, EventDetail detail) {
    Event event;
    event.at = event.entered = at;
    event.who = "AB";
    event.detail = std::move(detail);
    return append(at, RowKind::event, "", wire::to_json(event));
  }
  void reads(Time at) { append(at, RowKind::message, "bays/front", R"({"t":19.5,"h":55.0})"); }

 private:
  engine::Engine engine_;
  Seq seq_ = 0;
};

}  // namespace

int main(int argc, char** argv) {
  if (argc > 1 && std::string{argv[1]} != "empty_span_60_years") {
    return 0;
  }
  bench::pin();
  const auto one = std::chrono::minutes{1};
  const Time then = Time{} + std::chrono::hours{1};
  const Time now = then + std::chrono::days{60 * 365 + 15};
  constexpr std::size_t repeats = 9;
  std::vector<double> times;
  double grown = 0.0;
  for (std::size_t i = 0; i < repeats; ++i) {
    Journal journal{support::small_shop()};
    VehicleIn in;
    in.reference = "grey-van";
    in.bay = "front";
    Lay lay;
    lay.vehicle = journal.tell(then, in);
    lay.panel = "bonnet";
    journal.tell(then, lay);
    for (int k = 1; k <= 60; ++k) {
      journal.reads(then + k * one);
    }
    const auto before = static_cast<double>(mallinfo2().uordblks);
    const double begin = bench::processor_seconds();
    for (int k = 0; k <= 3; ++k) {  // the hole is closed once readings stand on both of its sides
      journal.reads(now + k * one);
    }
    times.push_back(bench::processor_seconds() - begin);
    grown = std::max(grown, static_cast<double>(mallinfo2().uordblks) - before);
  }
  figure("empty_span_60_years", 1e3 * bench::median(times), "ms");
  figure("empty_span_60_years_kept", grown / 1024.0, "KiB");
}
