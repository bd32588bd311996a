// Prints what the rate track says of every window of the development recordings beside the reference, for fit_rate_certainty.py. Noise without a pulse
// comes along, with an empty reference.
#include <fmt/format.h>

#include <iostream>

#include "noise_recording.hpp"
#include "pulsewright/rate_track.hpp"
#include "rate_cases.hpp"

namespace {

using namespace pulsewright;

void dump(const std::string& set, const std::string& name, const std::string& form, const RateTrack& track,
          const std::vector<std::optional<double>>& reference) {
  for (std::size_t k = 0; k < track.points.size(); ++k) {
    const TrackPoint& p = track.points[k];
    if (!p.rate || (set != "noise" && (k >= reference.size() || !reference[k]))) continue;
    fmt::print("{},{},{},{},{},{:.4f},{:.6f},{:.6f},{:.4f},{:.3f},{:.3f}\n", set, name, form, p.window.start.value(),
               set == "noise" ? std::string{} : fmt::format("{:.4f}", *reference[k]), p.rate->value(), p.agreement,
               p.concentration, *p.confidence, p.low->value(), p.high->value());
  }
}

void every_form(const std::string& set, const std::string& name, const Recording& recording,
                const std::vector<std::optional<double>>& reference) {
  std::vector<std::size_t> pulse;
  for (std::size_t i = 0; i < recording.channels.size(); ++i) {
    if (recording.channels[i].kind == ChannelKind::pulse) pulse.push_back(i);
  }
  for (const bool streaming : {false, true}) {
    const std::string ending = streaming ? "_causal" : "";
    TrackOptions options;
    options.streaming = streaming;
    dump(set, name, "all" + ending, track_rate(recording, options), reference);
    if (set == "treadmill" || set == "wrist") {
      options.motion.emplace();
      dump(set, name, "still" + ending, track_rate(recording, options), reference);
      options.motion.reset();
    }
    if (pulse.size() < 2) continue;
    for (const std::size_t i : pulse) {
      options.channels = {i};
      dump(set, name, "one" + ending, track_rate(recording, options), reference);
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: pulsewright_rate_dump DATA\n";
    return 2;
  }
  try {
    std::cout << "set,name,form,start_s,truth_bpm,bpm,agreement,concentration,confidence,low_bpm,high_bpm\n";
    std::cout.flush();
    using accuracy::RateSet;
    for (const auto& [set, word] :
         {std::pair{RateSet::treadmill, "treadmill"}, std::pair{RateSet::wrist, "wrist"},
          std::pair{RateSet::bedside, "bedside"}, std::pair{RateSet::anaesthesia, "anaesthesia"}}) {
      accuracy::for_each_rate_case(argv[1], set, false, [&, label = word](const accuracy::RateCase& one) {
        every_form(label, one.name, one.recording, one.reference);
      });
    }
    for (unsigned seed = 1; seed <= accuracy::noise_recordings; ++seed)
      every_form("noise", fmt::format("noise_{}{}", seed % 2 == 1 ? "moving_" : "", seed),
                 accuracy::noise_recording(seed), {});
  } catch (const std::exception& error) {
    std::cerr << "rate_dump: " << error.what() << '\n';
    return 3;
  }
  return 0;
}
