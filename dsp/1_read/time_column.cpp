#include "time_column.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "clock_text.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright::reading {

namespace {

/// Fewer rows than this do not show that a nameless column is a clock.
constexpr std::size_t fewest_rows = 8;
/// Steps of a nameless clock differ by at most this share of their median.
constexpr double step_spread = 0.5;
/// A nameless clock agrees with a known rate within this share.
constexpr double same_rate = 0.02;
/// Larger steps than this are microseconds: 100 ms would be 10 Hz, too slow for a heartbeat's shape.
constexpr double longest_step_ms = 100;

std::string base_name(const ColumnName& name) {
  std::string base = lower_case(name.name);
  std::replace(base.begin(), base.end(), ' ', '_');
  std::replace(base.begin(), base.end(), '-', '_');
  return base;
}

template <std::size_t n>
bool one_of(const std::string& word, const char* const (&known)[n]) {
  return std::any_of(std::begin(known), std::end(known), [&](const char* k) { return word == k; });
}

constexpr const char* time_names[] = {
    "time", "t", "timestamp", "time_stamp", "elapsed", "elapsed_time", "ts", "datetime", "date_time", "clock",
    "time_of_day", "local_time", "rel_time", "seconds", "secs", "sec", "s", "millis", "ms", "milliseconds", "micros",
    "us", "microseconds", "utc", "epoch",
    // German
    "zeit", "uhrzeit", "zeitstempel", "zeitpunkt", "laufzeit", "messzeit", "sekunden", "millisekunden", "mikrosekunden",
    // French
    "temps", "heure", "horodatage", "secondes", "millisecondes", "microsecondes",
    // Spanish, Italian, Portuguese
    "tiempo", "hora", "segundos", "milisegundos", "tempo", "ora", "secondi",
    // Dutch, Swedish, Danish and Norwegian, Polish
    "tijd", "tid", "czas"};
constexpr const char* index_names[] = {
    "sample", "sample_#", "samples", "sample_index", "sample_number", "index",       "idx",     "n",
    "no",     "nr",       "#",       "row",          "counter",       "i_sample",    "messung", "messwert_nr",
    "nummer", "zaehler",  "zähler",  "zeile",        "echantillon",   "échantillon", "numero",  "numéro",
    "número", "indice",   "índice",  "muestra",      "fila"};

bool named_time(const ColumnName& name) {
  std::string base = base_name(name);
  if (one_of(base, time_names)) return true;
  const std::size_t in = base.rfind("_in_");  // `time in ms`
  if (in != std::string::npos && !name.unit.empty()) return one_of(base.substr(0, in), time_names);
  const std::size_t mark = base.rfind('_');  // `time_ms`: the suffix is the unit
  return mark != std::string::npos && !name.unit.empty() && one_of(base.substr(0, mark), time_names);
}

constexpr const char* second_names[] = {"seconds", "secs", "sec", "s", "sekunden", "secondes", "segundos", "secondi"};
constexpr const char* millisecond_names[] = {"millis",        "ms",          "milliseconds", "millisekunden",
                                             "millisecondes", "milisegundos"};
constexpr const char* microsecond_names[] = {"micros", "us", "microseconds", "mikrosekunden", "microsecondes"};

}  // namespace

std::optional<TimeUnit> stated_unit(const ColumnName& name) {
  const std::string unit = name.unit;
  const std::string base = base_name(name);
  if (unit == "s" || one_of(base, second_names)) return TimeUnit::seconds;
  if (unit == "ms" || one_of(base, millisecond_names)) return TimeUnit::milliseconds;
  if (unit == "us" || one_of(base, microsecond_names)) return TimeUnit::microseconds;
  if (unit == "ns") return TimeUnit::nanoseconds;
  if (unit == "min") return TimeUnit::minutes;
  if (unit == "samples") return TimeUnit::samples;
  return std::nullopt;
}

namespace {

const char* word_for(TimeUnit unit) {
  switch (unit) {
    case TimeUnit::nanoseconds: return "nanoseconds";
    case TimeUnit::microseconds: return "microseconds";
    case TimeUnit::milliseconds: return "milliseconds";
    case TimeUnit::seconds: return "seconds";
    case TimeUnit::minutes: return "minutes";
    case TimeUnit::samples: return "sample numbers";
    case TimeUnit::clock: break;
  }
  return "clock times";
}

std::vector<double> numbers_in(const TextLayout& layout, std::size_t column) {
  std::vector<double> numbers;
  for (const auto& row : layout.first_rows)
    if (const auto value = number_in(row[column], true)) numbers.push_back(*value);
  return numbers;
}

bool is_clock_column(const TextLayout& layout, std::size_t column, bool with_time) {
  std::size_t clocks = 0;
  for (const auto& row : layout.first_rows) {
    const auto time = parse_clock(row[column]);
    if (!time || time->has_time != with_time) return false;
    ++clocks;
  }
  return clocks > 0;
}

double median_step(const std::vector<double>& numbers) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < numbers.size(); ++i)
    if (numbers[i] > numbers[i - 1]) steps.push_back(numbers[i] - numbers[i - 1]);
  if (steps.empty()) return 0;
  return upper_median(std::span(steps));
}

