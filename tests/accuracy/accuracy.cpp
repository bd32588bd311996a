// Prints one accuracy table over an open data set.
#include <CLI/CLI.hpp>
#include <exception>
#include <iostream>
#include <string>
#include <vector>

#include "tables.hpp"

int main(int argc, char** argv) {
  CLI::App app{"Accuracy of beats and rates on the open data sets, by the library's scorer."};
  accuracy::Request request;
  std::string set = "arrhythmia";
  bool development = false;
  app.add_option("data", request.data, "folder that holds the data sets")->required();
  const std::vector<std::string> sets{"arrhythmia",
                                      "arrhythmia-labels",
                                      "arrhythmia-noise",
                                      "arrhythmia-confidence",
                                      "anaesthesia-pulse",
                                      "anaesthesia-ecg",
                                      "exercise-ecg",
                                      "rate-treadmill",
                                      "rate-wrist",
                                      "rate-chest-ecg",
                                      "rate-arrhythmia",
                                      "rate-bedside",
                                      "rate-bedside-ecg",
                                      "rate-bedside-beats",
                                      "rate-anaesthesia",
                                      "rate-clip",
                                      "breathing-anaesthesia",
                                      "breathing-bedside"};
  app.add_option("--set", set, "which table")->check(CLI::IsMember(sets));
  app.add_flag("--development", development, "development records only");
  app.add_flag("--streaming", request.streaming, "the causal form");
  app.add_flag("--all-signals", request.all_signals, "fuse every ECG signal instead of taking the first");
  app.add_option("--skip", request.skip_s, "seconds at the start that are not scored");
  app.add_option("--tolerance", request.tolerance_s, "match window in seconds");
  app.add_flag("--errors", request.list_errors, "list every missed and extra beat of development records");
  accuracy::RateRequest rate;
  bool still = false, risk = false;
  app.add_flag("--without-motion", still, "rates: leave the motion channels alone");
  app.add_option("--begin", rate.begin_s, "rates: cut recordings to begin so many seconds late, a multiple of 2");
  app.add_flag("--risk", risk, "rates: error of the surest share of the windows");
  app.add_flag("--every-window", rate.every_window, "rates: answer every window, however unsure");
  app.add_flag("--summary", request.summary, "pooled rows only");
  CLI11_PARSE(app, argc, argv);
  request.test_records = !development;
  try {
    rate.motion = !still;
    rate.streaming = request.streaming;
    if (set.starts_with("rate-")) {
      (risk ? accuracy::risk_table : accuracy::rate_table)(request, rate, set.substr(5));
    } else if (set.starts_with("breathing-")) {
      accuracy::breathing_table(request, set.substr(10));
    } else if (set == "arrhythmia-labels") {
      accuracy::label_table(request);
    } else if (set == "arrhythmia-noise") {
      accuracy::noise_table(request);
    } else if (set == "arrhythmia-confidence") {
      accuracy::confidence_table(request);
    } else if (set == "exercise-ecg") {
      accuracy::exercise_table(request);
    } else if (set == "arrhythmia") {
      accuracy::arrhythmia_table(request);
    } else {
      accuracy::anaesthesia_table(request, set == "anaesthesia-pulse");
    }
  } catch (const std::exception& error) {
    std::cerr << "accuracy: " << error.what() << '\n';
    return 3;
  }
  return 0;
}
