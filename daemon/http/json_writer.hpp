// The writer under this room's name, so that the overloads of write() that stand beside it are found by it.
#pragma once

#include "wire/json_writer.hpp"

namespace dryclock::http {

class JsonWriter : public wire::JsonWriter {};

}  // namespace dryclock::http
