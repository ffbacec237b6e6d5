#include "rules/tree.hpp"

#include <array>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <memory>
#include <sstream>
#include <stdexcept>

namespace dryclock::rules {
namespace {

struct ClosePipe {
  void operator()(std::FILE* pipe) const { pclose(pipe); }
};

std::string output_of(const std::string& command) {
  const std::unique_ptr<std::FILE, ClosePipe> pipe{popen(command.c_str(), "r")};
  std::string output;
  std::array<char, 4096> part{};
  while (pipe) {
    const auto got = std::fread(part.data(), 1, part.size(), pipe.get());
    if (got == 0) {
      break;
    }
    output.append(part.data(), got);
  }
  return output;
}

}  // namespace

std::string joined(const Violations& violations) {
  std::string text;
  for (const auto& violation : violations) {
    text += violation + "\n";
  }
  return text;
}

Tree tracked_files(const std::filesystem::path& top) {
  // Zero bytes part the paths: a path may hold anything else.
  std::istringstream paths{output_of("git -C '" + top.string() + "' ls-files -z")};
  Tree tree;
  for (std::string path; std::getline(paths, path, '\0');) {
    std::ifstream file{top / path, std::ios::binary};
    if (file) {  // else: deleted, and not yet committed
      std::ostringstream text;
      text << file.rdbuf();
      tree[path] = std::move(text).str();
    }
  }
  if (tree.empty()) {
    throw std::runtime_error("git knows no file below " + top.string());
  }
  return tree;
}

const std::string& text_of(const Tree& tree, const std::string& path) {
  const auto found = tree.find(path);
  if (found == tree.end()) {
    throw std::runtime_error("not in the repository: " + path);
  }
  return found->second;
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const auto end = text.find('\n');
    lines.push_back(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return lines;
}

std::vector<std::string> words_of(std::string_view line) {
  std::istringstream in{std::string{line}};
  return {std::istream_iterator<std::string>{in}, {}};
}

}  // namespace dryclock::rules
