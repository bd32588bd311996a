/// What shows a live run: lines, or a screen.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "live_person.hpp"

namespace pulsewright::program {

/// Where the run is.
struct LiveMoment {
  Seconds elapsed{0};
  std::string phase;   ///< of a lesson; empty without one
  std::string prompt;  ///< what to do now; empty without a lesson
};

class LiveView {
 public:
  virtual ~LiveView() = default;
  virtual void event(const LivePerson& person, const LiveEvent& event, const LiveMoment& moment) = 0;
  virtual void packet(const LivePerson& person, const HeartRatePacket& packet) = 0;
  virtual void note(const LivePerson* person, const LiveNote& note, const LiveMoment& moment) = 0;
  /// Called several times a second. What was typed since: a whole line, without its end; `q` alone
  /// ends the run.
  virtual std::optional<std::string> draw(const std::vector<LivePerson>& people, const LiveMoment& moment) = 0;
};

/// A sentence a second and person, for pipes and screen readers. `keys`: whether lines on standard
/// input are what is typed.
[[nodiscard]] std::unique_ptr<LiveView> live_text_view(bool keys);
/// A JSON object a beat, a second and a note.
[[nodiscard]] std::unique_ptr<LiveView> live_lines_view(bool keys);

}  // namespace pulsewright::program
