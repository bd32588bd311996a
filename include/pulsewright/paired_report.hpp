/// Stage 8 for stage 7: agreement of pairs of any quantity, as text, CSV and JSON.
#pragma once

#include <string>

#include "pulsewright/paired_agreement.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {

/// What was compared, in the words of whoever made the table.
struct PairedNames {
  std::string reference, test;
  std::string unit;  ///< of both; empty where none was stated
};

/// For a terminal: bias, limits, SDs, errors, trend and correlations, each with its 95 % interval.
[[nodiscard]] std::string paired_text(const PairedAgreement& agreement, const PairedNames& names);
/// `measure,value,low,high`, a row a measure; columns as in tools/CONTRACT.md.
[[nodiscard]] std::string paired_csv(const PairedAgreement& agreement, const NumberStyle& style = {});
[[nodiscard]] std::string paired_json(const PairedAgreement& agreement, const PairedNames& names,
                                      const Warnings& warnings, const Provenance& provenance);

}  // namespace pulsewright
