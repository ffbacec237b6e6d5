#include "wire/setup_json.hpp"

#include "domain/setup_fields.hpp"
#include "wire/field_reader.hpp"
#include "wire/field_writer.hpp"

namespace dryclock::wire {

std::string to_json(const Configured& configured) {
  return written(configured);
}

std::string to_json(const Setup& setup) {
  return written(setup);
}

std::string to_json(const Redated& redated) {
  return written(redated);
}

Result<Configured> read_configured(std::string_view text) {
  return read_as<Configured>(Form::row, text);
}

Result<Redated> read_redated(std::string_view text) {
  auto told = read_as<Redated>(Form::row, text);
  if (told && told->boot.empty()) {
    return Problem{"must name a boot", "/boot"};
  }
  return told;
}

}  // namespace dryclock::wire
