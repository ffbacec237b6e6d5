#include "cli/table.hpp"

#include <doctest/doctest.h>

using dryclock::cli::Table;

TEST_CASE("columns are as wide as their widest cell, counted in characters") {
  Table table({"a", "name", "x"});
  table.row({"1", "Größe", "y"});
  table.row({"22", "n", ""});
  CHECK(table.text(1) ==
        " a   name   x\n"
        " 1   Größe  y\n"
        " 22  n\n");
  CHECK_FALSE(table.empty());
  CHECK(Table({"a"}).empty());
}
