#include "pulsewright/study_warnings.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace pulsewright {
namespace {

const Warning* of_code(const Warnings& warnings, const std::string& code) {
  const auto found = std::find_if(warnings.begin(), warnings.end(), [&](const Warning& w) { return w.code == code; });
  return found == warnings.end() ? nullptr : &*found;
}

}  // namespace

Warnings warnings_of_inputs(const std::vector<InputWarnings>& records) {
  if (records.size() == 1) return records.front().warnings;
  Warnings all;
  for (const InputWarnings& record : records)
    for (const Warning& warning : record.warnings) {
      if (of_code(all, warning.code) != nullptr) continue;
      const auto having = std::count_if(records.begin(), records.end(), [&](const InputWarnings& r) {
        return of_code(r.warnings, warning.code) != nullptr;
      });
      all.push_back({warning.code, fmt::format("{} of {} records; the first, {}: {}", having, records.size(),
                                               record.name, warning.message)});
    }
  return all;
}

}  // namespace pulsewright
