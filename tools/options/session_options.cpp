#include "session_options.hpp"

#include <filesystem>

#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {

void add_study_options(Command& command, SessionFlags& flags) {
  command
      .add_option("--scheme", flags.scheme,
                  "Other categories of intensity: a table category,from_percent,of, where of is reserve or maximum")
      ->type_name("FILE");
  constexpr double longest_peak_s = 3600;
  command.add_option("--peak", flags.peak_window, "The peak is the highest mean over so many seconds")
      ->check(number_between(1, longest_peak_s))
      ->type_name("SECONDS")
      ->capture_default_str();
}

void add_session_options(Command& command, SessionFlags& flags) {
  Option* marks =
      command
          .add_option("--marks", flags.marks,
                      "Phases as somebody noted them: a table start_s,phase[,exertion]; phase is rest, warm_up, work, "
                      "pause, cool_down or a name of your own")
          ->type_name("FILE");
  command.add_option("--marker", flags.marker, "Channel of the recording whose steps mark the phases")
      ->type_name("NAME")
      ->excludes(marks);
  command.add_option("--activity", flags.activity, "What was done, in a word or two")->type_name("TEXT");
  command
      .add_option("--exertion", flags.exertion, "How hard it felt, from 6 (nothing at all) to 20 (as hard as can be)")
      ->check(number_between(least_exertion, most_exertion))
      ->type_name("6-20");
}

SessionOptions session_options(const SessionFlags& flags, const EffortOptions& effort) {
  SessionOptions options;
  options.effort = effort;
  options.peak_window = Seconds{flags.peak_window};
  options.activity = flags.activity;
  if (flags.exertion) {
    options.exertion = static_cast<int>(*flags.exertion);
    if (static_cast<double>(*options.exertion) != *flags.exertion)
      throw Error(ErrorCode::usage, "--exertion is a whole number from 6 to 20");
  }
  if (!flags.scheme.empty()) options.scheme = read_scheme(flags.scheme);
  if (!flags.marks.empty()) options.marks = read_marks(flags.marks);
  return options;
}

Json settings(const SessionFlags& flags) {
  auto options = Json::object();
  const auto file = [](const std::string& path) { return std::filesystem::path(path).filename().string(); };
  if (!flags.scheme.empty()) options["scheme"] = file(flags.scheme);
  if (flags.peak_window != SessionFlags{}.peak_window) options["peak_s"] = flags.peak_window;
  if (!flags.marks.empty()) options["marks"] = file(flags.marks);
  if (!flags.marker.empty()) options["marker"] = flags.marker;
  if (!flags.activity.empty()) options["activity"] = flags.activity;
  if (flags.exertion) options["exertion"] = *flags.exertion;
  return options;
}

}  // namespace pulsewright::program
