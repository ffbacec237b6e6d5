// One table of a file, read key by key. Each call names a key, its bounds and what stands in when it is
// missing; whatever is wrong is added to the problems and the fallback returned, so that reading goes on.
// finish() complains of every key that nobody asked for.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "config/problems.hpp"
#include "config/tree.hpp"
#include "domain/field.hpp"
#include "domain/names.hpp"

namespace dryclock::config {

class Section {
 public:
  // Both outlive the section. A node that is no table is complained of and read as an empty one.
  Section(const Node& node, Problems& problems);

  [[nodiscard]] bool has(std::string_view key) { return find(key) != nullptr; }
  // The key's place in the file, or the table's where it is missing.
  [[nodiscard]] Place place(std::string_view key) const;
  [[nodiscard]] const Place& place() const { return place_; }
  void complain(std::string_view key, const std::string& what) const;
  // Of a key that counts all the same, or of one that has had its day.
  void warn(std::string_view key, const std::string& what) const;

  [[nodiscard]] double number(std::string_view key, double fallback, Bounds bounds);
  [[nodiscard]] std::optional<double> maybe_number(std::string_view key, Bounds bounds);
  [[nodiscard]] double needed_number(std::string_view key, Bounds bounds);
  [[nodiscard]] int whole(std::string_view key, int fallback, int least, int most);
  [[nodiscard]] bool flag(std::string_view key, bool fallback);
  [[nodiscard]] std::string text(std::string_view key, std::string fallback = "");
  // Missing or empty is a problem.
  [[nodiscard]] std::string needed_text(std::string_view key);
  // Its "name": that of a `what`, not among `names` yet; it is then.
  [[nodiscard]] std::string new_name(std::string_view what, std::set<std::string>& names);
  [[nodiscard]] std::vector<std::string> texts(std::string_view key);
  [[nodiscard]] std::vector<double> numbers(std::string_view key, Bounds bounds);
  // Whether a list stands there.
  [[nodiscard]] bool is_list(std::string_view key);
  // One of an enumeration's words.
  template <class E>
  [[nodiscard]] E word(std::string_view key, E fallback) {
    return static_cast<E>(choice(key, static_cast<std::size_t>(fallback), all_words<E>()));
  }
  template <class E>
  [[nodiscard]] E needed_word(std::string_view key) {
    need(key);
    return word<E>(key, E{});
  }
  template <class E>
  [[nodiscard]] std::vector<E> word_list(std::string_view key) {
    std::vector<E> list;
    for (const auto index : choices(key, all_words<E>())) {
      list.push_back(static_cast<E>(index));
    }
    return list;
  }

  // Sub-tables: of one key; of a list of tables ([[name]]).
  [[nodiscard]] std::optional<Section> section(std::string_view key);
  [[nodiscard]] std::vector<Section> list(std::string_view key);

  void need(std::string_view key);
  void finish();

 private:
  template <class E>
  [[nodiscard]] static std::vector<std::string_view> all_words() {
    return {words<E>.begin(), words<E>.end()};
  }
  const Node* find(std::string_view key);
  [[nodiscard]] std::optional<double> number_of(const Node& node, std::string_view name, Bounds bounds);
  [[nodiscard]] std::optional<std::size_t> choice_of(const Node& node, std::string_view name,
                                                     const std::vector<std::string_view>& of);
  [[nodiscard]] std::size_t choice(std::string_view key, std::size_t fallback,
                                   const std::vector<std::string_view>& of);
  [[nodiscard]] std::vector<std::size_t> choices(std::string_view key,
                                                 const std::vector<std::string_view>& of);
  void wrong_type(const Node& node, std::string_view name, std::string_view expected);

  const Table* table_;
  Place place_;
  Problems* problems_;
  std::vector<std::string> asked_;
};

}  // namespace dryclock::config
