/// Stage 7: two beat trains -> how well they agree. The one scorer behind every accuracy table.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// Rules of scoring, after ANSI/AAMI EC57 [from memory].
struct MatchOptions {
  Seconds tolerance{0.150};
  Seconds skip{0.0};          ///< learning time at the start that is not scored (EC57: 300 s)
  std::vector<Span> exclude;  ///< marked artefacts and flutter episodes, not scored
};

/// Counts and timing errors of one comparison. Ratios are absent when their denominator is zero.
struct BeatAgreement {
  std::string name;
  std::int64_t true_positives = 0;
  std::int64_t false_negatives = 0;
  std::int64_t false_positives = 0;
  std::vector<double> error_ms;  ///< test minus reference of each matched pair, in time order
  std::vector<Seconds> missed;   ///< reference beats without a partner
  std::vector<Seconds> extra;    ///< test beats without a partner
  Seconds scored;                ///< time that was scored
  Seconds excluded;              ///< artefact spans and flutter inside the scored stretch
  Seconds unreadable;            ///< time the detector declared unreadable inside the scored stretch

  [[nodiscard]] std::optional<double> sensitivity_percent() const;            ///< TP / (TP + FN)
  [[nodiscard]] std::optional<double> positive_predictivity_percent() const;  ///< TP / (TP + FP)
  [[nodiscard]] std::optional<double> f1_percent() const;
  [[nodiscard]] std::optional<double> error_rate_percent() const;  ///< (FN + FP) / reference beats
  [[nodiscard]] std::optional<double> bias_ms() const;
  [[nodiscard]] std::optional<double> sd_ms() const;  ///< n - 1
  [[nodiscard]] std::optional<double> p95_absolute_ms() const;
};

/// Matches beats one to one in time order, the closest pairs first, inside the tolerance. Reference beats inside an excluded span, or before `skip`,
/// are not scored; test beats there are neither right nor wrong, and a pair that straddles the edge counts for the reference beat.
[[nodiscard]] BeatAgreement match_beats(const BeatTrain& reference, const BeatTrain& test,
                                        const MatchOptions& options = {});

/// Pools records: counts and errors added up (gross).
[[nodiscard]] BeatAgreement pool(std::span<const BeatAgreement> records, const std::string& name);

/// F1 at one tolerance.
struct SweepPoint {
  Seconds tolerance;
  std::optional<double> f1_percent;
};
/// F1 over tolerances of 8, 16, 24, 32, 50, 75, 100 and 150 ms (after Reklewski et al. 2024, Sensors 24:1698).
[[nodiscard]] std::vector<SweepPoint> sweep_tolerance(const BeatTrain& reference, const BeatTrain& test,
                                                      const MatchOptions& options = {});

}  // namespace pulsewright
