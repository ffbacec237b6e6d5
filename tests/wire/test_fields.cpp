// No member of a shape is forgotten in the list of its fields: the lists are counted against what the shapes
// can be made of.
#include <doctest/doctest.h>

#include <map>
#include <string>
#include <utility>

#include "domain/answers.hpp"
#include "domain/learnt.hpp"
#include "domain/sensor_search.hpp"
#include "domain/setup_fields.hpp"
#include "support/capture_bound.hpp"
#include "wire/marks.hpp"

namespace dryclock::wire {
namespace {

// Members that a shape keeps to itself, and why.
template <class T>
inline constexpr std::size_t kept_back = 0;
template <>  // `gone`: what is no longer in the settings is neither offered nor in their row
inline constexpr std::size_t kept_back<FilmEntry> = 1;
template <>
inline constexpr std::size_t kept_back<SolutionEntry> = 1;
template <>
inline constexpr std::size_t kept_back<PanelEntry> = 1;
template <>
inline constexpr std::size_t kept_back<BaySetup> = 1;

}  // namespace

// Of so many members an aggregate can be made, whatever they are. Declared only, so of no inner linkage.
struct Whatever {
  template <class T>
  operator T() const;  // NOLINT(google-explicit-constructor)
};

namespace {

template <class T, std::size_t... i>
constexpr bool takes(std::index_sequence<i...> /*members*/) {
  return requires {
    T{(static_cast<void>(i), Whatever{})...};
  };
}
template <class T, std::size_t n = 40>
constexpr std::size_t members() {
  if constexpr (n == 0 || takes<T>(std::make_index_sequence<n>{})) {
    return n;
  } else {
    return members<T, n - 1>();
  }
}

template <class T>
void walk(std::map<std::string, std::pair<std::size_t, std::size_t>>& counts);

class Counter {
 public:
  explicit Counter(std::map<std::string, std::pair<std::size_t, std::size_t>>& counts) : counts_(counts) {}
  void type(std::string_view /*name*/, std::string_view /*what*/) const {}
  void apart(std::string_view /*name*/, std::string_view /*what*/) const {}
  template <class T>
  void operator()(std::string_view /*name*/, const T& /*what*/, const auto&... /*marks*/) {
    ++listed_;
    walk<T>(counts_);
  }
  template <class T>
  void optional(std::string_view name, const T& what, const auto&... /*marks*/) {
    (*this)(name, what);
  }
  void flat(const auto& what) { (*this)("", what); }

  [[nodiscard]] std::size_t listed() const { return listed_; }

 private:
  std::map<std::string, std::pair<std::size_t, std::size_t>>& counts_;
  std::size_t listed_ = 0;
};

// Those whose members are listed one by one.
template <class T>
concept Counted = std::is_aggregate_v<T> && !List<T> && !std::same_as<T, Event> && !InUnits<T> &&
                  !std::same_as<T, Lay> && requires(Counter counter, const T what) {
  visit_fields(counter, what);
};

template <class T>
void walk(std::map<std::string, std::pair<std::size_t, std::size_t>>& counts) {
  if constexpr (is_optional<T>) {
    walk<typename T::value_type>(counts);
  } else if constexpr (List<T>) {
    walk<std::remove_cvref_t<decltype(*std::declval<T>().begin())>>(counts);
  } else if constexpr (Counted<T>) {
    const std::string name{typeid(T).name()};
    if (counts.contains(name)) {
      return;  // a shape may hold others of its own kind
    }
    counts[name];
    Counter counter{counts};
    const T blank{};
    visit_fields(counter, blank);
    counts[name] = {counter.listed() + kept_back<T>, members<T>()};
  }
}

}  // namespace

TEST_CASE("each member of each view is listed") {
  std::map<std::string, std::pair<std::size_t, std::size_t>> counts;
  walk<Board>(counts);
  walk<CatalogueView>(counts);
  walk<AirAnswer>(counts);
  walk<HistoryAnswer>(counts);
  walk<AlertsAnswer>(counts);
  walk<EventsAnswer>(counts);
  walk<Accepted>(counts);
  walk<HandedOverAnswer>(counts);
  walk<Deed>(counts);
  walk<DeedTaken>(counts);
  walk<SearchAnswer>(counts);
  walk<Channels>(counts);
  walk<ChannelTest>(counts);
  walk<Health>(counts);
  walk<Permission>(counts);
  walk<Personal>(counts);
  walk<RecheckReport>(counts);
  walk<SensorsAnswer>(counts);
  walk<SensorSearch>(counts);
  walk<CouponsAnswer>(counts);
  walk<LearnedView>(counts);
  walk<PlatesAnswer>(counts);
  walk<ProblemDetails>(counts);
  walk<VehicleNews>(counts);
  CHECK(counts.size() > 40);
  for (const auto& [name, count] : counts) {
    CAPTURE_BOUND(name);
    CHECK(count.first == count.second);
  }
}

TEST_CASE("each member of each row that the daemon writes of itself is listed") {
  std::map<std::string, std::pair<std::size_t, std::size_t>> counts;
  walk<Configured>(counts);
  walk<Redated>(counts);
  walk<Announced>(counts);
  walk<Learnt>(counts);
  CHECK(counts.size() > 15);
  for (const auto& [name, count] : counts) {
    CAPTURE_BOUND(name);
    CHECK(count.first == count.second);
  }
}

TEST_CASE("each member of each event is listed") {
  std::map<std::string, std::pair<std::size_t, std::size_t>> counts;
  [&]<class... Details>(const std::variant<Details...>* /*all*/) {
    (walk<Details>(counts), ...);
  }(static_cast<const EventDetail*>(nullptr));
  CHECK(counts.size() >= event_names.size() - 1);  // Lay has its notes beside it
  for (const auto& [name, count] : counts) {
    CAPTURE_BOUND(name);
    CHECK(count.first == count.second);
  }
}

}  // namespace dryclock::wire
