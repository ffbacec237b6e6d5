// CAPTURE for a structured binding: clang 14 takes none into the lambda that doctest makes.
#pragma once

#include <doctest/doctest.h>

#define CAPTURE_BOUND(name)        \
  const auto& bound_##name = name; \
  CAPTURE(bound_##name)
