/// A guided lesson over the people of a live run.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "live_person.hpp"
#include "pulsewright/lesson.hpp"

namespace pulsewright::program {

/// Something to be said to everybody, or to one.
struct LessonWord {
  std::optional<std::size_t> person;
  LiveNote note;
};

class LiveLesson {
 public:
  LiveLesson(const LessonOptions& options, std::size_t people);

  void take(std::size_t person, const LiveEvent& event);
  /// Moves on; resting rates that are measured go to their people. `now_us` is on the clock of
  /// arrivals.
  [[nodiscard]] std::vector<LessonWord> advance(std::vector<LivePerson>& people, std::int64_t now_us);
  /// A count that was typed: `18`, or `wren 18` where there are several.
  [[nodiscard]] LessonWord typed(const std::string& line, const std::vector<LivePerson>& people) const;

  [[nodiscard]] std::string phase() const;
  [[nodiscard]] std::string prompt() const;
  [[nodiscard]] const LessonCourse& course() const { return course_; }
  [[nodiscard]] bool over() const { return course_.over(); }
  /// Writes beside each recording the marks of its phases, and what is now known of the people as a
  /// roster.
  void write_marks(const std::filesystem::path& folder, const std::vector<LivePerson>& people) const;

 private:
  struct Member {
    LessonPerson person;
    Seconds seen{0};
    std::int64_t seen_at_us = 0;
    // When each began, on the person's own sensor.
    std::vector<std::pair<Seconds, LessonStep>> steps;
    std::optional<Seconds> count_began;
    std::optional<Span> count, rest;
    bool rest_told = false;
  };
  void begin_step(const LessonStep& step, std::vector<LessonWord>& words);
  void tell_rest(std::size_t i, LivePerson& person, std::vector<LessonWord>& words);

  LessonOptions options_;
  LessonCourse course_;
  std::vector<Member> members_;
};

}  // namespace pulsewright::program
