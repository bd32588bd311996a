/// What `compare rate` compares: one pair, a folder, two folders, or the rows of a study file.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "input_options.hpp"
#include "pulsewright/rate_study.hpp"

namespace pulsewright::program {

struct CompareRateInputs {
  InputFlags reference, test;                       ///< `input` of the test is empty when one recording holds both
  std::string reference_column, column;             ///< of tables of rates
  std::string reference_ending = "_reference.csv";  ///< for two folders
  std::string study_folder;  ///< what paths of a study file are relative to; empty: the study file's folder
};

/// One side as it lies in a file: a table of rates, beats, or a recording in which they are found.
[[nodiscard]] RateSide read_side(const InputFlags& flags, const std::string& column, const RateOptions& rates);

/// Reads and compares every pair. A pair that cannot be read is an error when it is the only one asked for, and a record that is left out otherwise.
[[nodiscard]] std::vector<ComparedRecord> compare_rates(const CompareRateInputs& inputs, const StudyOptions& options);

/// The flags that differ from their defaults.
[[nodiscard]] nlohmann::ordered_json settings(const CompareRateInputs& inputs);

}  // namespace pulsewright::program
