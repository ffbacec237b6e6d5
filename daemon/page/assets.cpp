#include "page/assets.hpp"

#include <array>
#include <cstdint>
#include <string>

namespace dryclock::page {
namespace {

constexpr unsigned char index_html[] = {
#include "index.html.inc"
};
constexpr unsigned char index_html_gz[] = {
#include "index.html.gz.inc"
};
constexpr unsigned char page_js[] = {
#include "page.js.inc"
};
constexpr unsigned char page_js_gz[] = {
#include "page.js.gz.inc"
};
constexpr unsigned char plot_js[] = {
#include "plot.js.inc"
};
constexpr unsigned char plot_js_gz[] = {
#include "plot.js.gz.inc"
};
constexpr unsigned char messages_en_js[] = {
#include "messages_en.js.inc"
};
constexpr unsigned char messages_en_js_gz[] = {
#include "messages_en.js.gz.inc"
};
constexpr unsigned char messages_de_js[] = {
#include "messages_de.js.inc"
};
constexpr unsigned char messages_de_js_gz[] = {
#include "messages_de.js.gz.inc"
};
constexpr unsigned char page_css[] = {
#include "page.css.inc"
};
constexpr unsigned char page_css_gz[] = {
#include "page.css.gz.inc"
};
constexpr unsigned char icon_svg[] = {
#include "icon.svg.inc"
};
constexpr unsigned char icon_svg_gz[] = {
#include "icon.svg.gz.inc"
};
constexpr unsigned char manifest[] = {
#include "manifest.webmanifest.inc"
};
constexpr unsigned char manifest_gz[] = {
#include "manifest.webmanifest.gz.inc"
};

template <std::size_t n>
std::string_view text(const unsigned char (&bytes)[n]) {
  return {reinterpret_cast<const char*>(bytes), n};
}

// FNV-1a, 64 bits: a tag has to differ when the content does, no more.
std::string tag_of(std::string_view content) {
  std::uint64_t hash = 14695981039346656037U;
  for (const char c : content) {
    hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211U;
  }
  return '"' + std::to_string(hash) + '"';
}

}  // namespace

std::span<const http::Asset> assets() {
  static const std::array tags{tag_of(text(index_html)),     tag_of(text(page_js)),
                               tag_of(text(plot_js)),        tag_of(text(messages_en_js)),
                               tag_of(text(messages_de_js)), tag_of(text(page_css)),
                               tag_of(text(icon_svg)),       tag_of(text(manifest))};
  constexpr std::string_view script = "text/javascript; charset=utf-8";
  static const std::array<http::Asset, tags.size()> all{{
      {"/", "text/html; charset=utf-8", tags[0], text(index_html), text(index_html_gz)},
      {"/page.js", script, tags[1], text(page_js), text(page_js_gz)},
      {"/plot.js", script, tags[2], text(plot_js), text(plot_js_gz)},
      {"/messages_en.js", script, tags[3], text(messages_en_js), text(messages_en_js_gz)},
      {"/messages_de.js", script, tags[4], text(messages_de_js), text(messages_de_js_gz)},
      {"/page.css", "text/css; charset=utf-8", tags[5], text(page_css), text(page_css_gz)},
      {"/icon.svg", "image/svg+xml", tags[6], text(icon_svg), text(icon_svg_gz)},
      {"/manifest.webmanifest", "application/manifest+json", tags[7], text(manifest), text(manifest_gz)},
  }};
  return all;
}

}  // namespace dryclock::page
