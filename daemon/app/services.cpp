#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <memory>
#include <set>
#include <utility>

#include "app/channels.hpp"
#include "app/evidence.hpp"
#include "app/parts.hpp"
#include "base/log.hpp"
#include "base/version.hpp"
#include "wording/spoken.hpp"

namespace dryclock::app {
namespace {

constexpr Millis patience{5'000};  // of who asks for what is not sealed or not worked out yet

}  // namespace

http::Services App::Parts::services() {
  return {
      .now = [this] { return core.now(clock.now()); },
      .board =
          [this] {
            Board board = core.board();
            board.now = core.now(clock.now());
            return board;
          },
      .catalogue = [this] { return catalogue(); },
      .health = [this] { return health(); },
      .air = [this](const std::string& bay, Time from, Time to) { return core.air(bay, from, to); },
      .air_ahead = [this](const std::string& bay) { return core.air_ahead(bay); },
      .piece_history = [this](PieceId piece) { return core.engine().history(piece); },
      .events = [this](VehicleId vehicle) { return core.engine().events(vehicle); },
      .alert_history =
          [this](Time from, Time to) {
            auto raised = reader->alerts_raised(from, to);
            return raised ? wording::spoken(std::move(*raised), core.words()) : raised;
          },
      .personal = [this](VehicleId vehicle) { return reader->personal(vehicle); },
      .channels = [this] { return channels(); },
      .test_channel =
          [this](const std::string& name, std::function<void(Result<void>)> answer) {
            test_channel(name, std::move(answer));
          },
      .handed_over =
          [this](std::function<void(Result<HandedOverAnswer>)> answer) {
            pool->submit([this, now = core.now(clock.now())] { return make_handed_over(config, now); },
                         std::move(answer));
          },
      .past_vehicle =
          [this](VehicleId vehicle, std::function<void(Result<VehicleSummary>)> answer) {
            pool->submit([this, vehicle] { return make_past_vehicle(config, vehicle); }, std::move(answer));
          },
      .rechecks =
          [this](std::function<void(Result<RecheckReport>)> answer) { rechecks.report(std::move(answer)); },
      .submit =
          [this](const std::string& json, const std::function<void(http::SubmitAnswer)>& answer) {
            core.submit(json, clock.now(), answer);
          },
      .submit_deed =
          [this](const std::string& json, const std::function<void(http::DeedAnswer)>& answer) {
            core.submit_deed(json, clock.now(), answer);
          },
      .search =
          [this](const SearchQuery& query, std::function<void(Result<SearchAnswer>)> answer) {
            pool->submit(
                [this, query, now = core.now(clock.now())] { return make_search(config, query, now); },
                std::move(answer));
          },
      .record =
          [this](const http::RecordRequest& request, std::function<void(http::RecordAnswer)> answer) {
            make_record(request, std::move(answer));
          },
      .sensors = [this] { return wording::spoken(core.engine().sensors(), core.words()); },
      .coupons = [this] { return wording::spoken(core.engine().coupons(), core.words()); },
      .learned = [this] { return core.engine().learned(); },
      .plates = [this] { return wording::spoken(core.engine().plates(), core.words()); },
      .bond_coupons = [this] { return wording::spoken(core.engine().bond_coupons(), core.words()); },
      .search_sensors = [this](int seconds) { return search_sensors(seconds); },
      .sensor_search =
          [this] { return wording::spoken(finder.view(core.engine().mappings()), core.words()); }};
}

CatalogueView App::Parts::catalogue() const {
  const engine::Engine& engine = core.engine();
  const Catalogue& all = engine.setup().catalogue;
  CatalogueView view{config.setup.site,       all.films, all.solutions, all.panels, all.templates,
                     engine.measured_films(), all.water};
  std::set<std::string> panels;
  std::set<std::string> places;
  for (const Event& event : engine.events(0)) {
    if (const auto* lay = std::get_if<Lay>(&event.detail)) {
      panels.insert(lay->panel);
      places.insert(lay->place);
    }
  }
  const auto is_known = [&](const std::string& panel) {
    return std::ranges::find(all.panels, panel, &PanelEntry::key) != all.panels.end();
  };
  std::ranges::remove_copy_if(panels, std::back_inserter(view.own_panels), is_known);
  std::ranges::copy_if(places, std::back_inserter(view.own_places), [](const std::string& place) {
    return !place.empty() && std::ranges::find(known_places, place) == known_places.end();
  });
  return view;
}

Health App::Parts::health() const {
  const auto store = writer->health();
  const bool broker = client && client->connected();
  const auto sealed = sealer ? sealer->last_checkpoint() : std::nullopt;
  Health health;
  health.version = version;
  health.started = started;
  const auto problem = [](std::string text) {
    return Fact{"health.problem", {say::text("problem", std::move(text))}};
  };
  const auto at = say::text("broker", fmt::format("{}:{}", config.mqtt.host, config.mqtt.port));
  const auto so_far = [&sealed]() -> Fact {
    if (!sealed) {
      return {"health.no-checkpoint"};
    }
    return {
        "health.checkpoint",
        {say::text("number", fmt::to_string(sealed->number)), say::text("row", fmt::to_string(sealed->seq))}};
  };
  health.parts = {
      {"database", !store.failing, store.text.empty() ? Fact{"health.keeps"} : problem(store.text)},
      {"broker", broker, {broker ? "health.connected" : "health.not-connected", {at}}},
      {"seal", !watch.seal_wrong(), watch.seal_wrong() ? problem(to_string(*watch.seal_wrong())) : so_far()}};
  health.ok = std::ranges::all_of(health.parts, &HealthPart::ok);
  health.space = watch.space();
  return wording::spoken(std::move(health), core.words());
}

Channels App::Parts::channels() const {
  Channels out;
  out.channels.push_back({"mqtt", "mqtt", AlertLevel::news});
  for (const NotifyChannel& channel : config.notify) {
    out.channels.push_back({channel.name, std::string{name_of(channel.kind)}, channel.least});
  }
  if (config.quiet) {
    const auto clock_text = [](std::chrono::minutes time) {
      return fmt::format("{:02}:{:02}", time.count() / 60, time.count() % 60);
    };
    out.quiet = clock_text(config.quiet->from) + "-" + clock_text(config.quiet->to);
  }
  return out;
}

Result<void> App::Parts::search_sensors(int seconds) {
  if (!client->connected()) {
    return Problem{"not connected to the broker", "broker"};
  }
  finder.start(clock.now(), seconds);
  notifier->post([this] {
    if (const auto searching = client->search(true); !searching) {
      log::warning("search for sensors: {}", to_string(searching.error()));
    }
  });
  return {};
}

RecheckWork App::Parts::recheck_work() {
  return {.list =
              [this](std::function<void(RecheckWork::Listed)> done) {
                pool->submit([this] { return list_rechecked(config); }, std::move(done));
              },
          .look_at =
              [this](VehicleId vehicle, std::function<void(RecheckWork::Found)> done) {
                pool->submit([this, vehicle] { return find_rechecked(config, vehicle); }, std::move(done));
              },
          .patience = [this](std::function<void()> done) { after(io, patience, std::move(done)); }};
}

// Two jobs of the pool, and between them no thread waits for the seal.
void App::Parts::make_record(const http::RecordRequest& request,
                             std::function<void(http::RecordAnswer)> answer) {
  pool->submit([this, request] { return gather_evidence(config, request.vehicle, request.language); },
               [this, request, answer = std::move(answer)](Result<record::Record> gathered) {
                 if (!gathered) {
                   return answer(gathered.error());
                 }
                 const auto ends_with = gathered->last_row;
                 const auto record = std::make_shared<record::Record>(std::move(gathered).value());
                 await_seal(ends_with, [this, request, answer, record] {
                   pool->submit(
                       [this, request, record, sealed = sealer != nullptr] {
                         return finish_evidence(config, std::move(*record), sealed, request);
                       },
                       answer);
                 });
               });
}

// On the core thread: when `row` is sealed, when it cannot be, or when it takes too long (a time stamp is
// being fetched, the disk is slow): the record then says how far it is sealed.
void App::Parts::await_seal(Seq row, std::function<void()> then) {
  if (!sealer) {
    return then();
  }
  const auto once = std::make_shared<std::function<void()>>(std::move(then));
  const auto go_on = [once] {
    if (const auto next = std::exchange(*once, nullptr)) {
      next();
    }
  };
  after(io, patience, go_on);
  sealer->when_sealed(row, [this, go_on] { post(go_on); });
}

// Past the outbox: what the channel answers is the answer.
void App::Parts::test_channel(const std::string& name, std::function<void(Result<void>)> answer) {
  const auto found = deliver.find(name);
  if (found == deliver.end()) {
    return answer(Problem{fmt::format("no channel '{}'", name), "channel"});
  }
  const Outgoing message = test_message(config, name, clock.now());
  notifier->post([this, send = found->second, message, answer = std::move(answer)] {
    post([answer, sent = send(message)] { answer(sent); });
  });
}

}  // namespace dryclock::app
