#include <algorithm>
#include <cctype>

#include "pulsewright/roster.hpp"
#include "roster_fields.hpp"

namespace pulsewright {

namespace {

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(c < 0x80 ? std::tolower(c) : c); });
  return text;
}

bool is_letter(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) >= 0x80; }

/// Whether `code` stands in `text` with nothing of a word on either side: p1 is not in p12.
bool holds_word(const std::string& text, const std::string& code) {
  for (std::size_t at = text.find(code); at != std::string::npos; at = text.find(code, at + 1)) {
    const std::size_t end = at + code.size();
    if ((at == 0 || !is_letter(text[at - 1])) && (end == text.size() || !is_letter(text[end]))) return true;
  }
  return false;
}

std::string stem_of(const std::string& file) { return std::filesystem::path(file).stem().string(); }

std::string code_of_name(const std::string& file) {
  std::string code;
  for (const char c : stem_of(file))
    if (fault_of_code(std::string(1, c)).empty()) code += c;
  return code.empty() ? "code" : code;
}

std::string quoted(const std::string& cell) {
  if (cell.find_first_of(",;\"\t") == std::string::npos) return cell;
  std::string text = "\"";
  for (const char c : cell) text += c == '"' ? std::string("\"\"") : std::string(1, c);
  return text + "\"";
}

}  // namespace

std::string sheet_draft(const std::vector<std::string>& files, const Roster& roster) {
  std::string draft = "code,file,file_begins,rate_hz,activity,exertion,laps\n";
  std::vector<std::string> used;
  for (const std::string& file : files) {
    const auto person = std::find_if(roster.people.begin(), roster.people.end(), [&](const Person& p) {
      return holds_word(lower(stem_of(file)), lower(p.code));
    });
    const std::string code = person != roster.people.end() ? person->code : code_of_name(file);
    used.push_back(code);
    draft += code + "," + quoted(file) + ",,,,,\n";
  }
  for (const Person& person : roster.people)
    if (std::find(used.begin(), used.end(), person.code) == used.end())
      draft += "# " + person.code + ": in the roster, and no file is named for this code\n";
  return draft;
}

}  // namespace pulsewright
