#include <utility>

#include "pulsewright/beat_shapes.hpp"

namespace pulsewright {

BeatTrain find_and_label_beats(const Recording& recording, const ChosenSignals& chosen, const FindOptions& options) {
  BeatTrain beats = find_beats(recording, chosen, options);
  return options.streaming ? beats : label_by_shape(std::move(beats), chosen.signals);
}

}  // namespace pulsewright