bool even_rise(const std::vector<double>& numbers) {
  if (numbers.size() < fewest_rows) return false;
  const double median = median_step(numbers);
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    const double step = numbers[i] - numbers[i - 1];
    if (!(step > 0) || std::abs(step - median) > step_spread * median) return false;
  }
  return true;
}

/// Tells the unit from the numbers.
TimeUnit guessed_unit(const std::vector<double>& numbers, bool rate_known, bool& from_1970) {
  const double first = numbers.empty() ? 0 : numbers.front();
  from_1970 = true;
  if (first > 1e17) return TimeUnit::nanoseconds;
  if (first > 1e14) return TimeUnit::microseconds;
  if (first > 1e11) return TimeUnit::milliseconds;
  const bool whole = std::all_of(numbers.begin(), numbers.end(), [](double v) { return v == std::floor(v); });
  if (first > 1e9 && !whole) return TimeUnit::seconds;
  from_1970 = false;
  const double step = median_step(numbers);
  if (!whole || step < 1) return TimeUnit::seconds;
  if (step == 1 && rate_known) return TimeUnit::samples;
  return step <= longest_step_ms ? TimeUnit::milliseconds : TimeUnit::microseconds;
}

}  // namespace

double seconds_in(TimeUnit unit) {
  switch (unit) {
    case TimeUnit::nanoseconds: return 1e-9;
    case TimeUnit::microseconds: return 1e-6;
    case TimeUnit::milliseconds: return 1e-3;
    case TimeUnit::seconds: return 1;
    case TimeUnit::minutes: return 60;
    case TimeUnit::samples:
    case TimeUnit::clock: break;
  }
  return 0;
}

std::string_view time_name_examples() { return "time, timestamp, zeit, uhrzeit, temps, heure, tiempo or hora"; }

bool rises_evenly(const TextLayout& layout, std::size_t column) {
  const std::vector<double> numbers = numbers_in(layout, column);
  return numbers.size() == layout.first_rows.size() && even_rise(numbers);
}

bool is_time_name(std::string_view cell) { return named_time(column_name(cell)); }

std::optional<TimeColumn> find_time_column(const TextLayout& layout, std::optional<double> known_rate,
                                           const std::string& file, Warnings& warnings) {
  std::optional<TimeColumn> found;
  std::optional<std::size_t> date_column;
  for (std::size_t k = 0; k < layout.columns; ++k) {
    if (is_clock_column(layout, k, false)) {
      if (!date_column) date_column = k;
    } else if (!found && is_clock_column(layout, k, true)) {
      found = TimeColumn{k, TimeUnit::clock, std::nullopt, false};
    }
  }
  if (found) {
    found->date_column = date_column;
    return found;
  }
  for (std::size_t k = 0; k < layout.names.size() && !found; ++k)
    if (named_time(layout.names[k])) found = TimeColumn{k, TimeUnit::seconds, date_column, false};
  bool index = false;
  if (!found && layout.columns > 1) {
    const std::string name = layout.names.empty() ? std::string{} : base_name(layout.names[0]);
    index = one_of(name, index_names);
    if (index || (name.empty() && even_rise(numbers_in(layout, 0))))
      found = TimeColumn{0, TimeUnit::seconds, date_column, false};
  }
  if (!found) return std::nullopt;
  if (index) {
    found->unit = TimeUnit::samples;
    return found;
  }
  const std::vector<double> numbers = numbers_in(layout, found->column);
  const ColumnName name = layout.names.empty() ? ColumnName{} : layout.names[found->column];
  const TimeUnit guess = guessed_unit(numbers, known_rate.has_value(), found->counts_from_1970);
  if (const auto stated = stated_unit(name)) {
    found->unit = *stated;
    found->counts_from_1970 = found->counts_from_1970 && *stated == guess;
    return found;
  }
  found->unit = guess;
  if (name.name.empty() && known_rate && guess != TimeUnit::samples &&
      std::abs(median_step(numbers) * seconds_in(guess) * *known_rate - 1) > same_rate)
    return std::nullopt;
  if (guess != TimeUnit::samples)
    warnings.push_back(
        {"time_unit_assumed", message_at({file, layout.data_line, std::nullopt,
                                          name.name.empty() ? fmt::format("{}", found->column + 1) : name.name},
                                         fmt::format("the unit of time is not stated; steps of {:.6g} are taken as {}",
                                                     median_step(numbers), word_for(guess)))});
  return found;
}

}  // namespace pulsewright::reading
