/// Records of a study in groups by one of the columns that describe them.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

struct FactColumn {
  const char* name;
  std::string (*of)(const RecordFacts&);  ///< empty where nothing is stated
};
/// In the order of `Breakdown::by`.
extern const std::array<FactColumn, 5> fact_columns;

struct FactGroup {
  std::string name;
  std::vector<std::size_t> records;  ///< positions
};
/// In the order of first occurrence, classes of body mass index from the lowest up; records that state nothing are in none.
[[nodiscard]] std::vector<FactGroup> fact_groups(const FactColumn& column,
                                                 const std::vector<const RecordFacts*>& records);

/// Which person each record is of, by position among `names`: one code, one person; a record without a code is a person of its own, named as the record.
struct PeopleOfRecords {
  std::vector<std::string> names;
  std::vector<std::size_t> person;
};
[[nodiscard]] PeopleOfRecords people_of(const std::vector<const RecordFacts*>& records);

}  // namespace pulsewright
