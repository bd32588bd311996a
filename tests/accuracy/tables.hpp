/// Accuracy tables over the open data sets, scored by the library's own scorer.
#pragma once

#include <filesystem>
#include <set>
#include <string>

namespace accuracy {

struct Request {
  std::filesystem::path data;  ///< folder that holds the data sets
  bool test_records = true;    ///< false: development records only
  bool streaming = false;      ///< the causal form
  bool all_signals = false;    ///< every ECG signal fused, instead of the first
  double skip_s = 0;           ///< learning time left unscored
  double tolerance_s = 0.150;
  bool summary = false;      ///< pooled rows only
  bool list_errors = false;  ///< print every missed and extra beat
};

/// What a rate is made from.
struct RateRequest {
  bool streaming = false;
  bool motion = true;         ///< false: motion channels are not looked at
  bool every_window = false;  ///< answer however unsure
  double begin_s = 0;         ///< recordings are cut to begin so late
};

/// The records whose results may be looked at while parameters are set.
[[nodiscard]] const std::set<std::string>& arrhythmia_development();

void arrhythmia_table(const Request& request);
/// Labels by shape, and the verdicts that follow, against annotated ventricular and supraventricular beats.
void label_table(const Request& request);
/// Noise stress records over their noisy stretches, and noises mixed into clean test records at falling signal-to-noise ratios; without `test_records` into all development records, electrode motion too. First signal.
void noise_table(const Request& request);
/// Bins of confidence with the share of candidates in them that are marked beats; test records, or development records without `test_records`.
void confidence_table(const Request& request);
void anaesthesia_table(const Request& request, bool pulse);
/// Chest ECG of people who walk, run and cycle.
void exercise_table(const Request& request);
/// Heart rate; `set` is treadmill, wrist, chest-ecg, arrhythmia, bedside, bedside-ecg, bedside-beats, anaesthesia or clip (which needs no data). Errors and shares are means over recordings; coverage is over all answered windows.
void rate_table(const Request& request, const RateRequest& rate, const std::string& set);
/// Breathing rate from pulse and from ECG; `set` is bedside or anaesthesia. Means over recordings; coverage is over all answered windows.
void breathing_table(const Request& request, const std::string& set);
/// Error of the surest quarter, half and so on of all answered windows of a set, pooled over recordings.
void risk_table(const Request& request, const RateRequest& rate, const std::string& set);

}  // namespace accuracy
