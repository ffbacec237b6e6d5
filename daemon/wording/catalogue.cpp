#include "wording/catalogue.hpp"

#include <fmt/format.h>

#include <boost/json/parse.hpp>
#include <stdexcept>
#include <vector>

namespace dryclock::wording {
namespace {

namespace json = boost::json;

struct File {
  std::string_view name;
  std::vector<unsigned char> bytes;
};

// In the order of their names.
const std::vector<File>& files() {
  static const std::vector<File> all{
#include "messages.inc"
  };
  return all;
}

// The names of a language's forms, the one that is wanted first.
std::vector<std::string_view> forms_of(Language language) {
  switch (language) {
    case Language::english_us:
      return {"en-US", "en"};
    case Language::german:
      return {"de"};
    case Language::english_uk:
      break;
  }
  return {"en"};
}

std::string pattern_of(const json::value& forms, Language language, const std::string& key) {
  for (const auto& form : forms_of(language)) {
    if (const auto* text = forms.as_object().if_contains(form)) {
      return std::string{text->as_string()};
    }
  }
  throw std::runtime_error(fmt::format("message {} has no {}", key, forms_of(language).front()));
}

}  // namespace

Patterns patterns(Language language) {
  Patterns all;
  for (const auto& file : files()) {
    const auto parsed =
        json::parse({reinterpret_cast<const char*>(file.bytes.data()), file.bytes.size()});  // NOLINT
    for (const auto& [name, forms] : parsed.as_object()) {
      const auto key = fmt::format("{}.{}", file.name, std::string_view{name});
      all.emplace(key, pattern_of(forms, language, key));
    }
  }
  return all;
}

}  // namespace dryclock::wording
