#include <cmath>

#include "decimals.hpp"
#include "pulsewright/report.hpp"
#include "text_files.hpp"

namespace pulsewright::simulation {

namespace {

int decimals_of(const std::optional<Converter>& converter) {
  constexpr int unconverted = 6;
  return converter ? decimals_for_step(converter->step()) : unconverted;
}

int decimals_of(const Scenario& scenario, ChannelKind kind) {
  if (kind == ChannelKind::ecg) return decimals_of(scenario.ecg->converter);
  if (kind == ChannelKind::pulse) return decimals_of(scenario.pulse->converter);
  return decimals_of(scenario.motion->converter);
}

}  // namespace

std::string recording_csv(const Simulation& simulation) {
  const std::vector<Channel>& channels = simulation.recording.channels;
  constexpr int stamp_decimals = 6;
  const bool stamped = !channels.front().times.empty();
  const int time_decimals = stamped ? stamp_decimals : decimals_for_times(channels.front().rate.value());

  std::string bytes = "time_s";
  std::vector<int> decimals;
  for (const Channel& channel : channels) {
    bytes += ',' + channel.name + '_' + channel.unit;
    decimals.push_back(decimals_of(simulation.scenario, channel.kind));
  }
  bytes += '\n';
  for (std::size_t i = 0; i < channels.front().samples.size(); ++i) {
    const Seconds time = channels.front().time_of_sample(SampleIndex{static_cast<std::int64_t>(i)});
    bytes += format_number(time.value(), time_decimals);
    for (std::size_t c = 0; c < channels.size(); ++c) {
      const auto value = static_cast<double>(channels[c].samples[i]);
      bytes += ',';
      if (!std::isnan(value)) bytes += format_number(value, decimals[c]);
    }
    bytes += '\n';
  }
  return bytes;
}

}  // namespace pulsewright::simulation
