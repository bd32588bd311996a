/// Stage 8: results -> CSV, JSON and plain text. Exporters take finished results and give strings; nothing here computes or prints.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "pulsewright/agreement.hpp"
#include "pulsewright/effort.hpp"
#include "pulsewright/pipeline.hpp"
#include "pulsewright/rate.hpp"

namespace pulsewright {

/// Version of every JSON document and CSV layout the program writes.
inline constexpr int schema_version = 1;

/// How numbers are written. Independent of the process's locale.
struct NumberStyle {
  char decimal = '.';
  char separator = ',';  ///< between CSV cells
};

/// Fixed decimals, rounded half away from zero on the decimal value; never `-0`. Nothing becomes an empty string.
[[nodiscard]] std::string format_number(std::optional<double> value, int decimals, const NumberStyle& style = {});
/// Beats/min as people read them: nearest whole, halves up.
[[nodiscard]] long whole_beats(BeatsPerMinute rate);

/// CSV of each stage; columns as in tools/CONTRACT.md.
[[nodiscard]] std::string beats_csv(const BeatTrain& beats, bool all = false, const NumberStyle& style = {});
[[nodiscard]] std::string intervals_csv(const Intervals& intervals, const NumberStyle& style = {});
[[nodiscard]] std::string rate_csv(const RateSeries& rates, const NumberStyle& style = {});
[[nodiscard]] std::string variability_csv(const Variability& result, const NumberStyle& style = {});
[[nodiscard]] std::string effort_csv(const Effort& result, const NumberStyle& style = {});
[[nodiscard]] std::string agreement_csv(const BeatAgreement& result, const NumberStyle& style = {});

/// JSON of each stage: keys in snake_case ending in their unit, absent values null and explained under `reasons`.
[[nodiscard]] std::string recording_json(const Recording& recording);
[[nodiscard]] std::string beats_json(const BeatTrain& beats, bool all = false);
[[nodiscard]] std::string intervals_json(const Intervals& intervals);
[[nodiscard]] std::string rate_json(const RateSeries& rates);
[[nodiscard]] std::string variability_json(const Variability& result);
[[nodiscard]] std::string effort_json(const Effort& result);
[[nodiscard]] std::string analysis_json(const Analysis& result);
[[nodiscard]] std::string target_json(const TargetZone& target);
[[nodiscard]] std::string agreement_json(const BeatAgreement& result, const MatchOptions& options);

/// Text for a person at a terminal: every number with its unit, every judgement with its rule.
[[nodiscard]] std::string recording_text(const Recording& recording);
[[nodiscard]] std::string beats_text(const BeatTrain& beats);
[[nodiscard]] std::string intervals_text(const Intervals& intervals);
[[nodiscard]] std::string rate_text(const RateSeries& rates);
[[nodiscard]] std::string variability_text(const Variability& result);
[[nodiscard]] std::string effort_text(const Effort& result);
[[nodiscard]] std::string analysis_text(const Analysis& result);
[[nodiscard]] std::string target_text(const TargetZone& target);
[[nodiscard]] std::string agreement_text(const BeatAgreement& result, const MatchOptions& options);

/// The cautions that stand under everything that speaks of effort.
[[nodiscard]] std::string_view cautions();

/// Writes a file so that it appears complete or not at all. Throws Error{unwritable}.
void write_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace pulsewright
