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

/// The records whose results may be looked at while parameters are set.
[[nodiscard]] const std::set<std::string>& arrhythmia_development();

void arrhythmia_table(const Request& request);
void anaesthesia_table(const Request& request, bool pulse);

}  // namespace accuracy
