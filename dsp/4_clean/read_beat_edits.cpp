#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <fstream>

#include "pulsewright/beat_edits.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {

namespace {

constexpr std::array columns{"action", "time_s", "to_s", "label", "author", "made_at", "reason"};
constexpr EditAction actions[] = {EditAction::add, EditAction::remove, EditAction::move, EditAction::relabel,
                                  EditAction::keep};
constexpr BeatLabel labels[] = {BeatLabel::unlabelled,    BeatLabel::normal, BeatLabel::supraventricular,
                                BeatLabel::ventricular,   BeatLabel::fusion, BeatLabel::paced,
                                BeatLabel::unclassifiable};

/// Cells of a line of RFC 4180 whose quoted cells do not run over lines.
std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      cells.back().push_back('"');
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      cells.emplace_back();
    } else if (c != '\r') {
      cells.back().push_back(c);
    }
  }
  return cells;
}

/// One line of a file, with what to call it when it is refused.
struct Line {
  std::string place;
  std::array<std::string, columns.size()> cells;

  [[noreturn]] void refuse(const std::string& why) const {
    throw Error{ErrorCode::unreadable, fmt::format("{}: {}", place, why)};
  }
  [[nodiscard]] std::optional<Seconds> time(std::size_t column) const {
    const std::string& text = cells[column];
    if (text.empty()) return std::nullopt;
    double value = 0;
    const auto [end, failure] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (failure != std::errc{} || end != text.data() + text.size() || !std::isfinite(value) || value < 0.0)
      refuse(fmt::format("{} '{}' is not a time in seconds from 0 on", columns[column], text));
    return Seconds{value};
  }
};

BeatEdit edit_of(const Line& line) {
  BeatEdit edit;
  const auto action =
      std::find_if(std::begin(actions), std::end(actions), [&](EditAction a) { return line.cells[0] == to_string(a); });
  if (action == std::end(actions))
    line.refuse(fmt::format("action '{}' is none of add, remove, move, relabel, keep", line.cells[0]));
  edit.action = *action;
  const std::optional<Seconds> time = line.time(1);
  if (!time) line.refuse("time_s is empty");
  edit.time = *time;
  edit.to = line.time(2);
  if (edit.action == EditAction::move && !edit.to) line.refuse("a move needs to_s, the right place");
  if (!line.cells[3].empty()) {
    const auto label =
        std::find_if(std::begin(labels), std::end(labels), [&](BeatLabel l) { return line.cells[3] == to_string(l); });
    if (label == std::end(labels)) line.refuse(fmt::format("label '{}' is not known", line.cells[3]));
    edit.label = *label;
  } else if (edit.action == EditAction::relabel) {
    line.refuse("a relabel needs a label");
  }
  edit.author = line.cells[4];
  edit.made_at = line.cells[5];
  edit.reason = line.cells[6];
  if (edit.author.empty() || edit.reason.empty()) line.refuse("an edit needs an author and a reason");
  return edit;
}

std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string result = "\"";
  for (const char c : text) {
    if (c == '"') result.push_back('"');
    result.push_back(c == '\n' || c == '\r' ? ' ' : c);
  }
  return result + '"';
}

}  // namespace

const char* to_string(EditAction action) {
  switch (action) {
    case EditAction::add: return "add";
    case EditAction::remove: return "remove";
    case EditAction::move: return "move";
    case EditAction::relabel: return "relabel";
    case EditAction::keep: return "keep";
  }
  return "";
}

std::vector<BeatEdit> read_beat_edits(const std::filesystem::path& path) {
  const std::string name = path.string();
  std::ifstream file(path, std::ios::binary);
  if (!file) throw Error{ErrorCode::unreadable, name + ": cannot be opened"};
  std::vector<BeatEdit> edits;
  std::array<std::optional<std::size_t>, columns.size()> place;
  bool headed = false;
  std::string text;
  for (int number = 1; std::getline(file, text); ++number) {
    if (!text.empty() && text.back() == '\r') text.pop_back();
    if (text.empty() || text.front() == '#') continue;
    const std::vector<std::string> cells = cells_of(text);
    Line line{fmt::format("{}, line {}", name, number), {}};
    if (!headed) {
      for (std::size_t k = 0; k < columns.size(); ++k) {
        const auto found = std::find(cells.begin(), cells.end(), columns[k]);
        if (found == cells.end())
          line.refuse(fmt::format("the header of a file of edits has no column {}", columns[k]));
        place[k] = static_cast<std::size_t>(found - cells.begin());
      }
      headed = true;
      continue;
    }
    for (std::size_t k = 0; k < columns.size(); ++k)
      if (*place[k] < cells.size()) line.cells[k] = cells[*place[k]];
    edits.push_back(edit_of(line));
  }
  if (!headed) throw Error{ErrorCode::unreadable, name + ": empty; a file of edits begins with a header"};
  return edits;
}

std::string beat_edits_csv(std::span<const BeatEdit> edits) {
  std::string bytes = "action,time_s,to_s,label,author,made_at,reason\n";
  for (const BeatEdit& edit : edits) {
    const bool labelled = edit.label != BeatLabel::unlabelled || edit.action == EditAction::relabel;
    bytes += fmt::format("{},{:.6f},{},{},{},{},{}\n", to_string(edit.action), edit.time.value(),
                         edit.to ? fmt::format("{:.6f}", edit.to->value()) : "", labelled ? to_string(edit.label) : "",
                         quoted(edit.author), quoted(edit.made_at), quoted(edit.reason));
  }
  return bytes;
}

}  // namespace pulsewright
