#include "paired_table.hpp"

#include <algorithm>
#include <cctype>

#include "pulsewright/error.hpp"
#include "pulsewright/table.hpp"

namespace pulsewright::program {
namespace {

constexpr const char* person_column = "person";

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::tolower(c); });
  return text;
}

std::string listed(const Table& table) {
  std::string list;
  for (const std::string& column : table.columns) list += (list.empty() ? "'" : ", '") + column + "'";
  return list;
}

/// The columns that are meant, in the order reference, test.
std::pair<std::string, std::string> columns_of(const Table& table, const std::string& reference,
                                               const std::string& test) {
  std::vector<std::string> others;
  for (const std::string& column : table.columns)
    if (column != person_column && column != reference && column != test) others.push_back(column);
  for (const std::string& named : {reference, test})
    if (!named.empty() && !table.column(named))
      throw Error(ErrorCode::usage, table.file + ": has no column '" + named + "'; there are " + listed(table));
  std::vector<std::string> left = others;
  std::string first = reference, second = test;
  const std::size_t wanted = (first.empty() ? 1U : 0U) + (second.empty() ? 1U : 0U);
  if (wanted > 0 && left.size() != wanted)
    throw Error(ErrorCode::usage,
                table.file + ": name the two columns with --reference-column and --column; there are " + listed(table));
  if (first.empty()) {
    first = left.front();
    left.erase(left.begin());
  }
  if (second.empty()) second = left.front();
  if (first == second)
    throw Error(ErrorCode::usage, table.file + ": reference and test are the same column, '" + first + "'");
  return {first, second};
}

}  // namespace

PairedTable read_pairs(const std::string& file, const std::string& reference_column, const std::string& test_column) {
  const Table table = read_table(file);
  const auto [reference, test] = columns_of(table, lower(reference_column), lower(test_column));
  PairedTable result{reference, test, {}, 0};
  TableFaults faults(table.file);
  std::vector<std::string> people;
  for (const TableRow& row : table.rows) {
    const std::string_view a = table.cell(row, reference), b = table.cell(row, test);
    if (a.empty() || b.empty()) {
      ++result.incomplete;
      continue;
    }
    const auto x = table.number(a), y = table.number(b);
    if (!x) faults.add(row.line, reference, a, "is no finite number");
    if (!y) faults.add(row.line, test, b, "is no finite number");
    if (!x || !y) continue;
    PairedValue pair;
    pair.reference = *x;
    pair.test = *y;
    pair.person = result.pairs.size();
    if (table.column(person_column)) {
      const std::string person(table.cell(row, person_column));
      const auto at = std::find(people.begin(), people.end(), person);
      pair.person = static_cast<std::size_t>(at - people.begin());
      if (at == people.end()) people.push_back(person);
    }
    result.pairs.push_back(pair);
  }
  faults.refuse();
  return result;
}

}  // namespace pulsewright::program
