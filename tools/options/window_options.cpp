#include "window_options.hpp"

#include "pulsewright/json.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {
namespace {

constexpr double shortest_s = 0.1, longest_s = 3600;

}  // namespace

void add_window_options(Command& command, WindowFlags& flags) {
  command.add_option("--window", flags.window, "Length of the windows over which heart rate is taken")
      ->check(number_between(shortest_s, longest_s))
      ->type_name("SECONDS")
      ->capture_default_str();
  command.add_option("--step", flags.step, "Time from one window to the next")
      ->check(number_between(shortest_s, longest_s))
      ->type_name("SECONDS")
      ->capture_default_str();
  command.add_option("--least-confidence", flags.least_confidence, "Leave out rates that are less sure than this")
      ->check(number_between(0, 1))
      ->type_name("P")
      ->capture_default_str();
}

RateOptions rate_options(const WindowFlags& flags) {
  return {Seconds{flags.window}, Seconds{flags.step}, flags.least_confidence};
}

Json settings(const WindowFlags& flags) {
  auto options = Json::object();
  if (flags.window != WindowFlags{}.window) options["window_s"] = flags.window;
  if (flags.step != WindowFlags{}.step) options["step_s"] = flags.step;
  if (flags.least_confidence != WindowFlags{}.least_confidence) options["least_confidence"] = flags.least_confidence;
  return options;
}

}  // namespace pulsewright::program
