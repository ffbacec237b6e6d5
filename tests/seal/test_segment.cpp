#include <doctest/doctest.h>

#include "seal/segment.hpp"

namespace dryclock::seal {

TEST_CASE("a segment's row numbers") {
  CHECK(seqs_of_segment("{\"seq\":3,\"x\":1}\n{\"seq\":9,\"x\":1}\n").value() == std::vector<Seq>{3, 9});
  CHECK(seqs_of_segment("").value().empty());
  CHECK(seqs_of_segment("{\"seq\":9}\n{\"seq\":3}\n").error().what == "row 3 stands after row 9");
  CHECK(!seqs_of_segment("{\"seq\":3}\n{\"seq\":3}\n").has_value());
  CHECK(!seqs_of_segment("{\"seq\":3}").has_value());  // cut off
  CHECK(!seqs_of_segment("{\"sea\":3}\n").has_value());
}

}  // namespace dryclock::seal
