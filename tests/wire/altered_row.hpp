// A row as it is kept, with one thing in it altered.
#pragma once

#include <doctest/doctest.h>

#include <string>

namespace dryclock::wire {

// Where `read` says that something is wrong in the row once `from` stands in it as `to`; empty: it was read.
template <class Read>
std::string wrong_where(std::string row, const std::string& from, const std::string& to, Read read) {
  const auto found = row.find(from);
  REQUIRE(found != std::string::npos);
  const auto told = read(row.replace(found, from.size(), to));
  return told ? "" : told.error().where;
}

}  // namespace dryclock::wire
