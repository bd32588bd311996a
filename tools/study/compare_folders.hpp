/// What `compare beats` compares: one pair of files, two folders of them matched by name, or the rows of a study file.
#pragma once

#include <string>

#include "options/input_options.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::program {

struct CompareInputs {
  std::string reference;
  InputFlags test;
  double tolerance_s = 0.15;
  double skip_s = 0;
  std::string exclude;                    ///< a file; for folders, an ending of names
  std::string reference_ending = ".atr";  ///< for folders
  std::string study_folder;  ///< what paths of a study file are relative to; empty: the study file's folder
};

/// Rules as asked, without what the files add.
[[nodiscard]] MatchOptions match_options(const CompareInputs& inputs);

struct ComparedBeats {
  BeatComparison comparison;
  BeatTrain test;
  MatchOptions rules;  ///< with excluded spans and flutter
};

/// One pair. A beat file is taken as it is; in anything else beats are found.
[[nodiscard]] ComparedBeats compare_pair(const CompareInputs& inputs);

/// Every record of the test folder that has a reference of its name, in the order of names. Throws Error{unreadable} when there is none.
[[nodiscard]] BeatComparisonTable compare_folders(const CompareInputs& inputs);

/// Every row of a study file; those that cannot be read are left out with a reason.
[[nodiscard]] BeatComparisonTable compare_study(const CompareInputs& inputs);

/// The flags that differ from their defaults.
[[nodiscard]] Json settings(const CompareInputs& inputs);

}  // namespace pulsewright::program
