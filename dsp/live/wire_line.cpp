#include "wire_line.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>

#include "pulsewright/json.hpp"

namespace pulsewright::live_stage {
namespace {

constexpr float no_value = std::numeric_limits<float>::quiet_NaN();
constexpr std::uint64_t most_sequence = std::numeric_limits<std::uint32_t>::max();

std::string_view trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\0'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

template <class Number>
std::optional<Number> number_in(std::string_view text) {
  Number number{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

/// A value; absent where it is no number. An empty cell and `nan` are a sample that the sensor
/// could not take.
std::optional<float> value_in(std::string_view text) {
  if (text.empty() || text == "nan" || text == "NaN") return no_value;
  const auto number = number_in<double>(text);
  if (!number || !std::isfinite(*number)) return std::nullopt;
  return static_cast<float>(*number);
}

std::vector<std::string_view> cells_of(std::string_view line) {
  const char separator = line.find(',') != std::string_view::npos    ? ','
                         : line.find(';') != std::string_view::npos  ? ';'
                         : line.find('\t') != std::string_view::npos ? '\t'
                                                                     : ' ';
  std::vector<std::string_view> cells;
  while (true) {
    const std::size_t end = line.find(separator);
    cells.push_back(trimmed(line.substr(0, end)));
    if (end == std::string_view::npos) return cells;
    line.remove_prefix(end + 1);
  }
}

WireLine spoiled(std::string rule) {
  WireLine line;
  line.kind = WireLine::Kind::spoiled;
  line.rule = std::move(rule);
  return line;
}

WireLine sampled(const WireSample& sample) {
  WireLine line;
  line.kind = WireLine::Kind::sample;
  line.sample = sample;
  return line;
}

/// `seq=12,t_us=120000,v=512`, in any order; other keys are passed over.
WireLine keyed(std::string_view text) {
  WireSample sample;
  bool any_value = false;
  for (const std::string_view cell : cells_of(text)) {
    const std::size_t equals = cell.find('=');
    if (equals == std::string_view::npos) return spoiled("has a part without '='");
    const std::string_view key = trimmed(cell.substr(0, equals)), value = trimmed(cell.substr(equals + 1));
    if (key == "v") {
      const auto number = value_in(value);
      if (!number) return spoiled("v is no number");
      sample.value = *number;
      any_value = true;
    } else if (key == "seq") {
      sample.sequence = number_in<std::uint32_t>(value);
      if (!sample.sequence) return spoiled("seq is no whole number below 2^32");
    } else if (key == "t_us" || key == "t_ms") {
      const auto count = number_in<std::uint64_t>(value);
      if (!count) return spoiled("the time is no whole number");
      sample.ticks = SensorTicks{*count, key == "t_us" ? TickUnit::microseconds : TickUnit::milliseconds};
    }
  }
  return any_value ? sampled(sample) : spoiled("has no v=");
}

/// The same keys in a JSON object.
WireLine json_object(std::string_view text) {
  const Json object = Json::parse_or_discard(text);
  if (!object.is_object()) return spoiled("is no JSON object");
  const Json* value = object.find("v");
  if (value == nullptr) return spoiled("has no \"v\"");
  WireSample sample;
  if (value->is_number()) {
    sample.value = static_cast<float>(value->get<double>());
  } else if (value->is_null()) {
    sample.value = no_value;
  } else {
    return spoiled("\"v\" is no number");
  }
  if (const Json* sequence = object.find("seq")) {
    if (!sequence->is_unsigned() || sequence->get<std::uint64_t>() > most_sequence)
      return spoiled("\"seq\" is no whole number below 2^32");
    sample.sequence = sequence->get<std::uint32_t>();
  }
  for (const auto& [key, unit] :
       {std::pair{"t_us", TickUnit::microseconds}, std::pair{"t_ms", TickUnit::milliseconds}}) {
    const Json* count = object.find(key);
    if (count == nullptr) continue;
    if (!count->is_unsigned()) return spoiled("the time is no whole number");
    sample.ticks = SensorTicks{count->get<std::uint64_t>(), unit};
  }
  return sampled(sample);
}

/// Microseconds in a unit of a time column of this name; nothing for another column.
std::optional<double> ticks_in_unit(std::string_view name) {
  if (name == "t_us" || name == "time_us") return 1.0;
  if (name == "t_ms" || name == "time_ms") return 1e3;
  if (name == "t_s" || name == "time_s") return 1e6;
  return std::nullopt;
}

WireLine header(const std::vector<std::string_view>& names, const std::string& wanted) {
  WireLine line;
  line.kind = WireLine::Kind::header;
  line.columns.count = names.size();
  std::optional<std::size_t> value;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (const auto unit = ticks_in_unit(names[i])) {
      line.columns.time = i;
      line.columns.ticks_per_unit = *unit;
    } else if (names[i] == "seq") {
      line.columns.sequence = i;
    } else if (wanted.empty() ? !value : names[i] == wanted) {
      value = i;
    }
  }
  if (!value) return spoiled(wanted.empty() ? "names no column of values" : "names no column '" + wanted + "'");
  line.columns.value = *value;
  return line;
}

WireLine row(const std::vector<std::string_view>& cells, const WireColumns& columns) {
  if (cells.size() != columns.count)
    return spoiled("has " + std::to_string(cells.size()) + " cells where the header has " +
                   std::to_string(columns.count));
  const auto value = value_in(cells[columns.value]);
  if (!value) return spoiled("the value is no number");
  WireSample sample;
  sample.value = *value;
  if (columns.time) {
    const auto time = number_in<double>(cells[*columns.time]);
    const double ticks = time ? *time * columns.ticks_per_unit : -1.0;
    if (!(ticks >= 0.0 && ticks < 9e15)) return spoiled("the time is no number from 0 on");
    sample.ticks = SensorTicks{static_cast<std::uint64_t>(std::llround(ticks)), TickUnit::microseconds};
  }
  if (columns.sequence) {
    sample.sequence = number_in<std::uint32_t>(cells[*columns.sequence]);
    if (!sample.sequence) return spoiled("seq is no whole number below 2^32");
  }
  return sampled(sample);
}

}  // namespace

WireLine read_wire_line(std::string_view line, const std::optional<WireColumns>& columns, const std::string& wanted) {
  line = trimmed(line);
  if (line.empty() || line.front() == '#') return {};
  if (line.front() == '{') return json_object(line);
  if (line.find('=') != std::string_view::npos) return keyed(line);
  const std::vector<std::string_view> cells = cells_of(line);
  if (std::any_of(cells.begin(), cells.end(), [](std::string_view cell) { return ticks_in_unit(cell).has_value(); }))
    return header(cells, wanted);
  if (columns) return row(cells, *columns);
  if (cells.size() > 1) return spoiled("has several numbers, and no header with a time column said what they are");
  const auto value = value_in(line);
  if (!value) return spoiled("is no number");
  WireSample sample;
  sample.value = *value;
  return sampled(sample);
}

}  // namespace pulsewright::live_stage
