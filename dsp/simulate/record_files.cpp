#include "record_files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "conversion.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright::simulation {

namespace {

constexpr int most_bits = 16;
/// Code 16 keeps this value for samples that were not recorded.
constexpr long missing = -32768;

/// How a channel's codes are stored: shifted to be centred on zero.
struct Storage {
  Converter converter;
  long shift = 0;     ///< stored value = code - shift
  long baseline = 0;  ///< stored value of 0 in the channel's unit
};

[[noreturn]] void refuse(const std::string& channel, const std::string& rule) {
  throw Error(ErrorCode::usage, fmt::format("channel '{}' cannot be written as an open record: {}", channel, rule));
}

Storage storage_of(const Scenario& scenario, const Channel& channel) {
  const std::optional<Converter>& converter = channel.kind == ChannelKind::ecg     ? scenario.ecg->converter
                                              : channel.kind == ChannelKind::pulse ? scenario.pulse->converter
                                                                                   : scenario.motion->converter;
  if (!converter || converter->bits > most_bits) refuse(channel.name, "it needs a converter of at most 16 bits");
  if (!channel.times.empty()) refuse(channel.name, "it needs a uniform clock, not time stamps");
  Storage storage{*converter, 1L << (converter->bits - 1), 0};
  const double zero = -converter->low / converter->step();
  if (zero != std::floor(zero) || std::abs(zero) > 1e9) refuse(channel.name, "0 must fall on a whole code");
  storage.baseline = static_cast<long>(zero) - storage.shift;
  return storage;
}

long stored(const Storage& storage, float value) {
  if (std::isnan(value)) return missing;
  return std::max(code_of(storage.converter, static_cast<double>(value)) - storage.shift, missing + 1);
}

int beat_code(BeatLabel label) {
  constexpr int normal = 1;
  constexpr int ventricular = 5;
  constexpr int supraventricular = 9;
  if (label == BeatLabel::ventricular) return ventricular;
  return label == BeatLabel::supraventricular ? supraventricular : normal;
}

}  // namespace

std::vector<NamedBytes> record_files(const Simulation& simulation, const BeatTrain& beats, const std::string& stem) {
  const std::vector<Channel>& channels = simulation.recording.channels;
  const std::size_t frames = channels.front().samples.size();
  std::vector<Storage> storages;
  storages.reserve(channels.size());
  for (const Channel& channel : channels) storages.push_back(storage_of(simulation.scenario, channel));

  std::string data;
  data.reserve(2 * frames * channels.size());
  std::vector<std::uint16_t> sums(channels.size(), 0);
  for (std::size_t i = 0; i < frames; ++i) {
    for (std::size_t c = 0; c < channels.size(); ++c) {
      const auto word = static_cast<std::uint16_t>(stored(storages[c], channels[c].samples[i]));
      data += static_cast<char>(word & 0xff);
      data += static_cast<char>(word >> 8);
      sums[c] = static_cast<std::uint16_t>(sums[c] + word);
    }
  }

  std::string header = fmt::format("{} {} {} {}\n", stem, channels.size(), simulation.scenario.rate.value(), frames);
  for (std::size_t c = 0; c < channels.size(); ++c) {
    const Storage& s = storages[c];
    header += fmt::format("{}.dat 16 {}({})/{} {} 0 {} {} 0 {}\n", stem, 1.0 / s.converter.step(), s.baseline,
                          channels[c].unit, s.converter.bits, stored(s, channels[c].samples.front()),
                          static_cast<std::int16_t>(sums[c]), channels[c].name);
  }
  header += "# simulated by pulsewright; the beats beside it are the truth\n";

  std::vector<Annotation> annotations;
  for (const Beat& beat : beats.candidates) annotations.push_back({beat.sample, beat_code(beat.label), 0, 0, 0, ""});
  return {{stem + ".hea", header}, {stem + ".dat", data}, {stem + ".atr", annotation_bytes(annotations)}};
}

}  // namespace pulsewright::simulation
