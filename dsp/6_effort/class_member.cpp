#include <algorithm>

#include "class_parts.hpp"

namespace pulsewright {

namespace {

/// Marks whose times count from the start of a file, for the stretch that begins at `start`.
std::vector<PhaseMark> marks_from(const std::vector<PhaseMark>& marks, Seconds start) {
  std::vector<PhaseMark> kept;
  for (PhaseMark mark : marks) {
    mark.time = mark.time - start;
    if (mark.time.value() <= 0.0 && !kept.empty()) kept.pop_back();  // the last one before holds at the start
    mark.time = std::max(mark.time, Seconds{0.0});
    kept.push_back(std::move(mark));
  }
  return kept;
}

}  // namespace

ClassMember class_member(const SheetEntry& entry, const RateSeries& file_rates,
                         const std::optional<std::string>& clock_start, const Person& person,
                         const std::vector<PhaseMark>& marks, const SessionOptions& options) {
  ClassMember member;
  member.entry = entry;
  const OpenSpan stretch = stretch_of(entry, clock_start);
  const Seconds start = stretch.start.value_or(Seconds{0.0});
  member.rates = rates_between(file_rates, stretch.start, stretch.end);
  member.content = file_rates.provenance.sha256;
  if (const auto begins = begins_at(entry, clock_start)) member.begins_s = *begins + start.value();
  constexpr std::size_t date_length = 10;  // yyyy-mm-dd
  if (clock_start && clock_start->size() > date_length && (*clock_start)[4] == '-')
    member.date = clock_start->substr(0, date_length);
  SessionOptions asked = options;
  asked.effort.resting_from_session = false;
  asked.activity = entry.activity;
  asked.exertion = entry.exertion;
  if (!marks.empty()) asked.marks = marks_from(marks, start);
  member.session = study_session(member.rates, person, asked);
  return member;
}

}  // namespace pulsewright
