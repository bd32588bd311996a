#include "number_text.hpp"
#include "text_layout.hpp"

namespace pulsewright::reading {

namespace {

bool is_word_char(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); }

/// Where `word` stands in `line` as a whole word, underscores and brackets being no part of words.
std::size_t find_word(std::string_view line, std::string_view word) {
  for (std::size_t at = line.find(word); at != std::string_view::npos; at = line.find(word, at + 1)) {
    const bool starts = at == 0 || !is_word_char(line[at - 1]);
    const std::size_t end = at + word.size();
    if (starts && (end == line.size() || !is_word_char(line[end]))) return at;
  }
  return std::string_view::npos;
}

/// The first number in `text`, and what follows it.
std::optional<double> first_number(std::string_view text, std::string_view& behind) {
  const std::size_t first = text.find_first_of("0123456789");
  if (first == std::string_view::npos) return std::nullopt;
  std::size_t end = text.find_first_not_of("0123456789.", first);
  if (end == std::string_view::npos) end = text.size();
  behind = trimmed(text.substr(end));
  std::string_view digits = text.substr(first, end - first);
  while (!digits.empty() && digits.back() == '.') digits.remove_suffix(1);
  return whole_number(digits);
}

}  // namespace

std::optional<double> stated_rate_in(std::string_view line) {
  constexpr std::size_t longest = 200;
  if (line.size() > longest) return std::nullopt;
  const std::string lower = lower_case(line);
  const std::string_view text{lower};
  const bool sampling = text.find("sampl") != std::string_view::npos;
  for (const std::string_view word : {"rate", "frequency", "freq", "fs", "sps"}) {
    const std::size_t at = find_word(text, word);
    if (at == std::string_view::npos) continue;
    std::string_view behind;
    const auto value = first_number(text.substr(at + word.size()), behind);
    if (!value || *value <= 0) continue;
    if (!behind.empty() && (behind.front() == ')' || behind.front() == ']')) behind = trimmed(behind.substr(1));
    const std::string_view head = text.substr(at);
    const bool hertz_before = head.find("hz") != std::string_view::npos && head.find("khz") == std::string_view::npos;
    if (behind.starts_with("khz")) return *value * 1000;
    if (behind.starts_with("hz") || behind.starts_with("sps") || behind.starts_with("samples/s")) return value;
    if (sampling || word == "fs" || hertz_before) return value;
  }
  return std::nullopt;
}

}  // namespace pulsewright::reading
