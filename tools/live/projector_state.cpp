#include <algorithm>
#include <cmath>

#include "projector.hpp"
#include "pulsewright/json.hpp"

namespace pulsewright::program {
namespace {

using Object = Json;

double tenths(double value) { return std::round(10.0 * value) / 10.0; }

Object person_state(const LivePerson& person) {
  Object state;
  state["code"] = person.code();
  const LiveStanding& standing = person.standing();
  const auto& target = standing.target();
  const auto& latest = person.latest();
  const bool measured = latest && latest->window.rate && !person.silent() && !person.ended();
  const auto share = measured ? standing.reserve_percent(*latest->window.rate) : std::nullopt;
  state["reserve_percent"] = share ? Object(tenths(*share)) : Object(nullptr);
  if (!share) {
    SignalAdvice advice = latest && !person.silent() && !person.ended() ? latest->advice : SignalAdvice::nothing_comes;
    if (!latest && !person.silent()) advice = SignalAdvice::looking;
    if (advice == SignalAdvice::good) advice = SignalAdvice::looking;
    state["why"] = measured ? "no_reserve" : to_string(advice);
  }
  const auto low = target ? standing.reserve_percent(target->low) : std::nullopt;
  state["target_percent"] =
      low ? Object(std::vector<double>{tenths(*low), tenths(*standing.reserve_percent(target->high))})
          : Object(nullptr);
  return state;
}

Object step_state(const LessonCourse& course) {
  static constexpr const char* kinds[] = {"find_pulse", "rest",      "warm_up",  "work",
                                          "pause",      "cool_down", "recovery", "over"};
  Object state;
  const LessonStep& step = course.step();
  state["kind"] = kinds[static_cast<std::size_t>(step.kind)];
  state["number"] = step.number;
  state["of"] = step.of;
  state["left_s"] = course.left() ? Object(tenths(course.left()->value())) : Object(nullptr);
  state["count_left_s"] = course.count_left() ? Object(tenths(course.count_left()->value())) : Object(nullptr);
  return state;
}

}  // namespace

std::string projector_state(const std::vector<LivePerson>& people, const LiveMoment& moment, const LiveLesson* lesson,
                            const std::vector<std::string>& left_out) {
  Object state;
  state["elapsed_s"] = tenths(moment.elapsed.value());
  state["step"] = lesson != nullptr ? step_state(lesson->course()) : Object(nullptr);
  state["people"] = Object::array();
  for (const LivePerson& person : people) {
    if (std::find(left_out.begin(), left_out.end(), person.code()) == left_out.end())
      state["people"].push_back(person_state(person));
  }
  return state.dump();
}

}  // namespace pulsewright::program
