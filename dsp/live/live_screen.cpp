#include "pulsewright/live_screen.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "large_digits.hpp"
#include "pulsewright/report.hpp"
#include "trace_rows.hpp"

namespace pulsewright {
namespace {

constexpr std::size_t notes_shown = 2;
/// Room beside the large digits for words.
constexpr std::size_t digits_width = 3 * 8 + 4;

std::string ascii(std::string text) {
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) > 0x7E) c = '?';
  return text;
}

/// A text in lines of at most `columns`, broken at blanks where that is possible, those after the
/// first indented.
void add_wrapped(const std::string& first, std::string_view rest, std::size_t columns,
                 std::vector<std::string>& lines) {
  std::string line = first;
  const std::string indent(first.size(), ' ');
  const std::size_t room = std::max<std::size_t>(columns, first.size() + 8);
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find(' '), rest.size());
    const std::string_view word = rest.substr(0, end);
    if (line.size() > first.size() && line.size() + 1 + word.size() > room) {
      lines.push_back(line);
      line = indent;
    }
    if (line.size() > first.size()) line += ' ';
    line += word;
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  lines.push_back(line);
}

const std::optional<BeatsPerMinute>* rate_of(const LiveGlance& person) {
  return person.second && !person.silent && person.second->window.rate ? &person.second->window.rate : nullptr;
}

std::string advice_of(const LiveGlance& person) {
  if (person.silent) return advice_text(SignalAdvice::nothing_comes, person.kind);
  if (!person.second) return advice_text(SignalAdvice::looking, person.kind);
  return advice_text(person.second->advice, person.kind);
}

/// `below target`, `in target`; with a word where the interval leaves it open.
std::string target_words(const LiveGlance& person) {
  const RateWindow& window = person.second->window;
  const TargetState state = person.standing->state_of(*window.rate);
  if (state == TargetState::unknown) return "";
  return fmt::format("{}{} target", person.standing->sure_of(window) ? "" : "about ", to_string(state));
}

std::string reserve_words(const LiveGlance& person) {
  const auto share = person.standing->reserve_percent(*person.second->window.rate);
  return share ? fmt::format("{:.0f} % of reserve", *share) : "";
}

std::vector<std::string> words_beside(const LiveGlance& person) {
  std::vector<std::string> words{"beats/min"};
  const auto* rate = rate_of(person);
  if (rate != nullptr) {
    words.push_back(fmt::format("95 % sure: {} to {}", whole_beats(*person.second->window.low),
                                whole_beats(*person.second->window.high)));
    words.push_back(target_words(person));
    words.push_back(reserve_words(person));
  } else {
    words.emplace_back("no rate yet that can be trusted");
    words.resize(4);
  }
  const auto& target = person.standing->target();
  words.push_back(target ? fmt::format("target {} to {}", whole_beats(target->low), whole_beats(target->high)) : "");
  return words;
}

void add_one_person(const LiveGlance& person, std::size_t columns, std::size_t rows, std::vector<std::string>& lines) {
  const auto* rate = rate_of(person);
  const auto digits = live_stage::large_digits(rate != nullptr ? fmt::format("{:>3}", whole_beats(**rate)) : "---");
  const auto words = words_beside(person);
  for (std::size_t r = 0; r < digits.size(); ++r)
    lines.push_back(fmt::format("  {:<{}}{}", digits[r], digits_width - 2, words[r]));
  lines.emplace_back();
  lines.push_back("  signal: " + advice_of(person));
  if (rows < lines.size() + 4) return;
  const auto trace = live_stage::trace_rows(person, columns, std::min<std::size_t>(rows - lines.size() - 1, 24));
  lines.insert(lines.end(), trace.begin(), trace.end());
}

/// More people than lines: several side by side, with what fits of each.
void add_crowd(const LiveScreen& screen, std::size_t columns, std::size_t room, std::vector<std::string>& lines) {
  constexpr std::size_t cell = 26;
  const std::size_t across = std::max<std::size_t>(1, columns / cell);
  const std::size_t down = std::min((screen.people.size() + across - 1) / across, room);
  if (down == 0) return;
  for (std::size_t r = 0; r < down; ++r) {
    std::string line;
    for (std::size_t i = r; i < std::min(screen.people.size(), across * down); i += down) {
      const LiveGlance& person = screen.people[i];
      const auto* rate = rate_of(person);
      line += fmt::format("  {:<8.8} {:>3} {:<11.11}", person.code,
                          rate != nullptr ? fmt::format("{}", whole_beats(**rate)) : "-",
                          rate != nullptr ? to_string(person.standing->state_of(**rate)) : advice_of(person));
    }
    lines.push_back(line);
  }
  if (across * down < screen.people.size())
    lines.back() =
        fmt::format("  and {} more: make the window larger", screen.people.size() - (across * down - across));
}

void add_people(const LiveScreen& screen, std::size_t columns, std::size_t room, std::vector<std::string>& lines) {
  if (lines.size() + 1 + screen.people.size() > room) {
    add_crowd(screen, columns, room - std::min(room, lines.size()), lines);
    return;
  }
  const bool wide = columns >= 76;
  lines.push_back(wide ? "  code        beats/min   95 %        target          reserve  signal"
                       : "  code        beats/min  signal");
  for (const LiveGlance& person : screen.people) {
    const auto* rate = rate_of(person);
    std::string line =
        fmt::format("  {:<10.10}  {:>9}", person.code, rate != nullptr ? fmt::format("{}", whole_beats(**rate)) : "-");
    if (wide) {
      const std::string range = rate != nullptr ? fmt::format("{} to {}", whole_beats(*person.second->window.low),
                                                              whole_beats(*person.second->window.high))
                                                : "";
      const auto share = rate != nullptr ? person.standing->reserve_percent(**rate) : std::nullopt;
      line += fmt::format("   {:<10}  {:<14}  {:>7}  ", range, rate != nullptr ? target_words(person) : "",
                          share ? fmt::format("{:.0f} %", *share) : "");
    } else {
      line += "  ";
    }
    lines.push_back(line + advice_of(person));
  }
}

}  // namespace

std::vector<std::string> live_screen(const LiveScreen& screen, std::size_t columns, std::size_t rows) {
  std::vector<std::string> lines;
  std::string head = "  ";
  if (screen.people.size() == 1) head += screen.people[0].code + "   ";
  head += format_clock(screen.elapsed);
  if (!screen.phase.empty()) head += "   " + screen.phase;
  lines.push_back(head);
  add_wrapped("  ", screen.prompt, columns, lines);

  std::vector<std::string> foot;
  const std::size_t first = screen.notes.size() - std::min(notes_shown, screen.notes.size());
  for (std::size_t i = first; i < screen.notes.size(); ++i) add_wrapped("  * ", screen.notes[i], columns, foot);
  const std::size_t most_foot = 1 + rows / 4;
  if (foot.size() > most_foot) foot.resize(most_foot);
  foot.push_back(screen.typed.empty() ? "  q and Enter: end" : "  > " + screen.typed);

  const std::size_t room = rows > foot.size() ? rows - foot.size() : 0;
  if (screen.people.size() == 1) {
    add_one_person(screen.people[0], columns, room, lines);
  } else {
    add_people(screen, columns, room, lines);
  }
  lines.resize(std::min(lines.size(), room));
  if (lines.size() < room) lines.resize(room);
  lines.insert(lines.end(), foot.begin(), foot.end());
  lines.resize(std::min(lines.size(), rows));
  for (std::string& line : lines) {
    line = ascii(line.substr(0, columns));
    line.erase(line.find_last_not_of(' ') + 1);
  }
  return lines;
}

}  // namespace pulsewright
