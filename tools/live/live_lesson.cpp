#include "live_lesson.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "pulsewright/report.hpp"

namespace pulsewright::program {
namespace {

/// Beats of a stretch are decided when so much after it has been seen.
constexpr Seconds decided_after{2.0};

std::string bpm_words(const RateWindow& window) {
  return fmt::format("{} beats/min (95 % sure: {} to {})", whole_beats(*window.rate), whole_beats(*window.low),
                     whole_beats(*window.high));
}

}  // namespace

LiveLesson::LiveLesson(const LessonOptions& options, std::size_t people)
    : options_(options), course_(options), members_(people) {}

void LiveLesson::take(std::size_t person, const LiveEvent& event) { members_[person].person.take(event); }

void LiveLesson::begin_step(const LessonStep& step, std::vector<LessonWord>& words) {
  std::string message = step_name(step);
  if (step.kind != LessonStepKind::find_pulse && step.kind != LessonStepKind::over)
    message += ", " + format_clock(step.length);
  words.push_back({std::nullopt, {"step", message + ": " + step_prompt(step)}});
  for (Member& member : members_) {
    if (!member.steps.empty() && member.steps.back().second.kind == LessonStepKind::rest)
      member.rest = Span{member.steps.back().first, member.seen};
    member.steps.emplace_back(member.seen, step);
  }
}

void LiveLesson::tell_rest(std::size_t i, LivePerson& person, std::vector<LessonWord>& words) {
  Member& member = members_[i];
  if (!member.rest || member.rest_told) return;
  if (member.seen < member.rest->end + decided_after && !person.ended()) return;
  member.rest_told = true;
  const RateWindow rest =
      member.rest->length() > Seconds{0} ? member.person.rate_over(*member.rest, person.kind()) : RateWindow{};
  std::string message = "resting rate ";
  if (rest.rate && person.standing().measured_resting(*rest.rate)) {
    message += bpm_words(rest);
    if (const auto& target = person.standing().target())
      message += fmt::format("; target {} to {}", whole_beats(target->low), whole_beats(target->high));
  } else {
    message += "could not be measured";
    if (const auto known = person.standing().person().resting)
      message += fmt::format("; that of the roster stays, {}", whole_beats(*known));
  }
  words.push_back({i, {"resting_rate", message}});
}

std::vector<LessonWord> LiveLesson::advance(std::vector<LivePerson>& people, std::int64_t now_us) {
  std::vector<LessonWord> words;
  Seconds now{0};
  bool everybody = true;
  for (std::size_t i = 0; i < people.size(); ++i) {
    Member& member = members_[i];
    if (people[i].seen() > member.seen) {
      member.seen = people[i].seen();
      member.seen_at_us = now_us;
    }
    const Seconds since{static_cast<double>(now_us - member.seen_at_us) / 1e6};
    // The lesson goes on when sensors fall silent.
    now = std::max(now, member.seen + since);
    const auto& latest = people[i].latest();
    everybody = everybody && !people[i].silent() && latest && latest->window.rate.has_value();
  }
  for (const LessonChange& change : course_.advance(now, everybody)) {
    switch (change.kind) {
      case LessonChange::Kind::step: begin_step(change.step, words); break;
      case LessonChange::Kind::count_begins:
        for (Member& member : members_) member.count_began = member.seen;
        words.push_back(
            {std::nullopt,
             {"count_now", fmt::format("count your pulse by hand NOW, for {:.0f} s", options_.count.value())}});
        break;
      case LessonChange::Kind::count_ends:
        for (Member& member : members_)
          if (member.count_began) member.count = Span{*member.count_began, *member.count_began + options_.count};
        words.push_back({std::nullopt,
                         {"count_stop", people.size() == 1 ? "STOP counting; type the count and Enter"
                                                           : "STOP counting; type code and count, and Enter"}});
        break;
    }
  }
  for (std::size_t i = 0; i < people.size(); ++i) tell_rest(i, people[i], words);
  return words;
}

LessonWord LiveLesson::typed(const std::string& line, const std::vector<LivePerson>& people) const {
  const std::size_t blank = line.rfind(' ');
  const std::string code = blank == std::string::npos ? "" : line.substr(0, blank);
  const std::string digits = blank == std::string::npos ? line : line.substr(blank + 1);
  int counted = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), counted);
  if (error != std::errc{} || end != digits.data() + digits.size() || counted < 0 || counted > 300)
    return {
        std::nullopt,
        {"count_refused", "'" + line + "' is no count: type " + std::string{people.size() == 1 ? "18" : "wren 18"}}};
  const auto who = std::find_if(people.begin(), people.end(),
                                [&](const LivePerson& p) { return people.size() == 1 || p.code() == code; });
  if (who == people.end()) return {std::nullopt, {"count_refused", "nobody is called '" + code + "'"}};
  const auto i = static_cast<std::size_t>(who - people.begin());
  const Member& member = members_[i];
  if (!member.count) return {i, {"count_refused", "there was nothing to count yet"}};
  const LessonCount count = member.person.score(counted, *member.count, who->code());
  std::string message = fmt::format("counted {} in {:.0f} s, {} beats/min", counted, options_.count.value(),
                                    whole_beats(count.scored.by_count));
  if (count.scored.recorded) {
    message += fmt::format("; the sensor says {} (one beat more or less of the count is {:.0f} beats/min)",
                           whole_beats(*count.scored.recorded), count.beat_bpm);
  } else {
    message += "; the sensor measured no rate then";
  }
  return {i, {"count", message}};
}

std::string LiveLesson::phase() const {
  std::string text = step_name(course_.step());
  if (const auto left = course_.left()) text += ", " + format_clock(*left) + " left";
  return text;
}

std::string LiveLesson::prompt() const {
  if (const auto left = course_.count_left())
    return fmt::format("COUNT YOUR PULSE: {} s left", std::lround(left->value()));
  return step_prompt(course_.step());
}

void LiveLesson::write_marks(const std::filesystem::path& folder, const std::vector<LivePerson>& people) const {
  std::string sheet = "code,file,marks\n", roster = "code,age_years,sex,resting_bpm,maximum_bpm,ceiling_bpm,exercise\n";
  const auto cell = [](const std::optional<double>& value) { return format_number(value, 2); };
  const auto rate_cell = [&](const std::optional<BeatsPerMinute>& rate) {
    return cell(rate ? std::optional{rate->value()} : std::nullopt);
  };
  for (std::size_t i = 0; i < people.size(); ++i) {
    std::string marks = "start_s,phase\n";
    for (const auto& [began, step] : members_[i].steps) {
      if (step.kind != LessonStepKind::over)
        marks += format_number(began.value(), 3) + "," + to_string(phase_of(step.kind)) + "\n";
    }
    const std::string name = people[i].code() + "_marks.csv";
    write_file(folder / name, marks);
    sheet += people[i].code() + "," + people[i].code() + ".csv," + name + "\n";
    const Person& person = people[i].standing().person();
    roster += people[i].code() + "," + cell(person.age_years) + "," +
              (person.sex == Sex::unstated ? "" : to_string(person.sex)) + "," + rate_cell(person.resting) + "," +
              rate_cell(person.measured_maximum) + "," + rate_cell(person.own_ceiling) + "," +
              to_string(person.exercise) + "\n";
  }
  write_file(folder / "sheet.csv", sheet);
  write_file(folder / "people.csv", roster);
}

}  // namespace pulsewright::program
