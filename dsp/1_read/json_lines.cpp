#include "json_lines.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "number_text.hpp"
#include "text_cell.hpp"

namespace pulsewright::reading {

namespace {

/// What is looked at to tell the form and the keys.
constexpr std::size_t looked_at_lines = 50;
constexpr std::size_t looked_at_bytes = std::size_t{1} << 18;

struct Pair {
  std::string key;
  std::string cell;
};

/// Takes the pairs of an object without nesting off a line.
class FlatObject {
 public:
  explicit FlatObject(std::string_view line) : rest_(trimmed(line)) {}

  std::optional<std::vector<Pair>> pairs() {
    std::vector<Pair> pairs;
    if (!take('{')) return std::nullopt;
    if (take('}')) return ended(std::move(pairs));
    do {
      Pair pair;
      if (!take_text(pair.key) || !take(':') || !take_value(pair.cell)) return std::nullopt;
      pairs.push_back(std::move(pair));
    } while (take(','));
    if (!take('}')) return std::nullopt;
    return ended(std::move(pairs));
  }

 private:
  std::optional<std::vector<Pair>> ended(std::vector<Pair> pairs) const {
    if (!trimmed(rest_).empty()) return std::nullopt;
    return pairs;
  }

  bool take(char mark) {
    rest_ = trimmed(rest_);
    if (!rest_.starts_with(mark)) return false;
    rest_.remove_prefix(1);
    return true;
  }

  /// A text in quotes; of escapes, those of one character are known.
  bool take_text(std::string& text) {
    if (!take('"')) return false;
    for (std::size_t i = 0; i < rest_.size(); ++i) {
      if (rest_[i] == '"') {
        rest_.remove_prefix(i + 1);
        return true;
      }
      if (rest_[i] == '\\' && ++i == rest_.size()) return false;
      text += rest_[i];
    }
    return false;
  }

  bool take_value(std::string& cell) {
    rest_ = trimmed(rest_);
    if (rest_.starts_with('"')) {
      if (!take_text(cell)) return false;
      std::replace_if(
          cell.begin(), cell.end(), [](char c) { return c == ',' || c == '"'; }, ' ');
      return true;
    }
    const std::string_view word = rest_.substr(0, rest_.find_first_of(",} \t"));
    const bool known = word == "true" || word == "false" || word == "null" || whole_number(word);
    if (!known) return false;
    if (word != "null") cell = word;
    rest_.remove_prefix(word.size());
    return true;
  }

  std::string_view rest_;
};

/// The keys of the first lines, in the order in which they come up; nothing when these are no objects.
std::optional<std::vector<std::string>> keys_of(std::string_view text) {
  text = text.substr(0, looked_at_bytes);
  std::size_t lines = 0, objects = 0;
  std::vector<std::string> keys;
  while (!text.empty() && lines < looked_at_lines) {
    const std::string_view line = take_line(text);
    if (trimmed(line).empty() || is_comment(line)) continue;
    if (++lines == 1 && !trimmed(line).starts_with('{')) return std::nullopt;
    const auto pairs = FlatObject{line}.pairs();
    if (!pairs) continue;
    ++objects;
    for (const Pair& pair : *pairs)
      if (std::find(keys.begin(), keys.end(), pair.key) == keys.end()) keys.push_back(pair.key);
  }
  if (keys.empty() || 2 * objects < lines) return std::nullopt;
  return keys;
}

}  // namespace

bool has_json_lines(std::string_view beginning) { return keys_of(beginning).has_value(); }

PlainRows rows_of_json_lines(std::string_view text) {
  PlainRows rows;
  const std::vector<std::string> keys = keys_of(text).value_or(std::vector<std::string>{});
  for (const std::string& key : keys) rows.names.push_back(column_name(key));
  rows.text.reserve(text.size());
  std::vector<std::string> cells(keys.size());
  while (!text.empty()) {
    const std::size_t length = std::min(text.find('\n'), text.size());
    const std::string_view line = text.substr(0, length);
    const auto pairs = is_comment(line) ? std::nullopt : FlatObject{line}.pairs();
    bool known = pairs.has_value();
    std::fill(cells.begin(), cells.end(), std::string{});
    for (std::size_t i = 0; known && i < pairs->size(); ++i) {
      const auto key = std::find(keys.begin(), keys.end(), (*pairs)[i].key);
      known = key != keys.end();
      if (known) cells[static_cast<std::size_t>(key - keys.begin())] = (*pairs)[i].cell;
    }
    if (!known) {
      rows.text += line;
    } else {
      for (std::size_t k = 0; k < cells.size(); ++k) {
        if (k > 0) rows.text += ',';
        rows.text += cells[k];
      }
    }
    if (length < text.size()) rows.text += '\n';
    text.remove_prefix(std::min(length + 1, text.size()));
  }
  return rows;
}

}  // namespace pulsewright::reading
