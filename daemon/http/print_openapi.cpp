// Prints the API's description: the page's types are made of it while it is built.
#include <cstdio>

#include "http/openapi.hpp"

int main() {
  return std::puts(dryclock::http::openapi_json().c_str()) < 0 ? 1 : 0;
}
