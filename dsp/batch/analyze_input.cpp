#include <algorithm>
#include <utility>

#include "pulsewright/batch.hpp"
#include "pulsewright/beat_shapes.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {
namespace {

/// The beats of a list inside [start, end); the time before `start` was not looked at.
void keep_stretch(BeatTrain& beats, std::optional<Seconds> start, std::optional<Seconds> end) {
  if (!start && !end) return;
  const Span kept{start.value_or(Seconds{0}), end ? std::min(*end, beats.duration) : beats.duration};
  if (!(kept.start < kept.end))
    throw Error(ErrorCode::usage, "--start and --end leave nothing of " + beats.provenance.input);
  std::erase_if(beats.candidates, [kept](const Beat& beat) { return beat.time < kept.start || kept.end < beat.time; });
  if (Seconds{0} < kept.start) beats.unreadable.insert(beats.unreadable.begin(), Span{Seconds{0}, kept.start});
  beats.duration = kept.end;
}

BeatTrain labelled_beats(const Recording& recording, const FindOptions& options) {
  return find_and_label_beats(recording, choose_signals(recording, options), options);
}

BeatTrain listed_beats(const Request& request) {
  BeatTrain beats = request.form == InputForm::intervals ? read_intervals(request.input, request.unit)
                                                         : read_beats(request.input, request.reference_rate).beats;
  keep_stretch(beats, request.read.start, request.read.end);
  return beats;
}

/// Runs what reads a recording; what the reader noticed may be why it fails: without a result to carry them, its warnings go with the refusal.
template <typename Work>
auto with_warnings(const Recording& recording, const Work& work) {
  try {
    return work();
  } catch (const Error& error) {
    std::string message = error.what();
    for (const Warning& warning : recording.warnings) message += "; " + warning.message + " [" + warning.code + "]";
    throw Error(error.code(), message);
  }
}

AnalyzeOptions analyze_options(const Request& request, const BeatReview& review) {
  AnalyzeOptions options;
  options.rate = request.rate;
  options.effort = request.effort;
  options.threads = request.threads;
  options.review = [&](BeatTrain beats) {
    beats.provenance.options = options_json(request);
    beats.provenance.version = version();
    return review ? review(std::move(beats)) : beats;
  };
  return options;
}

}  // namespace

FindOptions find_options(const Request& request, const Recording& recording) {
  FindOptions options;
  options.kind = request.kind;
  options.streaming = request.streaming;
  for (const std::string& selector : request.channels) {
    const std::size_t position = find_channel(recording, selector);
    if (std::find(options.channels.begin(), options.channels.end(), position) == options.channels.end())
      options.channels.push_back(position);
  }
  static_cast<void>(motion_channels(request, recording));  // wrong names are refused whatever needs them
  return options;
}

std::optional<std::vector<std::size_t>> motion_channels(const Request& request, const Recording& recording) {
  if (!request.motion) return std::nullopt;
  std::vector<std::size_t> positions;
  for (const std::string& name : *request.motion) {
    const std::size_t position = find_channel(recording, name);
    const Channel& channel = recording.channels[position];
    if (channel.kind != ChannelKind::acceleration && channel.kind != ChannelKind::gyro)
      throw Error(ErrorCode::usage, "--motion: '" + channel.name + "' is a channel of kind " + to_string(channel.kind) +
                                        "; motion channels are of kind acceleration or gyro");
    positions.push_back(position);
  }
  return positions;
}

InputBeats beats_and_clock_of(const Request& request) {
  if (request.form != InputForm::recording) return {listed_beats(request), std::nullopt};
  const Recording recording = read_recording(request.input, request.read);
  return with_warnings(recording, [&] {
    return InputBeats{labelled_beats(recording, find_options(request, recording)), std::nullopt, recording.clock_start};
  });
}

BeatTrain beats_of(const Request& request) { return beats_and_clock_of(request).beats; }

InputBeats beats_and_track_of(const Request& request) {
  if (request.form != InputForm::recording) return {listed_beats(request), std::nullopt};
  const Recording recording = read_recording(request.input, request.read);
  return with_warnings(recording, [&] {
    AnalyzeOptions options;
    options.find = find_options(request, recording);
    options.motion = motion_channels(request, recording);
    const ChosenSignals chosen = choose_signals(recording, options.find);
    InputBeats found{find_and_label_beats(recording, chosen, options.find), std::nullopt, recording.clock_start};
    found.track = track_beside(chosen, recording, options);
    return found;
  });
}

Analysis analyze(const Recording& recording, const Request& request, const BeatReview& review) {
  return with_warnings(recording, [&] {
    AnalyzeOptions options = analyze_options(request, review);
    options.find = find_options(request, recording);
    options.motion = motion_channels(request, recording);
    return analyze(recording, request.person, options);
  });
}

Analysis analyze_input(const Request& request, const BeatReview& review) {
  if (request.form == InputForm::recording)
    return analyze(read_recording(request.input, request.read), request, review);
  return analyze(listed_beats(request), request.person, analyze_options(request, review));
}

}  // namespace pulsewright
