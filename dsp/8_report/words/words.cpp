#include "words.hpp"

#include <algorithm>

#include "8_report/embedded_text.hpp"

namespace pulsewright {
namespace {

struct LanguageFile {
  Language language;
  const char* tag;
  const char* file;
};

constexpr LanguageFile files[] = {
    {Language::english, "en", "en.txt"}, {Language::german, "de", "de.txt"}, {Language::spanish, "es", "es.txt"}};

const LanguageFile& file_of(Language language) {
  for (const LanguageFile& file : files)
    if (file.language == language) return file;
  throw Error(ErrorCode::contract, "no words for language number " + std::to_string(static_cast<int>(language)));
}

}  // namespace

std::optional<Language> language_of(std::string_view tag) {
  for (const LanguageFile& file : files)
    if (tag == file.tag) return file.language;
  return std::nullopt;
}

Words::Words(Language language)
    : language_(language), numbers_(spreadsheet_style(file_of(language).tag).value_or(NumberStyle{})) {
  const EmbeddedText& file = embedded_text(file_of(language).file);
  std::string_view rest = file.text;
  while (!rest.empty()) {
    const std::string_view line = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(rest.size(), line.size() + 1));
    if (line.empty() || line.front() == '#') continue;
    const std::size_t mark = line.find(" = ");
    if (mark == std::string_view::npos || mark == 0)
      throw Error(ErrorCode::contract, std::string(file.name) + ": no `key = text`: " + std::string(line));
    texts_.emplace(line.substr(0, mark), line.substr(mark + 3));
  }
}

const char* Words::tag() const { return file_of(language_).tag; }

const std::string& Words::operator()(std::string_view key) const {
  const auto found = texts_.find(key);
  if (found == texts_.end())
    throw Error(ErrorCode::contract, std::string(file_of(language_).file) + " has no text for " + std::string(key));
  return found->second;
}

std::vector<Words::Part> Words::parts(std::string_view key) const {
  std::vector<Part> parts;
  std::string_view rest = (*this)(key);
  while (!rest.empty()) {
    const std::size_t open = rest.find('{');
    const std::size_t close = open == std::string_view::npos ? open : rest.find('}', open);
    if (close == std::string_view::npos) {
      parts.push_back({std::string(rest), false});
      break;
    }
    if (open > 0) parts.push_back({std::string(rest.substr(0, open)), false});
    parts.push_back({std::string(rest.substr(open + 1, close - open - 1)), true});
    rest.remove_prefix(close + 1);
  }
  return parts;
}

std::string Words::operator()(std::string_view key, std::initializer_list<Value> values) const {
  std::string text;
  for (const Part& part : parts(key)) {
    if (!part.is_value) {
      text += part.text;
      continue;
    }
    const auto* value =
        std::find_if(values.begin(), values.end(), [&part](const Value& v) { return part.text == v.name; });
    if (value == values.end())
      throw Error(ErrorCode::contract, std::string(key) + " asks for {" + part.text + "}, which was not given");
    text += value->text;
  }
  return text;
}

std::string Words::number(double value, int decimals) const { return format_number(value, decimals, numbers_); }

std::string Words::count(std::int64_t value) const { return std::to_string(value); }

std::string Words::counted(std::string_view noun, std::int64_t value) const {
  const std::string key = "count." + std::string(noun) + (value == 1 ? ".one" : "");
  return (*this)(key, {{"count", count(value)}});
}

std::string Words::length(Seconds time) const {
  constexpr double minute = 60, hour = 3600, half = 0.5;
  if (time.value() < minute - half) return number(time.value(), 0) + " " + (*this)("unit.s");
  return format_clock(time) + " " + (*this)(time.value() < hour - half ? "unit.min" : "unit.h");
}

}  // namespace pulsewright
