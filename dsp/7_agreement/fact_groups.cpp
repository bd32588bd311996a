#include "fact_groups.hpp"

#include <algorithm>

namespace pulsewright {
namespace {

struct BmiClass {
  const char* name;
  double below;
};
constexpr std::array<BmiClass, 4> bmi_classes{{{"<18.5", 18.5}, {"18.5-<25", 25}, {"25-<30", 30}, {">=30", 1e9}}};

/// Position among the classes of body mass index; the same for all other names.
std::size_t class_of(const std::string& name) {
  const auto* at =
      std::find_if(bmi_classes.begin(), bmi_classes.end(), [&](const BmiClass& c) { return name == c.name; });
  return static_cast<std::size_t>(at - bmi_classes.begin());
}

}  // namespace

const std::array<FactColumn, 5> fact_columns{
    {{"condition", [](const RecordFacts& f) { return f.condition; }},
     {"device", [](const RecordFacts& f) { return f.device; }},
     {"skin_tone", [](const RecordFacts& f) { return f.skin_tone; }},
     {"sex", [](const RecordFacts& f) { return f.sex; }},
     {"bmi", [](const RecordFacts& f) { return f.bmi ? bmi_group(*f.bmi) : std::string(); }}}};

std::string bmi_group(double bmi) {
  return std::find_if(bmi_classes.begin(), bmi_classes.end() - 1, [bmi](const BmiClass& c) { return bmi < c.below; })
      ->name;
}

std::vector<FactGroup> fact_groups(const FactColumn& column, const std::vector<const RecordFacts*>& records) {
  std::vector<FactGroup> groups;
  for (std::size_t i = 0; i < records.size(); ++i) {
    const std::string name = column.of(*records[i]);
    if (name.empty()) continue;
    auto group = std::find_if(groups.begin(), groups.end(), [&](const FactGroup& g) { return g.name == name; });
    if (group == groups.end()) group = groups.insert(group, FactGroup{name, {}});
    group->records.push_back(i);
  }
  std::stable_sort(groups.begin(), groups.end(),
                   [](const FactGroup& a, const FactGroup& b) { return class_of(a.name) < class_of(b.name); });
  return groups;
}

PeopleOfRecords people_of(const std::vector<const RecordFacts*>& records) {
  PeopleOfRecords people;
  std::vector<bool> coded;
  people.person.reserve(records.size());
  for (const RecordFacts* facts : records) {
    std::size_t at = people.names.size();
    for (std::size_t i = 0; i < people.names.size() && !facts->person.empty(); ++i)
      if (coded[i] && people.names[i] == facts->person) at = i;
    if (at == people.names.size()) {
      people.names.push_back(facts->person.empty() ? facts->name : facts->person);
      coded.push_back(!facts->person.empty());
    }
    people.person.push_back(at);
  }
  return people;
}

}  // namespace pulsewright
