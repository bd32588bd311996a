/// Recordings with a known rate in windows of 8 s every 2 s, from the open data sets and from the simulator.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/recording.hpp"

namespace accuracy {

struct RateCase {
  std::string name;
  bool development = false;
  pulsewright::Recording recording;
  pulsewright::KindChoice kind = pulsewright::KindChoice::pulse;
  std::vector<std::size_t> channels;  ///< empty: all of the kind
  /// Reference rate of window k, [2 k, 2 k + 8) s; nothing where the reference has none.
  std::vector<std::optional<double>> reference;
};

enum class RateSet { treadmill, wrist, chest_ecg, arrhythmia, bedside, bedside_ecg, bedside_beats, anaesthesia, clip };

/// Hands over every case of a set in order of its names, the test recordings only when asked for.
///
/// treadmill: the reference file's own windows. wrist: 60 (N - 1) / (last - first) of the reference beats in a window; none where an interval is below
/// 0.45 or above 2.2 times the window's median (known blemishes of the reference). chest_ecg: the same recordings and reference, the rate from their own ECG. arrhythmia: first signal of the ECG, annotated beats as wrist. bedside: mean of the monitor's PULSE from the start of the window + 4 s to its end + 4 s (the
/// monitor averages and lags; set on the odd recordings). bedside_ecg: the same of its HR, which is from its ECG. bedside_beats: beats that the library finds in
/// all ECG signals of the recording, as wrist, none in a window that touches an unreadable span. anaesthesia: pulse peaks as wrist, none in a window that touches
/// a marked artefact span. clip: a finger clip of 64 Hz and 10 bits with its accelerometer on a simulated stair-climb, contact lost once a minute, two seeds for each
/// of the simulator's people, none of whom is a development record; reference from the true pulse peaks.
void for_each_rate_case(const std::filesystem::path& data, RateSet set, bool test_records,
                        const std::function<void(const RateCase&)>& visit);

/// The case without its first seconds, a whole number of steps: so does a recording begin in motion. Times count from the new start.
[[nodiscard]] RateCase begun_late(RateCase one, pulsewright::Seconds start);

}  // namespace accuracy
