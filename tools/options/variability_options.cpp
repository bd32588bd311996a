#include "variability_options.hpp"

#include <fmt/format.h>

#include <charconv>

#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "value_checks.hpp"

namespace pulsewright::program {
namespace {

constexpr SpectrumMethod methods[] = {SpectrumMethod::welch, SpectrumMethod::burg, SpectrumMethod::covariance,
                                      SpectrumMethod::lomb_scargle};
constexpr double highest_band_hz = 2.0;
constexpr double shortest_window_s = 10.0, longest_window_s = 86400.0;
constexpr double highest_order = 60;

void add_band(Command& command, const std::string& name, std::vector<double>& band, const std::string& usual) {
  command.add_option(name, band, "Ends of the band in Hz, with a comma between; " + usual + " unless given")
      ->delimiter(',')
      ->expected(2)
      ->check(number_between(0, highest_band_hz))
      ->type_name("LOW,HIGH");
}

void set_band(const char* name, const std::vector<double>& given, Band& band) {
  if (given.empty()) return;
  if (!(given[0] < given[1]))
    throw Error{ErrorCode::usage,
                fmt::format("{} {:g},{:g}: the first must be below the second", name, given[0], given[1])};
  band = {Hertz{given[0]}, Hertz{given[1]}};
}

}  // namespace

void add_variability_options(Command& command, VariabilitySettings& flags) {
  std::vector<std::string> words;
  for (const SpectrumMethod method : methods) words.emplace_back(to_string(method));
  command
      .add_option("--spectrum", flags.spectrum, "The method whose powers stand for the record; JSON has all of them")
      ->check(one_of(words))
      ->type_name("METHOD")
      ->capture_default_str();
  add_band(command, "--ulf", flags.ulf, "0,0.003");
  add_band(command, "--vlf", flags.vlf, "0.003,0.04");
  add_band(command, "--lf", flags.lf, "0.04,0.15");
  add_band(command, "--hf", flags.hf, "0.15,0.40");
  command
      .add_option("--breathing", flags.breathing,
                  "Let the HF band follow breathing, as exercise asks for: its frequency in Hz, or auto to find it")
      ->type_name("HZ|auto");
  command
      .add_option("--trend", flags.trend,
                  "Remove the slow trend before the spectrum, by smoothness priors of this lambda (500 at 4 Hz halves "
                  "0.028 Hz)")
      ->check(number_between(1, 1e6))
      ->type_name("LAMBDA");
  command.add_option("--segment", flags.segment, "Length of the segments of Welch's method; 256 s unless given")
      ->check(number_between(shortest_window_s, longest_window_s))
      ->type_name("SECONDS");
  command.add_option("--order", flags.order, "Order of the autoregressive models; by Akaike's criterion unless given")
      ->check(number_between(1, highest_order))
      ->type_name("P");
  command.add_option("--window", flags.window, "Measure over sliding windows of this length, one row each")
      ->check(number_between(shortest_window_s, longest_window_s))
      ->type_name("SECONDS");
  command.add_option("--step", flags.step, "Time from one window to the next; a fifth of the window unless given")
      ->check(number_between(1, longest_window_s))
      ->type_name("SECONDS");
  command
      .add_option("--most-flagged", flags.most_flagged,
                  "Give measures up to this share of flagged intervals; 20 per cent, and 10 for spectra, entropies and "
                  "scaling, unless given")
      ->check(number_between(0, 100))
      ->type_name("PERCENT");
}

VariabilityOptions variability_options(const VariabilitySettings& flags) {
  VariabilityOptions options;
  SpectrumOptions& spectrum = options.spectrum;
  for (const SpectrumMethod method : methods)
    if (flags.spectrum == to_string(method)) spectrum.principal = method;
  set_band("--ulf", flags.ulf, spectrum.bands.ulf);
  set_band("--vlf", flags.vlf, spectrum.bands.vlf);
  set_band("--lf", flags.lf, spectrum.bands.lf);
  set_band("--hf", flags.hf, spectrum.bands.hf);
  if (!flags.breathing.empty()) {
    spectrum.high_band = HighBand::round_breathing;
    if (flags.breathing != "auto") {
      double hz = 0;
      const auto [end, failure] =
          std::from_chars(flags.breathing.data(), flags.breathing.data() + flags.breathing.size(), hz);
      if (failure != std::errc{} || end != flags.breathing.data() + flags.breathing.size() ||
          !(hz > 0.05 && hz <= highest_band_hz))
        throw Error{ErrorCode::usage,
                    fmt::format("--breathing '{}': it must be auto, or a frequency above 0.05 and up to {:g} Hz",
                                flags.breathing, highest_band_hz)};
      spectrum.breathing = Hertz{hz};
    }
  }
  spectrum.trend_lambda = flags.trend;
  if (flags.segment) spectrum.welch.segment = Seconds{*flags.segment};
  if (flags.order) spectrum.model.order = static_cast<int>(*flags.order);
  if (flags.most_flagged) options.most_flagged_percent = options.most_flagged_of_course_percent = *flags.most_flagged;
  return options;
}

std::optional<SlidingOptions> sliding_options(const VariabilitySettings& flags) {
  if (!flags.window) {
    if (flags.step) throw Error{ErrorCode::usage, "--step needs --window"};
    return std::nullopt;
  }
  return SlidingOptions{Seconds{*flags.window}, Seconds{flags.step.value_or(*flags.window / 5.0)}};
}

Json settings(const VariabilitySettings& flags) {
  auto options = Json::object();
  if (flags.spectrum != VariabilitySettings{}.spectrum) options["spectrum"] = flags.spectrum;
  const auto band = [&](const char* key, const std::vector<double>& ends) {
    if (!ends.empty()) options[key] = ends;
  };
  band("ulf_hz", flags.ulf);
  band("vlf_hz", flags.vlf);
  band("lf_hz", flags.lf);
  band("hf_hz", flags.hf);
  if (!flags.breathing.empty()) options["breathing"] = flags.breathing;
  const auto number = [&](const char* key, const std::optional<double>& value) {
    if (value) options[key] = *value;
  };
  number("trend", flags.trend);
  number("segment_s", flags.segment);
  number("order", flags.order);
  number("window_s", flags.window);
  number("step_s", flags.step);
  number("most_flagged_percent", flags.most_flagged);
  return options;
}

}  // namespace pulsewright::program
