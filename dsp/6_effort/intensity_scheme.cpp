#include <fmt/format.h>

#include <fstream>
#include <iterator>

#include "pulsewright/error.hpp"
#include "pulsewright/intensity.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/table.hpp"

namespace pulsewright {

namespace {

constexpr double most_percent = 200.0;  // room above an estimated maximum

/// Adds a category, or says what is wrong with it.
std::string add_category(IntensityScheme& scheme, const std::string& name, std::optional<double> percent) {
  if (name.empty()) return "a category has a name";
  if (!percent || *percent < 0 || *percent > most_percent)
    return fmt::format("the lower bound of a category is 0 to {:g} per cent", most_percent);
  if (!scheme.categories.empty() && !(scheme.categories.back().from_fraction < *percent / 100.0))
    return "bounds rise from category to category";
  scheme.categories.push_back({name, *percent / 100.0});
  return {};
}

std::optional<bool> is_reserve(std::string_view word) {
  if (word == "reserve") return true;
  if (word == "maximum") return false;
  return std::nullopt;
}

constexpr const char* of_rule = "of is reserve or maximum, the same for all categories";

void scheme_of_table(const Table& table, IntensityScheme& scheme) {
  TableFaults faults(table.file);
  for (const char* needed : {"category", "from_percent", "of"})
    if (!table.column(needed)) faults.add(table.header_line, fmt::format("a scheme has a column {}", needed));
  faults.refuse();
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    const TableRow& row = table.rows[i];
    const std::string_view of = table.cell(row, "of"), bound = table.cell(row, "from_percent");
    const auto reserve = is_reserve(of);
    if (!reserve || (i > 0 && *reserve != scheme.from_reserve))
      faults.add(row.line, "of", of, of_rule);
    else
      scheme.from_reserve = *reserve;
    const std::string fault = add_category(scheme, std::string{table.cell(row, "category")}, table.number(bound));
    if (!fault.empty()) faults.add(row.line, "from_percent", bound, fault);
  }
  faults.refuse();
}

void scheme_of_json(const Json& document, const std::string& file, IntensityScheme& scheme) {
  const auto refuse = [&](const std::string& rule) { throw Error{ErrorCode::unreadable, file + ": " + rule}; };
  if (!document.is_object() || !document.contains("categories") || !document["categories"].is_array())
    refuse("a scheme is {\"of\": \"reserve\", \"categories\": [{\"category\": ..., \"from_percent\": ...}, ...]}");
  const auto reserve = is_reserve(document.value("of", ""));
  if (!reserve) refuse(of_rule);
  scheme.from_reserve = *reserve;
  for (const Json& entry : document["categories"]) {
    std::optional<double> bound;
    if (entry.is_object() && entry.contains("from_percent") && entry["from_percent"].is_number())
      bound = entry["from_percent"].get<double>();
    const bool named = entry.is_object() && entry.contains("category") && entry["category"].is_string();
    const std::string fault = add_category(scheme, named ? entry["category"].get<std::string>() : std::string{}, bound);
    if (!fault.empty()) refuse(fmt::format("category {}: {}", scheme.categories.size() + 1, fault));
  }
}

}  // namespace

IntensityScheme read_scheme(const std::filesystem::path& path) {
  IntensityScheme scheme;
  scheme.name = path.stem().string();
  std::ifstream file(path, std::ios::binary);
  char first = 0;
  file >> first;
  if (file && first == '{') {
    file.seekg(0);
    try {
      scheme_of_json(Json::parse(std::string(std::istreambuf_iterator<char>(file), {})), path.string(), scheme);
    } catch (const JsonError& error) {
      throw Error{ErrorCode::unreadable, fmt::format("{}: no JSON: {}", path.string(), error.what())};
    }
  } else {
    scheme_of_table(read_table(path), scheme);
  }
  if (scheme.categories.empty()) throw Error{ErrorCode::unreadable, path.string() + ": holds no category"};
  return scheme;
}

}  // namespace pulsewright
