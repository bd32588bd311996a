#include <fmt/format.h>

#include "pulsewright/lesson.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {

std::string step_name(const LessonStep& step) {
  const auto numbered = [&](const char* name) {
    return step.of > 1 ? fmt::format("{} {} of {}", name, step.number, step.of) : std::string{name};
  };
  switch (step.kind) {
    case LessonStepKind::find_pulse: return "find the pulse";
    case LessonStepKind::rest: return "rest";
    case LessonStepKind::warm_up: return "warm-up";
    case LessonStepKind::work: return numbered("work");
    case LessonStepKind::pause: return numbered("pause");
    case LessonStepKind::cool_down: return "cool-down";
    case LessonStepKind::recovery: return "recovery";
    case LessonStepKind::over: return "the end";
  }
  return "";
}

std::string step_prompt(const LessonStep& step) {
  switch (step.kind) {
    case LessonStepKind::find_pulse: return "Put the sensor on and keep still until it says good.";
    case LessonStepKind::rest: return "Sit, breathe as usual, do not talk: this gives the resting rate.";
    case LessonStepKind::warm_up: return "Begin lightly and come up to the lower end of your own target.";
    case LessonStepKind::work:
      return "Stay in your own target. Stop on chest pain, dizziness or unusual breathlessness, and say so.";
    case LessonStepKind::pause: return "Keep moving lightly.";
    case LessonStepKind::cool_down: return "Slow down step by step.";
    case LessonStepKind::recovery: return "Sit down and keep still.";
    case LessonStepKind::over: return "Done. Take the sensors off.";
  }
  return "";
}

PhaseKind phase_of(LessonStepKind kind) {
  switch (kind) {
    case LessonStepKind::warm_up: return PhaseKind::warm_up;
    case LessonStepKind::work: return PhaseKind::work;
    case LessonStepKind::pause: return PhaseKind::pause;
    case LessonStepKind::cool_down: return PhaseKind::cool_down;
    case LessonStepKind::find_pulse:
    case LessonStepKind::rest:
    case LessonStepKind::recovery:
    case LessonStepKind::over: break;
  }
  return PhaseKind::rest;
}

}  // namespace pulsewright
