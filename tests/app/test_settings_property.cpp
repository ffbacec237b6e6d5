// Whatever is edited in the settings between two starts: what has left stays the same to the byte, nothing
// that was laid vanishes, and whoever looks at the board or into the table of alerts sees the same.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <random>

#include "app/journalled_shop.hpp"
#include "app/times.hpp"
#include "domain/setup_fields.hpp"
#include "record/gather.hpp"
#include "record/machine_files.hpp"
#include "support/scratch_folder.hpp"
#include "support/small_shop.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::app {
namespace {

using namespace std::chrono_literals;
using Random = std::mt19937;

// Walks every setting there is, by the list that writes and reads their rows, and edits the `target`-th.
class Edit {
 public:
  Edit(int target, Random& random) : target_(target), random_(random) {}

  void type(std::string_view /*name*/, std::string_view /*what*/) const {}
  void optional(std::string_view name, auto& setting, const auto&... /*marks*/) { (*this)(name, setting); }
  void flat(auto& part) { visit_fields(*this, part); }
  void operator()(std::string_view name, auto& setting, const auto&... /*marks*/) {
    path_.emplace_back(name);
    take(setting);
    path_.pop_back();
  }
  template <class T>
  void take(T& setting) {
    if constexpr (std::is_same_v<T, std::string>) {
      edit([&] { setting += setting.empty() ? "" : "-new"; });  // renamed
    } else if constexpr (std::is_same_v<T, bool>) {
      edit([&] { setting = !setting; });
    } else if constexpr (std::is_same_v<T, double>) {
      edit([&] { setting *= factor(); });
    } else if constexpr (std::is_same_v<T, std::optional<double>>) {
      edit([&] { setting = setting ? std::optional{*setting * factor()} : std::nullopt; });
      edit([&] { setting = setting ? std::nullopt : std::optional{15.0 * factor()}; });  // taken out, put in
    } else if constexpr (requires { setting.has_value(); }) {
      edit([&] { setting = setting ? std::nullopt : T{std::in_place}; });  // taken out, put in
    } else if constexpr (std::is_same_v<T, Millis>) {
      edit([&] { setting = std::chrono::round<Millis>(setting * factor()); });
    } else if constexpr (requires { setting.value(); }) {
      edit([&] { setting = T{setting.value() * factor()}; });
    } else if constexpr (std::is_integral_v<T>) {
      edit([&] { ++setting; });
    } else if constexpr (std::is_enum_v<T>) {
      // A word of another list: what it means is another setting, not another number.
    } else if constexpr (requires { setting.begin(); }) {
      take_list(setting);
    } else {
      visit_fields(*this, setting);
    }
  }
  [[nodiscard]] int settings() const { return seen_; }
  [[nodiscard]] const std::string& done() const { return done_; }

 private:
  template <class List>
  void take_list(List& list) {
    if constexpr (requires { list.pop_back(); }) {
      edit([&] {  // one is deleted
        if (list.size() > 1) {
          list.erase(list.begin() + static_cast<std::ptrdiff_t>(random_() % list.size()));
        }
      });
      edit([&] {  // one is added
        if (!list.empty()) {
          auto copy = list[random_() % list.size()];
          if constexpr (requires { copy.key; }) {
            copy.key += "-added";
          } else if constexpr (std::is_same_v<std::decay_t<decltype(copy)>, BaySetup>) {
            copy.name += "-added";
          }
          list.push_back(std::move(copy));
        }
      });
    }
    for (auto& one : list) {
      take(one);
    }
  }
  void edit(const auto& how) {
    if (seen_++ == target_) {
      how();
      for (const auto& part : path_) {
        done_ += "/" + part;
      }
    }
  }
  double factor() { return random_() % 2 == 0 ? 0.93 : 1.07; }

