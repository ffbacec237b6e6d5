// How the fields of a shape are listed: once, beside it. Whoever writes it, reads it or describes it walks
// that list:
//   void visit_fields(auto& f, Of<Wheel> auto& s) {
//     f.type("Wheel", "it turns");                          // its name in the API, and what it is
//     f("spokes", s.spokes, Bounds{3, 99}, "of steel");     // always there; what is known of it beside
//     f.optional("hub", s.hub);                             // who sends one may leave it out
//     f.flat(s.tyre);                                       // the fields of this one stand beside them
//     f.apart("owner", "a name");                           // sent with it and kept elsewhere: a text
//   }
#pragma once

#include <cstddef>
#include <string>
#include <type_traits>

namespace dryclock {

// `s` is const for the writer.
template <class Given, class Wanted>
concept Of = std::is_same_v<std::remove_const_t<Given>, Wanted>;

// The part of `s` that it inherits, as const as it is.
template <class Base>
[[nodiscard]] auto& inherited(auto& s) {
  using Const = std::conditional_t<std::is_const_v<std::remove_reference_t<decltype(s)>>, const Base, Base>;
  return static_cast<Const&>(s);
}

struct Bounds {  // of a number, both included
  double least, most;
};
inline constexpr Bounds chance{0.0, 1.0};
struct AtLeast {  // of a whole number
  int least;
};
inline constexpr AtLeast numbered{1};  // by the journal's rows
struct Sizes {                         // of a list, both included
  std::size_t least, most;
};
struct OrNull {};  // a number that may be NaN, which is null
inline constexpr OrNull or_null;
template <class... Enumerations>
struct By {};  // an array, or an array of arrays: an object by the words of the enumerations that index it
template <class... Enumerations>
inline constexpr By<Enumerations...> by;
struct Flags {};  // models::Validity as a list of words
inline constexpr Flags flags;
inline constexpr std::size_t longest_apart = 200;  // bytes of a text that is kept elsewhere
struct MadeByDaemon {};                            // nobody may send it
inline constexpr MadeByDaemon made_by_daemon;

// Shapes of which what may be left out is left out wherever they are written, where it is at its default.
template <class T>
inline constexpr bool written_brief = false;

}  // namespace dryclock
