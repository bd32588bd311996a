/// Which recordings are compared with which: one pair, a folder, two folders, or the rows of a study file.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "options/input_options.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/rate_study.hpp"

namespace pulsewright::program {

struct PairInputs {
  InputFlags reference, test;            ///< `input` of the test is empty when one recording holds both
  std::string reference_column, column;  ///< of tables of rates
};

struct StudyInputs {
  PairInputs pair{};
  std::string reference_ending{};  ///< for two folders
  std::string study_folder{};      ///< what paths of a study file are relative to; empty: the study file's folder
};

struct StudyPair {
  PairInputs inputs;
  RecordFacts facts;
  bool one_clock = false;  ///< one recording holds both sides
};

/// Base name of a record or file: `100` of `100.atr`, of `100.csv`, and of the record `100`.
[[nodiscard]] std::string base_name(const std::filesystem::path& path);

/// Test inputs of a folder by base name: its recordings, and its beat files where it holds no recording of that name.
[[nodiscard]] std::map<std::string, std::filesystem::path> tests_in_folder(const std::filesystem::path& folder);

/// REFERENCE, TEST and what says how to read them.
void add_study_inputs(Command& command, StudyInputs& inputs);

/// Whether a file is a study file, a sheet with a column `test`. Throws Error{unreadable} for one that has other columns of a study and not this.
[[nodiscard]] bool is_study_file(const std::filesystem::path& file);

/// Whether one pair is asked for, and neither a folder nor a study file.
[[nodiscard]] bool is_one_pair(const StudyInputs& inputs);

/// Every pair, named. Throws Error{usage} for a file beside a folder, Error{unreadable} for folders without a pair, and what `read_sheet` throws.
[[nodiscard]] std::vector<StudyPair> pairs_of(const StudyInputs& inputs);

/// The flags that differ from their defaults.
[[nodiscard]] Json settings(const StudyInputs& inputs);

}  // namespace pulsewright::program
