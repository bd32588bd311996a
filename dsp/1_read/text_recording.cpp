#include "text_recording.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "channel_kind.hpp"
#include "interval_guess.hpp"
#include "labelled_lines.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "table_content.hpp"
#include "text_layout.hpp"
#include "text_table.hpp"
#include "time_base.hpp"
#include "time_column.hpp"

namespace pulsewright::reading {

namespace {

/// Rates that differ by less than this share are the same.
constexpr double same_rate = 1e-3;

/// A channel's name where the file has no header.
std::string default_name(std::size_t column) { return fmt::format("column {}", column + 1); }

/// Whether a column that no name makes a signal rises evenly from row to row and falls nowhere.
bool is_counter(const TextLayout& layout, std::size_t column, const ColumnName& name,
                const std::vector<float>& samples) {
  constexpr Hertz any_wave{100};  // only the name and the unit are asked
  if (layout.columns < 2 || kind_of_channel(name.name, name.unit, any_wave) != ChannelKind::other) return false;
  return rises_evenly(layout, column) && std::is_sorted(samples.begin(), samples.end());
}

bool all_missing(const std::vector<float>& samples) {
  return std::all_of(samples.begin(), samples.end(), [](float v) { return std::isnan(v); });
}

std::vector<std::string> column_names(const TextLayout& layout) {
  std::vector<std::string> names;
  for (std::size_t k = 0; k < layout.columns; ++k) {
    const bool named = !layout.names.empty() && !layout.names[k].name.empty();
    names.push_back(named ? layout.names[k].name : default_name(k));
  }
  return names;
}

/// A table that this program wrote itself, or a bare list of intervals, is told where it belongs.
void refuse_results(const TextLayout& layout, const std::string& file) {
  if (layout.names.empty()) return;
  const std::vector<std::string> names = column_names(layout);
  const TableContent content = content_of({names.begin(), names.end()});
  if (content != TableContent::samples) refuse({file}, advice_for(content));
}

/// What the numbers of a single column may be where no clock is known.
std::string interval_advice(const TextLayout& layout) {
  if (layout.columns != 1) return {};
  std::vector<double> values;
  for (const auto& row : layout.first_rows)
    if (const auto value = number_in(row[0], true)) values.push_back(*value);
  const std::optional<IntervalGuess> guess = guess_intervals(values);
  if (!guess) return {};
  return fmt::format(
      ". Values around {:.4g} may be intervals between beats in {}: --input intervals --unit {} reads those",
      guess->median, guess->unit, guess->unit);
}

/// The time base where there is no time column, or too few rows for one.
double rate_without_times(const TextLayout& layout, std::optional<Hertz> rate, const std::string& file) {
  if (layout.stated_rate) return *layout.stated_rate;
  if (rate) return rate->value();
  constexpr std::size_t most_names = 12;
  const std::vector<std::string> names = column_names(layout);
  std::string columns;
  for (std::size_t k = 0; k < std::min(names.size(), most_names); ++k)
    columns += (k == 0 ? "'" : ", '") + shown(names[k]) + "'";
  if (names.size() > most_names) columns += fmt::format(" and {} more", names.size() - most_names);
  throw Error{
      ErrorCode::usage,
      message_at({file, layout.data_line},
                 fmt::format("has no time column and states no sampling rate; give the rate in Hz (--rate HZ), or "
                             "name a column {}, with its unit as in time_s or time_ms. Its {} {}{}",
                             time_name_examples(), names.size() == 1 ? "only column is" : "columns are", columns,
                             interval_advice(layout)))};
}

std::optional<std::string> clock_start_of(const TextTable& table, const TextLayout& layout, const TimeColumn& column) {
  if (column.unit == TimeUnit::clock) {
    ClockTime first = *table.first_clock;
    if (column.date_column && !first.day && !layout.first_rows.empty())
      if (const auto date = parse_clock(layout.first_rows.front()[*column.date_column])) first.day = date->day;
    if (!first.of_day || (!first.day && first.second == 0)) return std::nullopt;  // elapsed time
    return iso_of(first);
  }
  if (!column.counts_from_1970) return std::nullopt;
  ClockTime first;
  const double day = std::floor(table.first_time / 86400);
  first.day = static_cast<std::int64_t>(day);
  first.has_time = true;
  first.second = table.first_time - day * 86400;
  first.zone = 0;
  return iso_of(first);
}

/// `names` are the columns' when the text does not name them itself.
Recording recording_of_rows(std::string_view text, const std::vector<ColumnName>& names, const std::string& file,
                            std::optional<Hertz> rate, std::size_t& bytes_read) {
  TextLayout layout = find_text_layout(text, file);
  if (names.size() == layout.columns) layout.names = names;
  refuse_results(layout, file);
  Recording recording;
  recording.provenance.format = "text";
  recording.warnings = layout.warnings;
  std::optional<double> known_rate = layout.stated_rate;
  if (!known_rate && rate) known_rate = rate->value();
  const auto column = find_time_column(layout, known_rate, file, recording.warnings);
  const bool by_samples = column && column->unit == TimeUnit::samples;
  if (by_samples && !known_rate) rate_without_times(layout, rate, file);
  TextTable table = read_text_table(text, layout, column, known_rate.value_or(1), file);
  bytes_read = table.bytes_read;
  for (Warning& warning : table.warnings) recording.warnings.push_back(std::move(warning));

  TimeBase base;
  if (column && table.rows > 1) {
    base = find_time_base(std::move(table.times), table.resolution, table.lines, file);
    if (by_samples && base.times.empty() && std::abs(base.rate - *known_rate) < same_rate * *known_rate)
      base.rate = *known_rate;
    recording.clock_start = clock_start_of(table, layout, *column);
    const bool offset =
        table.first_time != 0 && column->unit != TimeUnit::clock && !by_samples && !column->counts_from_1970;
    if (offset)
      recording.warnings.push_back({"time_offset", message_at({file, layout.data_line},
                                                              fmt::format("the time column starts at {} s; times count "
                                                                          "from the first row",
                                                                          table.first_time))});
  } else if (column && !known_rate) {
    refuse({file, layout.data_line}, "one row of samples is no recording: from one time no sampling rate can be told");
  } else {
    base.rate = rate_without_times(layout, rate, file);
  }
  for (Warning& warning : base.warnings) recording.warnings.push_back(std::move(warning));
  if (rate && std::abs(rate->value() - base.rate) > same_rate * base.rate)
    recording.warnings.push_back(
        {"rate_ignored", message_at({file}, fmt::format("the file's own rate of {:.6g} Hz is used, not the "
                                                        "stated {:.6g} Hz",
                                                        base.rate, rate->value()))});

  for (std::size_t k = 0; k < layout.columns; ++k) {
    const bool is_time = column && (column->column == k || column->date_column == k);
    if (is_time || layout.is_text[k]) continue;
    const ColumnName name = layout.names.empty() ? ColumnName{} : layout.names[k];
    if (!column && is_counter(layout, k, name, table.samples[k])) {
      recording.warnings.push_back(
          {"rising_column_left_out",
           message_at(
               {file, layout.data_line, std::nullopt, column_names(layout)[k]},
               fmt::format("this column rises evenly all along, as a time or a counter does, and is left out; the "
                           "rate of {:.6g} Hz is used. If it is the time, name it time, with its unit",
                           base.rate))});
      continue;
    }
    if (name.name.empty() && all_missing(table.samples[k])) continue;  // made by a delimiter at the end of the lines
    Channel channel;
    channel.name = name.name.empty() ? default_name(k) : name.name;
    channel.unit = name.unit;
    channel.rate = Hertz{base.rate};
    channel.kind = kind_of_channel(channel.name, channel.unit, channel.rate);
    channel.samples = std::move(table.samples[k]);
    channel.samples.shrink_to_fit();
    channel.times = base.times;
    recording.channels.push_back(std::move(channel));
  }
  if (recording.channels.empty()) refuse({file}, "holds no column of samples beside the time");
  const double last = base.times.empty() ? static_cast<double>(table.rows - 1) / base.rate : base.times.back();
  recording.duration =
      base.times.empty() ? time_of(SampleIndex{table.rows}, Hertz{base.rate}) : Seconds{last + 1 / base.rate};
  return recording;
}

}  // namespace

Recording read_text_recording(std::string_view text, const std::string& file, std::optional<Hertz> rate,
                              std::size_t& bytes_read) {
  const std::optional<PlainRows> rows = plain_rows(text);
  if (!rows) return recording_of_rows(text, {}, file, rate, bytes_read);
  Recording recording = recording_of_rows(rows->text, rows->names, file, rate, bytes_read);
  bytes_read = text.size();
  return recording;
}

}  // namespace pulsewright::reading
