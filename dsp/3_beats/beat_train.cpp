#include "pulsewright/beats.hpp"

namespace pulsewright {

const char* to_string(BeatVerdict verdict) {
  switch (verdict) {
    case BeatVerdict::accepted: return "accepted";
    case BeatVerdict::too_soon: return "too_soon";
    case BeatVerdict::repolarisation: return "repolarisation";
    case BeatVerdict::weak: return "weak";
    case BeatVerdict::reflected: return "reflected";
    case BeatVerdict::unreadable: return "unreadable";
    case BeatVerdict::off_rhythm: break;
  }
  return "off_rhythm";
}

const char* to_string(BeatLabel label) {
  switch (label) {
    case BeatLabel::unlabelled: return "unlabelled";
    case BeatLabel::normal: return "normal";
    case BeatLabel::supraventricular: return "supraventricular";
    case BeatLabel::ventricular: return "ventricular";
    case BeatLabel::fusion: return "fusion";
    case BeatLabel::paced: return "paced";
    case BeatLabel::unclassifiable: break;
  }
  return "unclassifiable";
}

const char* to_string(BeatSource source) {
  switch (source) {
    case BeatSource::ecg: return "ecg";
    case BeatSource::pulse: return "pulse";
    case BeatSource::intervals: return "intervals";
    case BeatSource::file: break;
  }
  return "file";
}

std::vector<Beat> BeatTrain::accepted() const {
  std::vector<Beat> beats;
  beats.reserve(candidates.size());
  for (const Beat& beat : candidates) {
    if (beat.verdict == BeatVerdict::accepted) beats.push_back(beat);
  }
  return beats;
}

std::vector<Seconds> BeatTrain::times() const {
  std::vector<Seconds> times;
  times.reserve(candidates.size());
  for (const Beat& beat : candidates) {
    if (beat.verdict == BeatVerdict::accepted) times.push_back(beat.time);
  }
  return times;
}

}  // namespace pulsewright
