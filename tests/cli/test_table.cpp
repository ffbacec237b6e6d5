#include "cli/table.hpp"

#include <doctest/doctest.h>

using dryclock::cli::named_lines;
using dryclock::cli::one_line;
using dryclock::cli::padded;
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

TEST_CASE("a cell stays on its line, whatever somebody typed or a device sent") {
  CHECK(one_line("21.5\r\n") == "21.5  ");
  CHECK(one_line("Größe") == "Größe");
  Table table({"topic", "payload"});
  table.row({"a", "{\n\t\"t\": 1\x1b[2J\x7f}"});
  CHECK(table.text(0) ==
        "topic  payload\n"
        "a      {  \"t\": 1 [2J }\n");
}

TEST_CASE("columns of numbers end below each other") {
  Table table({"über", "y"}, Table::Align::right);
  table.row({"1,5", "10"});
  CHECK(table.text(0) == "über   y\n 1,5  10\n");
}

TEST_CASE("names and what they are: one column, as wide as asked for or wider, further lines below it") {
  CHECK(padded("Maß", 5) == "Maß  ");
  CHECK(padded("Messung", 5) == "Messung");
  CHECK(named_lines({{"a", "1"}, {"Größe", "2\n3"}}, 1, 4) == " a      1\n Größe  2\n        3\n");
  CHECK(named_lines({{"a", "1"}}, 0, 4) == "a   1\n");
}
