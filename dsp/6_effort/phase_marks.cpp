#include <fmt/format.h>

#include <cmath>

#include "pulsewright/phases.hpp"
#include "pulsewright/table.hpp"

namespace pulsewright {

std::vector<PhaseMark> read_marks(const std::filesystem::path& path) {
  const Table table = read_table(path);
  TableFaults faults(table.file);
  const std::string time_column = table.column("start_s") ? "start_s" : "time_s";
  if (!table.column(time_column) || !table.column("phase"))
    faults.add(table.header_line, "marks have the columns start_s (or time_s) and phase");
  faults.refuse();
  std::vector<PhaseMark> marks;
  for (const TableRow& row : table.rows) {
    const std::string name{table.cell(row, "phase")};
    const auto time = table.number(table.cell(row, time_column));
    if (!time || *time < 0)
      faults.add(row.line, time_column, table.cell(row, time_column), "a mark lies at a number of seconds, 0 or later");
    else if (!marks.empty() && !(marks.back().time.value() < *time))
      faults.add(row.line, time_column, table.cell(row, time_column),
                 "marks rise in time; this one lies before the one above");
    else if (name.empty())
      faults.add(row.line, "phase", name,
                 "a mark names the phase that begins: rest, warm_up, work, pause, cool_down, or a name of your own");
    else {
      const auto kind = phase_kind_of(name);
      marks.push_back({Seconds{*time}, kind, kind ? std::string{} : name});
      const std::string_view exertion = table.cell(row, "exertion");
      const auto value = table.number(exertion);
      if (exertion.empty()) continue;
      if (value && *value == std::floor(*value) && least_exertion <= *value && *value <= most_exertion)
        marks.back().exertion = static_cast<int>(*value);
      else
        faults.add(row.line, "exertion", exertion, "perceived exertion is a whole number from 6 to 20");
    }
  }
  if (table.rows.empty()) faults.add(table.header_line, "no mark stands below the columns");
  faults.refuse();
  return marks;
}

std::vector<PhaseMark> marks_of_channel(const Channel& channel, Seconds shortest) {
  std::vector<PhaseMark> marks;
  const double need = samples_in(shortest, channel.rate);
  std::size_t at = 0;
  while (at < channel.samples.size()) {
    std::size_t end = at + 1;
    while (end < channel.samples.size() && channel.samples[end] == channel.samples[at]) ++end;
    const bool kept = static_cast<double>(end - at) >= need && !std::isnan(channel.samples[at]);
    const std::string name = kept ? fmt::format("{:g}", channel.samples[at]) : std::string{};
    if (kept && (marks.empty() || marks.back().name != name))
      marks.push_back({channel.time_of_sample(SampleIndex{static_cast<std::int64_t>(at)}), std::nullopt, name});
    at = end;
  }
  return marks;
}

}  // namespace pulsewright