  int target_;
  Random& random_;
  int seen_ = 0;
  std::vector<std::string> path_;
  std::string done_;
};

std::string air(int minute) {
  return "{\"t\":" + std::to_string(19 + minute / 60 % 3) +
         ".5,\"h\":" + std::to_string(47 + minute / 90 % 5) + ".5}";
}

struct Story {
  Time now = monday;
  VehicleId left = 0, here = 0;
  std::vector<PieceId> pieces;  // of `here`
};

void airs(JournalledShop& shop, Story& story, int minutes) {
  for (int minute = 0; minute < minutes; minute += 5) {
    story.now += 5min;
    shop.hears(story.now, "bays/front", air(static_cast<int>((story.now - monday) / 1min)));
  }
}

Story lived(const std::filesystem::path& database) {
  Story story;
  JournalledShop shop(database, support::small_shop(), story.now);
  const auto lay = [&](VehicleId vehicle, const std::string& panel) {
    Lay told;
    told.vehicle = vehicle;
    told.panel = panel;
    return shop.does(story.now, told);
  };
  const auto arrives = [&](const std::string& reference) {
    VehicleIn in;
    in.reference = reference;
    in.bay = "front";
    return shop.does(story.now, in);
  };
  airs(shop, story, 30);
  story.left = arrives("left");
  const auto bonnet = lay(story.left, "bonnet");
  airs(shop, story, 26 * 60);
  shop.does(story.now, EdgeWrapped{bonnet});
  shop.does(story.now, Trimmed{bonnet});
  story.here = arrives("here");
  story.pieces = {lay(story.here, "bonnet"), lay(story.here, "bumper")};
  airs(shop, story, 22 * 60);
  Released released;
  released.vehicle = story.left;
  shop.does(story.now, released);
  airs(shop, story, 60);
  return story;
}

std::string record_of(const store::Reader& reader, VehicleId vehicle) {
  const auto record = record::gather(reader, vehicle, {.version = "test", .look_ahead = {}});
  REQUIRE_MESSAGE(record.has_value(), (record ? "" : to_string(record.error())));
  std::string bytes;
  for (const auto& file : record::machine_files(record.value())) {
    bytes += file.name + "\n" + file.bytes;
  }
  return bytes;
}

// One of the limits of the bay whose air is known is put where its air is beyond it; taken out where it is
// so.
void move_limit(Setup& setup, Random& random) {
  const auto bay = std::ranges::find(setup.bays, "front", &BaySetup::name);
  if (bay == setup.bays.end()) {
    return;
  }
  if (random() % 2 == 0) {
    bay->cold_below_c = bay->cold_below_c.value_or(0.0) > 25.0 ? std::nullopt : std::optional{30.0};
  } else {
    bay->damp_above_pct = bay->damp_above_pct.value_or(100.0) < 30.0 ? std::nullopt : std::optional{20.0};
  }
}

// Alerts of a bay's air that the settings ask for no more.
std::vector<std::string> asked_for_by_none(const std::vector<AlertSummary>& open, const Setup& setup) {
  std::vector<std::string> out;
  for (const auto& alert : open) {
    const auto limited = [&](const BaySetup& bay) {
      return bay.name == alert.subject &&
             (alert.rule == AlertRule::bay_cold ? bay.cold_below_c : bay.damp_above_pct).has_value();
    };
    if ((alert.rule == AlertRule::bay_cold || alert.rule == AlertRule::bay_damp) &&
        std::ranges::none_of(setup.bays, limited)) {
      out.push_back(alert.id);
    }
  }
  return out;
}

// Starts, one after the other, each with settings that have been edited since the one before.
void edits_between_starts(Random& random, int starts) {
  const test::ScratchFolder folder;
  const auto database = folder / "a.db";
  Story story = lived(database);
  Setup setup = support::small_shop();
  std::string before;
  {
    const JournalledShop shop(database, setup, story.now);
    before = record_of(shop.reader(), story.left);
  }
  for (int round = 0; round < starts; ++round) {
    Edit count(-1, random);
    count.take(setup);
    std::string edits;
    for (auto several = 1 + random() % 3; several > 0; --several) {
      Edit edit(static_cast<int>(random() % static_cast<unsigned>(count.settings())), random);
      edit.take(setup);
      edits += edit.done() + " ";
    }
    move_limit(setup, random);
    CAPTURE(round);
    CAPTURE(edits);
    JournalledShop shop(database, setup, story.now);
    CHECK(record_of(shop.reader(), story.left) == before);
    const auto here = shop.engine().vehicle(story.here);
    REQUIRE(here.has_value());
    REQUIRE(here->pieces.size() == story.pieces.size());
    for (std::size_t i = 0; i < story.pieces.size(); ++i) {
      CHECK(here->pieces[i].id == story.pieces[i]);
      CHECK_FALSE(here->pieces[i].zones.empty());
    }
    CHECK(shop.open_on_board() == shop.open_in_table());
    CHECK(shop.told_otherwise() == std::vector<std::string>{});
    airs(shop, story, 15);  // longer than an alert's dwell
    CHECK(shop.open_on_board() == shop.open_in_table());
    CHECK(shop.told_otherwise() == std::vector<std::string>{});
    CHECK(asked_for_by_none(shop.engine().board().alerts, setup) == std::vector<std::string>{});
    if (random() % 3 == 0) {
      setup = support::small_shop();  // put back
    }
  }
}

TEST_CASE("settings may be edited in any way between two starts") {
  Random random(20'261'129);
  const int lives = std::getenv("DRYCLOCK_LONG") != nullptr ? 16 : 1;
  for (int life = 0; life < lives; ++life) {
    CAPTURE(life);
    edits_between_starts(random, 25);
  }
}

TEST_CASE("what other times make of the alerts is told: board, table and outbox agree") {
  const test::ScratchFolder folder;
  Time now = monday;
  const auto cold = [](const std::vector<std::string>& alerts) {
    return std::ranges::any_of(alerts, [](const auto& id) { return id.starts_with("bay-cold/front"); });
  };
  {
    JournalledShop shop(folder / "a.db", support::small_shop(), now);
    for (int minute = 0; minute < 60; minute += 5) {
      now += 5min;
      shop.hears(now, "bays/front", R"({"t":3.5,"h":50.5})");
    }
    REQUIRE(cold(shop.open_on_board()));
    REQUIRE(cold(shop.open_in_table()));
    // The rows turn out to have come within a moment: it was not cold for long.
    shop.dates_anew(monday);
  }
  JournalledShop shop(folder / "a.db", support::small_shop(), now);
  CHECK_FALSE(cold(shop.open_on_board()));
  CHECK(shop.open_on_board() == shop.open_in_table());
  CHECK(shop.told_otherwise() == std::vector<std::string>{});
}

}  // namespace
}  // namespace dryclock::app
