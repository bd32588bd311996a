#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "doubtful_stretches.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright {
namespace {

// For messages, which name so many at most.
std::string list_of_channels(const Recording& recording) {
  constexpr std::size_t most_named = 40;
  const std::size_t count = recording.channels.size();
  std::string list;
  for (std::size_t i = 0; i < std::min(count, most_named); ++i) {
    if (i > 0) list += ", ";
    list +=
        std::to_string(i + 1) + " '" + recording.channels[i].name + "' (" + to_string(recording.channels[i].kind) + ")";
  }
  if (count > most_named) list += " and " + std::to_string(count - most_named) + " more";
  return list;
}

ChannelKind kind_of(const Channel& channel) {
  return channel.kind == ChannelKind::other ? guess_kind(channel) : channel.kind;
}

std::vector<std::size_t> channels_of_kind(const Recording& recording, ChannelKind kind) {
  std::vector<std::size_t> found;
  // What the file names counts first; shape is asked only when no name tells.
  for (std::size_t i = 0; i < recording.channels.size(); ++i) {
    if (recording.channels[i].kind == kind) found.push_back(i);
  }
  if (!found.empty()) return found;
  for (std::size_t i = 0; i < recording.channels.size(); ++i) {
    if (recording.channels[i].kind == ChannelKind::other && guess_kind(recording.channels[i]) == kind)
      found.push_back(i);
  }
  return found;
}

// The channels to use and what they measure.
struct Choice {
  std::vector<std::size_t> channels;
  ChannelKind kind;
};

Choice choose(const Recording& recording, const FindOptions& options) {
  const auto wanted = [&](ChannelKind kind) {
    return options.kind == KindChoice::automatic || (options.kind == KindChoice::ecg) == (kind == ChannelKind::ecg);
  };
  if (!options.channels.empty()) {
    Choice choice{options.channels, ChannelKind::other};
    for (const std::size_t i : options.channels) {
      if (i >= recording.channels.size()) {
        throw Error{ErrorCode::usage, recording.provenance.input + ": channel " + std::to_string(i + 1) +
                                          " does not exist; there are: " + list_of_channels(recording)};
      }
      const Channel& channel = recording.channels[i];
      ChannelKind kind = kind_of(channel);
      if (kind == ChannelKind::other && options.kind != KindChoice::automatic) {
        kind = options.kind == KindChoice::ecg ? ChannelKind::ecg : ChannelKind::pulse;
      }
      if ((kind != ChannelKind::ecg && kind != ChannelKind::pulse) || !wanted(kind)) {
        throw Error{ErrorCode::usage, recording.provenance.input + ": channel " + std::to_string(i + 1) + " '" +
                                          channel.name + "' is " + to_string(kind) + ", not " +
                                          (options.kind == KindChoice::pulse ? "an optical pulse"
                                           : options.kind == KindChoice::ecg ? "an ECG"
                                                                             : "an ECG or optical pulse") +
                                          "; say which with --kind"};
      }
      if (choice.kind != ChannelKind::other && choice.kind != kind) {
        throw Error{ErrorCode::usage, recording.provenance.input +
                                          ": the chosen channels mix ECG and pulse: " + list_of_channels(recording)};
      }
      choice.kind = kind;
    }
    return choice;
  }
  for (const ChannelKind kind : {ChannelKind::ecg, ChannelKind::pulse}) {
    if (!wanted(kind)) continue;
    if (std::vector<std::size_t> found = channels_of_kind(recording, kind); !found.empty())
      return {std::move(found), kind};
  }
  throw Error{ErrorCode::usage, recording.provenance.input + ": no " +
                                    (options.kind == KindChoice::ecg     ? "ECG"
                                     : options.kind == KindChoice::pulse ? "optical pulse"
                                                                         : "ECG or optical pulse") +
                                    " channel; there are: " + list_of_channels(recording)};
}

// Causal processing of uniform signals, fed at once: by the promise of BeatStream the chunks do not matter.
BeatTrain stream(const ChosenSignals& chosen, Seconds duration, const FindOptions& options) {
  const std::vector<Signal>& grids = chosen.signals;
  BeatStream detector{chosen.kind, grids[0].rate, grids.size(), options};
  std::vector<std::span<const float>> chunk;
  chunk.reserve(grids.size());
  for (const Signal& grid : grids) chunk.emplace_back(grid.values);
  BeatTrain train;
  train.duration = duration;
  train.source = chosen.kind == ChannelKind::ecg ? BeatSource::ecg : BeatSource::pulse;
  detector.push(chunk, train.candidates);
  detector.finish(train.candidates);
  for (Beat& beat : train.candidates) {
    beat.time += grids[0].start;
    if (beat.foot) *beat.foot += grids[0].start;
  }
  train.unreadable = detector.unreadable();
  beats_stage::declare_doubtful_stretches(train);
  return train;
}

}  // namespace

ChosenSignals choose_signals(const Recording& recording, const FindOptions& options) {
  const Choice choice = choose(recording, options);
  const Channel& first = recording.channels[choice.channels.front()];

  ChosenSignals chosen;
  chosen.kind = choice.kind;
  chosen.warnings = recording.warnings;
  for (const std::size_t i : choice.channels) {
    // Copied only where its kind was guessed.
    std::optional<Channel> guessed;
    if (recording.channels[i].kind != choice.kind) guessed.emplace(recording.channels[i]).kind = choice.kind;
    const Channel& channel = guessed ? *guessed : recording.channels[i];
    Signal signal =
        options.streaming ? uniform_signal(channel, options.condition) : condition(channel, options.condition);
    if (!chosen.signals.empty() && (signal.rate != chosen.signals[0].rate || signal.start != chosen.signals[0].start ||
                                    signal.values.size() != chosen.signals[0].values.size())) {
      chosen.warnings.push_back(
          {"channel_left_out", "channel '" + channel.name + "' is not on the same clock grid as '" + first.name +
                                   "' and is left out of the fusion; choose it alone with --channel"});
      continue;
    }
    chosen.warnings.insert(chosen.warnings.end(), signal.warnings.begin(), signal.warnings.end());
    chosen.channels.push_back(i);
    chosen.signals.push_back(std::move(signal));
  }
  return chosen;
}

BeatTrain find_beats(const Recording& recording, const ChosenSignals& chosen, const FindOptions& options) {
  if (chosen.signals.empty()) throw Error{ErrorCode::contract, "find_beats: no signal was chosen"};
  const Channel& first = recording.channels[chosen.channels.front()];
  BeatTrain train = options.streaming ? stream(chosen, recording.duration, options)
                    : chosen.kind == ChannelKind::ecg
                        ? find_ecg_beats(chosen.signals, recording.duration, options.ecg)
                        : find_pulse_beats(chosen.signals, recording.duration, options.pulse);
  for (Beat& beat : train.candidates) beat.sample = first.sample_at(beat.time) + first.skipped;
  train.warnings.insert(train.warnings.begin(), chosen.warnings.begin(), chosen.warnings.end());
  train.provenance = recording.provenance;
  train.provenance.version = version();
  return train;
}

BeatTrain find_beats(const Recording& recording, const FindOptions& options) {
  return find_beats(recording, choose_signals(recording, options), options);
}

}  // namespace pulsewright
