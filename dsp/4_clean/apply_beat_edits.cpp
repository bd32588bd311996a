#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pulsewright/beat_edits.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {

namespace {

/// The accepted beat closest to a time, if it is the same beat.
std::optional<std::size_t> beat_at(const BeatTrain& beats, Seconds time) {
  std::optional<std::size_t> best;
  double least = same_beat.value();
  for (std::size_t i = 0; i < beats.candidates.size(); ++i) {
    const double distance = std::abs((beats.candidates[i].time - time).value());
    if (beats.candidates[i].verdict != BeatVerdict::accepted || distance > least) continue;
    least = distance;
    best = i;
  }
  return best;
}

/// Samples a second, from the first and the last candidate; 0 when there are not two.
double rate_of_samples(const BeatTrain& beats) {
  if (beats.candidates.size() < 2) return 0.0;
  const Beat &first = beats.candidates.front(), &last = beats.candidates.back();
  return static_cast<double>(last.sample - first.sample) / (last.time - first.time).value();
}

void put(BeatTrain& beats, Beat beat, Seconds time) {
  if (!beats.candidates.empty()) {
    const Beat& first = beats.candidates.front();
    beat.sample = first.sample + std::llround((time - first.time).value() * rate_of_samples(beats));
  }
  beat.time = time;
  beat.foot.reset();
  beat.confidence = 1.0;
  beat.verdict = BeatVerdict::accepted;
  const auto place = std::upper_bound(beats.candidates.begin(), beats.candidates.end(), time,
                                      [](Seconds t, const Beat& other) { return t < other.time; });
  beats.candidates.insert(place, beat);
}

}  // namespace

BeatTrain apply_beat_edits(BeatTrain beats, std::span<const BeatEdit> edits) {
  for (const BeatEdit& edit : edits) {
    const std::optional<std::size_t> at = beat_at(beats, edit.time);
    const auto refuse = [&](const std::string& why) {
      throw Error{ErrorCode::usage, fmt::format("edit '{}' at {:.6f} s by {}: {}", to_string(edit.action),
                                                edit.time.value(), edit.author, why)};
    };
    if (edit.action == EditAction::keep) continue;
    if (edit.action == EditAction::add) {
      if (at) refuse(fmt::format("there is a beat at {:.6f} s already", beats.candidates[*at].time.value()));
      Beat beat;
      beat.label = edit.label;
      put(beats, beat, edit.time);
      continue;
    }
    if (!at) refuse(fmt::format("there is no accepted beat within {:g} s", same_beat.value()));
    Beat& beat = beats.candidates[*at];
    if (edit.action == EditAction::relabel) {
      beat.label = edit.label;
      continue;
    }
    const Beat as_found = beat;
    beats.candidates.erase(beats.candidates.begin() + static_cast<std::ptrdiff_t>(*at));
    if (edit.action == EditAction::remove) continue;
    if (const auto other = beat_at(beats, *edit.to))
      refuse(fmt::format("there is another beat at {:.6f} s", beats.candidates[*other].time.value()));
    put(beats, as_found, *edit.to);
  }
  return beats;
}

}  // namespace pulsewright
