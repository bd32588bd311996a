#include "tables.hpp"

namespace accuracy {

const std::set<std::string>& arrhythmia_development() {
  // The training half of de Chazal et al. 2004 (IEEE TBME 51:1196), and the paced records.
  static const std::set<std::string> records = {"101", "106", "108", "109", "112", "114", "115", "116", "118",
                                                "119", "122", "124", "201", "203", "205", "207", "208", "209",
                                                "215", "220", "223", "230", "102", "104", "107", "217"};
  return records;
}

}  // namespace accuracy
