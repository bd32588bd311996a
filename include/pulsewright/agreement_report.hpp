/// Stage 8 for stage 7: studies of agreement as text, CSV, JSON and figures.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "pulsewright/bench_test.hpp"
#include "pulsewright/interval_study.hpp"
#include "pulsewright/pulse_count.hpp"
#include "pulsewright/rate_study.hpp"
#include "pulsewright/report.hpp"
#include "pulsewright/sensor_grade.hpp"

namespace pulsewright {

/// A page for a terminal: flow of exclusions, agreement before and after alignment, limits, errors, conditions, verdicts, checklist.
[[nodiscard]] std::string study_text(const RateStudy& study);

/// A row for each record, condition, skin tone, and the whole before and after alignment; columns as in tools/CONTRACT.md.
[[nodiscard]] std::string study_csv(const RateStudy& study, const NumberStyle& style = {});

/// Every pair, in time order of each record: `name,person,condition,time_s,reference_bpm,test_bpm,low_bpm,high_bpm`.
[[nodiscard]] std::string study_pairs_csv(const RateStudy& study, const NumberStyle& style = {});

[[nodiscard]] std::string study_json(const RateStudy& study, const Provenance& provenance);

/// The figures of a study: `differences` (against the means, with limits and their intervals), `scatter` (with identity), `error_over_time`, `error_by_condition`. None when
/// nothing was analysed; the last only where conditions are stated.
[[nodiscard]] std::vector<FigureFile> study_figures(const RateStudy& study, Language language = Language::english);

/// The study for people, as one HTML file like a session's: agreement in sentences and numbers with their intervals, the figures, verdicts by published rules, the
/// checklist, and what became of each record. Texts of verdicts and reasons are English in every language.
[[nodiscard]] std::string study_report(const RateStudy& study, const Provenance& provenance,
                                       Language language = Language::english);

/// How many independent differences narrow limits need.
[[nodiscard]] std::string plan_text(const LimitsPlan& plan);
[[nodiscard]] std::string plan_csv(const LimitsPlan& plan, const NumberStyle& style = {});
[[nodiscard]] std::string plan_json(const LimitsPlan& plan, const Provenance& provenance);

/// Intervals and variability of one pair.
[[nodiscard]] std::string intervals_agreement_text(const ComparedIntervals& record);
[[nodiscard]] std::string intervals_agreement_csv(const ComparedIntervals& record, const NumberStyle& style = {});
[[nodiscard]] std::string intervals_agreement_json(const ComparedIntervals& record, const Provenance& provenance);

/// The same over many: a row for each record, group, and the whole.
[[nodiscard]] std::string interval_study_text(const IntervalStudy& study);
[[nodiscard]] std::string interval_study_csv(const IntervalStudy& study, const NumberStyle& style = {});
[[nodiscard]] std::string interval_study_json(const IntervalStudy& study, const Provenance& provenance);

/// A class sheet of counts: a row a count; text and JSON also by length.
[[nodiscard]] std::string counts_text(const CountStudy& study);
[[nodiscard]] std::string counts_csv(const CountStudy& study, const NumberStyle& style = {});
[[nodiscard]] std::string counts_json(const CountStudy& study, const Provenance& provenance);

/// A sensor's grade, a row a channel.
[[nodiscard]] std::string grade_text(const SensorGrade& grade);
[[nodiscard]] std::string grade_csv(const SensorGrade& grade, const NumberStyle& style = {});
[[nodiscard]] std::string grade_json(const SensorGrade& grade);

/// What a meter made of the bench waves.
[[nodiscard]] std::string bench_text(std::span<const BenchResult> results);
[[nodiscard]] std::string bench_csv(std::span<const BenchResult> results, const NumberStyle& style = {});
[[nodiscard]] std::string bench_json(std::span<const BenchResult> results, const Provenance& provenance);
/// The waves and their answers: `wave,file,answer,expected_bpm,before_bpm,step_at_s,duration_s,summary`.
[[nodiscard]] std::string bench_answers_csv(std::span<const BenchWave> waves, const std::string& ending,
                                            const NumberStyle& style = {});

}  // namespace pulsewright
