#include "pulsewright/roster.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>

#include "pulsewright/json.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/table.hpp"
#include "roster_fields.hpp"

namespace pulsewright {

namespace {

constexpr std::array known_fields{"code", "age_years", "sex", "resting_bpm", "maximum_bpm", "ceiling_bpm", "exercise"};

/// Where a field stands: a line of a table, or a place in a JSON list.
struct Field {
  std::string text;              ///< as written; empty when there is nothing
  std::optional<double> number;  ///< nothing when it is none
};

/// Makes a person of fields, telling each fault to `fault(field, value, rule)`.
template <class Take, class Fault>
Person person_of_fields(Take take, Fault fault) {
  Person person;
  const auto number = [&](const char* name,
                          std::string (*check)(const std::optional<double>&)) -> std::optional<double> {
    const Field field = take(name);
    if (field.text.empty()) return std::nullopt;
    if (const std::string rule = check(field.number); !rule.empty()) {
      fault(name, field.text, rule);
      return std::nullopt;
    }
    return field.number;
  };
  const auto rate = [&](const char* name, std::string (*check)(const std::optional<double>&)) {
    const auto value = number(name, check);
    return value ? std::optional{BeatsPerMinute{*value}} : std::nullopt;
  };
  person.code = take("code").text;
  if (const std::string rule = fault_of_code(person.code); !rule.empty()) fault("code", person.code, rule);
  person.age_years = number("age_years", fault_of_age);
  person.resting = rate("resting_bpm", fault_of_resting);
  person.measured_maximum = rate("maximum_bpm", fault_of_maximum);
  person.own_ceiling = rate("ceiling_bpm", fault_of_ceiling);
  if (const std::string word = take("sex").text; !word.empty()) {
    if (const auto sex = sex_of(word))
      person.sex = *sex;
    else
      fault("sex", word, "sex is female or male, or empty");
  }
  if (const std::string word = take("exercise").text; !word.empty()) {
    if (const auto exercise = exercise_of(word))
      person.exercise = *exercise;
    else
      fault("exercise", word, "exercise is legs, arms or wheelchair, or empty");
  }
  if (const std::string rule = fault_of_person(person); !rule.empty())
    fault("resting_bpm", take("resting_bpm").text, rule);
  return person;
}

Warning unknown_field(const std::string& name) {
  const bool names = name.find("name") != std::string::npos;
  return {names ? "roster_holds_names" : "unknown_column",
          names ? fmt::format(
                      "The roster has a column '{}'. It is not used; a roster needs codes only, and names are better "
                      "kept on paper: delete the column.",
                      name)
                : fmt::format("The column '{}' is not known and left out; there are code, age_years, sex, resting_bpm, "
                              "maximum_bpm, ceiling_bpm, exercise.",
                              name)};
}

bool is_known(const std::string& name) {
  return std::any_of(known_fields.begin(), known_fields.end(), [&](const char* known) { return name == known; });
}

/// Adds a person unless the code is taken, which goes to `fault`.
template <class Fault>
void add_person(Roster& roster, std::vector<std::int64_t>& places, Person person, std::int64_t place, const char* unit,
                Fault fault) {
  for (std::size_t i = 0; i < roster.people.size(); ++i)
    if (!person.code.empty() && roster.people[i].code == person.code)
      fault("code", person.code, fmt::format("stands on {} {} already; a code belongs to one person", unit, places[i]));
  roster.people.push_back(std::move(person));
  places.push_back(place);
}

Roster roster_of_table(const Table& table) {
  Roster roster;
  TableFaults faults(table.file);
  if (!table.column("code")) {
    faults.add(table.header_line, "a roster has a column code");
    faults.refuse();
  }
  for (const std::string& name : table.columns)
    if (!name.empty() && !is_known(name)) roster.warnings.push_back(unknown_field(name));
  std::vector<std::int64_t> lines;
  for (const TableRow& row : table.rows) {
    const auto fault = [&](const char* column, const std::string& value, const std::string& rule) {
      faults.add(row.line, column, value, rule);
    };
    const auto take = [&](const char* name) {
      const std::string_view cell = table.cell(row, name);
      return Field{std::string{cell}, table.number(cell)};
    };
    add_person(roster, lines, person_of_fields(take, fault), row.line, "line", fault);
  }
  faults.refuse();
  return roster;
}

Roster roster_of_json(const Json& document, const std::string& file) {
  Roster roster;
  TableFaults faults(file);
  if (!document.is_object() || !document.contains("people") || !document["people"].is_array())
    throw Error{ErrorCode::unreadable, file + ": a JSON roster is {\"people\": [{\"code\": ...}, ...]}"};
  std::vector<std::int64_t> places;
  std::int64_t place = 0;
  std::vector<std::string> unknown;
  std::string told;
  const auto note = [&](std::string_view key, const std::string& value, const std::string& rule) {
    told += fmt::format("{}{}: person {}: '{}' is '{}': {}", told.empty() ? "" : "\n", file, place, key, value, rule);
  };
  for (const Json& entry : document["people"]) {
    ++place;
    if (!entry.is_object()) {
      note("people", entry.dump(), "a person is an object with a code");
      continue;
    }
    for (const auto& [key, value] : entry.items())
      if (!is_known(key) && std::find(unknown.begin(), unknown.end(), key) == unknown.end()) unknown.push_back(key);
    const auto take = [&](const char* name) {
      if (!entry.contains(name) || entry[name].is_null()) return Field{};
      const Json& value = entry[name];
      if (value.is_number()) return Field{value.dump(), value.get<double>()};
      return Field{value.is_string() ? value.get<std::string>() : value.dump(), std::nullopt};
    };
    add_person(roster, places, person_of_fields(take, note), place, "place", note);
  }
  if (!told.empty()) throw Error{ErrorCode::unreadable, told};
  for (const std::string& key : unknown) roster.warnings.push_back(unknown_field(key));
  return roster;
}

/// The bytes of a file that is JSON by its first letter; nothing when it is not.
std::optional<Json> json_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  const auto first = std::find_if(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>(),
                                  [](char c) { return c != ' ' && c != '\n' && c != '\r' && c != '\t'; });
  if (first == std::istreambuf_iterator<char>() || (*first != '{' && *first != '[')) return std::nullopt;
  file.seekg(0);
  try {
    return Json::parse(std::string(std::istreambuf_iterator<char>(file), {}));
  } catch (const JsonError& error) {
    throw Error{ErrorCode::unreadable,
                fmt::format("{}: byte {}: begins as a JSON roster and is no JSON here", path.string(), error.byte)};
  }
}

}  // namespace

const Person* Roster::find(const std::string& code) const {
  const auto found = std::find_if(people.begin(), people.end(), [&](const Person& p) { return p.code == code; });
  return found == people.end() ? nullptr : &*found;
}

Roster read_roster(const std::filesystem::path& path) {
  Roster roster;
  if (const auto document = json_of(path)) {
    roster = roster_of_json(*document, path.string());
    roster.provenance.sha256 = sha256_of_file(path);
  } else {
    const Table table = read_table(path);
    roster = roster_of_table(table);
    roster.provenance.sha256 = table.sha256;
  }
  if (roster.people.empty()) throw Error{ErrorCode::unreadable, path.string() + ": holds no person"};
  roster.provenance.input = path.filename().string();
  roster.provenance.format = "roster";
  roster.provenance.version = version();
  return roster;
}

}  // namespace pulsewright
