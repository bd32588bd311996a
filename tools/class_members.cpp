#include "class_members.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "pulsewright/error.hpp"
#include "records/beat_list.hpp"
#include "records/session_rates.hpp"
#include "standard_streams.hpp"

namespace pulsewright::program {
namespace {

/// Rates of one file, and when it began.
struct FileRates {
  RateSeries rates;
  std::optional<std::string> clock_start;
};

FileRates rates_of(const SheetEntry& entry, InputFlags input, const StageFlags& stages) {
  input.input = entry.file.string();
  if (!entry.channel.empty()) input.channels = {entry.channel};
  if (holds_rates(entry.file, entry.channel)) return {session_rates(entry.file.string(), entry.channel), std::nullopt};
  if (is_beat_list(entry.file)) {
    input.form = "beats";
    return {analyze_input(input, stages).rates, std::nullopt};
  }
  InputSignals signals;
  const Analysis analysis = analyze_input(input, stages, signals);
  return {analysis.rates, signals.recording->clock_start};
}

/// Marks of a file, whose times count from its start, for the stretch that begins at `start`.
std::vector<PhaseMark> marks_from(const std::filesystem::path& path, Seconds start) {
  std::vector<PhaseMark> marks = read_marks(path), kept;
  for (PhaseMark& mark : marks) {
    mark.time = mark.time - start;
    if (mark.time.value() <= 0.0 && !kept.empty())
      kept.pop_back();  // the last one before the stretch holds at its start
    mark.time = std::max(mark.time, Seconds{0.0});
    kept.push_back(std::move(mark));
  }
  return kept;
}

void study(ClassMember& member, const FileRates& file, const Person& person, const SessionOptions& asked) {
  const SheetEntry& entry = member.entry;
  const OpenSpan stretch = stretch_of(entry, file.clock_start);
  const Seconds start = stretch.start.value_or(Seconds{0.0});
  member.rates = rates_between(file.rates, stretch.start, stretch.end);
  if (const auto begins = begins_at(entry, file.clock_start)) member.begins_s = *begins + start.value();
  SessionOptions options = asked;
  options.activity = entry.activity;
  options.exertion = entry.exertion;
  if (entry.marks) options.marks = marks_from(*entry.marks, start);
  member.session = study_session(member.rates, person, options);
}

}  // namespace

std::vector<ClassMember> class_members(const SessionSheet& sheet, const Roster& roster, const InputFlags& input,
                                       const StageFlags& stages, const SessionFlags& session, Warnings& warnings) {
  const SessionOptions options = session_options(session, effort_options(stages.person));
  std::map<std::pair<std::string, std::string>, FileRates> files;
  std::vector<ClassMember> members;
  for (const SheetEntry& entry : sheet.entries) {
    ClassMember member;
    member.entry = entry;
    Person unknown;
    unknown.code = entry.code;
    const Person* person = roster.find(entry.code);
    if (person == nullptr)
      warnings.push_back({"not_in_roster", "line " + std::to_string(entry.line) +
                                               " of the sheet: nobody in the roster has the code '" + entry.code +
                                               "'; the session is studied without age and resting rate"});
    if (progress_wanted()) talk_progress(entry.code + ": " + entry.file_name);
    try {
      const auto key = std::pair(entry.file.string(), entry.channel);
      auto found = files.find(key);
      if (found == files.end()) found = files.emplace(key, rates_of(entry, input, stages)).first;
      study(member, found->second, person != nullptr ? *person : unknown, options);
    } catch (const Error& error) {
      member.failure = error.what();
    }
    members.push_back(std::move(member));
  }
  if (progress_wanted()) talk_progress("");
  return members;
}

}  // namespace pulsewright::program
