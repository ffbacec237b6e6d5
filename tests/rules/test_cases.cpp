#include "rules/test_cases.hpp"

#include <algorithm>
#include <cctype>
#include <regex>

namespace dryclock::rules {
namespace {

enum class TokenKind { word, literal, sign };
struct Token {
  TokenKind kind = TokenKind::sign;
  std::string text;  // a literal's without its quotes
};

bool is_word_char(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

// Position after the literal that opens at `at`; its text goes to `inside`.
std::size_t read_literal(std::string_view source, std::size_t at, std::string& inside) {
  const char quote = source[at++];
  while (at < source.size() && source[at] != quote) {
    if (source[at] == '\\' && at + 1 < source.size()) {
      ++at;
    }
    inside += source[at++];
  }
  return at + 1;
}

std::size_t read_raw_literal(std::string_view source, std::size_t at, std::string& inside) {
  const auto open = source.find('(', at);
  if (open == std::string_view::npos) {
    return source.size();
  }
  const auto close_mark = ")" + std::string{source.substr(at + 1, open - at - 1)} + "\"";
  const auto close = std::min(source.find(close_mark, open), source.size());
  inside = source.substr(open + 1, close - open - 1);
  return close + close_mark.size();
}

// Words, literals and single signs; comments are left out.
std::vector<Token> tokens_of(std::string_view source) {
  std::vector<Token> tokens;
  for (std::size_t at = 0; at < source.size();) {
    const auto rest = source.substr(at);
    if (rest.starts_with("//")) {
      at = std::min(source.find('\n', at), source.size());
    } else if (rest.starts_with("/*")) {
      const auto end = source.find("*/", at + 2);
      at = end == std::string_view::npos ? source.size() : end + 2;
    } else if (rest.starts_with("R\"")) {
      Token token{TokenKind::literal, {}};
      at = read_raw_literal(source, at + 1, token.text);
      tokens.push_back(token);
    } else if (rest.front() == '"' || rest.front() == '\'') {
      Token token{TokenKind::literal, {}};
      at = read_literal(source, at, token.text);
      tokens.push_back(token);
    } else if (is_word_char(rest.front())) {
      // The quotes inside 1'000 belong to the number.
      const bool number = std::isdigit(static_cast<unsigned char>(rest.front())) != 0;
      const auto end = std::find_if_not(rest.begin(), rest.end(),
                                        [&](char c) { return is_word_char(c) || (number && c == '\''); });
      tokens.push_back({TokenKind::word, std::string{rest.begin(), end}});
      at += static_cast<std::size_t>(end - rest.begin());
    } else {
      if (std::isspace(static_cast<unsigned char>(rest.front())) == 0) {
        tokens.push_back({TokenKind::sign, std::string{rest.front()}});
      }
      ++at;
    }
  }
  return tokens;
}

// The literals that follow "NAME (", joined.
std::string argument_after(const std::vector<Token>& tokens, std::size_t macro) {
  std::string argument;
  for (auto i = macro + 2; i < tokens.size() && tokens[i].kind == TokenKind::literal; ++i) {
    argument += tokens[i].text;
  }
  return argument;
}

}  // namespace

std::vector<TestCase> test_cases_in(std::string_view source) {
  const auto tokens = tokens_of(source);
  std::vector<TestCase> cases;
  std::string suite;
  int suite_depth = -1;  // of the braces around TEST_SUITE(...){...}; -1: in none
  int depth = 0;
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const auto& [kind, text] = tokens[i];
    if (kind == TokenKind::sign) {
      depth += text == "{" ? 1 : text == "}" ? -1 : 0;
      if (text == "}" && suite_depth == depth) {
        suite.clear();
        suite_depth = -1;
      }
    } else if (kind == TokenKind::word && text == "TEST_SUITE") {
      suite = argument_after(tokens, i);
      suite_depth = depth;
    } else if (kind == TokenKind::word && text == "TEST_SUITE_BEGIN") {
      suite = argument_after(tokens, i);
    } else if (kind == TokenKind::word && text == "TEST_SUITE_END") {
      suite.clear();
    } else if (kind == TokenKind::word && text.starts_with("TEST_CASE")) {
      cases.push_back({suite, argument_after(tokens, i)});
    }
  }
  return cases;
}

std::vector<std::string> source_keys_in(std::string_view name) {
  static const std::regex key{R"(\[([^\[\]:]+): [^\[\]]+\])"};
  std::vector<std::string> keys;
  const std::string text{name};
  for (std::sregex_iterator match{text.begin(), text.end(), key}, end; match != end; ++match) {
    keys.push_back((*match)[1]);
  }
  return keys;
}

}  // namespace dryclock::rules
