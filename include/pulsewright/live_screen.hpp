/// A live run on a terminal, as lines of plain characters: for any size, without colour.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/live.hpp"
#include "pulsewright/live_standing.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// What is shown of one person.
struct LiveGlance {
  std::string code;
  ChannelKind kind = ChannelKind::pulse;
  const LiveStanding* standing = nullptr;
  std::optional<LiveSecond> second;  ///< the latest; nothing before the first
  bool silent = false;               ///< nothing comes any more, so that `second` is old
  bool left_out = false;             ///< asked not to be shown
  // Of the trace, where one person alone is shown:
  std::vector<float> trace;  ///< the newest samples on the grid, the last one at `seen`
  Hertz rate{1.0};
  Seconds seen{0};
  std::vector<Seconds> beats;  ///< decided ones
};

struct LiveScreen {
  std::vector<LiveGlance> people;
  Seconds elapsed{0};
  std::string phase;               ///< empty without a lesson
  std::string prompt;              ///< what to do now
  std::vector<std::string> notes;  ///< the newest last
  std::string typed;               ///< what is being typed
};

/// At most `rows` lines of at most `columns` ASCII characters. One person has a large rate and a
/// trace with the beats under it; several have a line each, in the order of the input. From 40 x 10
/// on everything that matters is there; a smaller terminal has the first lines.
[[nodiscard]] std::vector<std::string> live_screen(const LiveScreen& screen, std::size_t columns, std::size_t rows);

}  // namespace pulsewright
