#include "joint_stretches.hpp"

#include <algorithm>

namespace pulsewright::beats_stage {

JointStretches::JointStretches(const PulseSpectra& spectra, const JointEvidence& view, bool beside)
    : spectra_(spectra),
      view_(view),
      when_(beside ? std::launch::async | std::launch::deferred : std::launch::deferred) {
  start(0);
}

void JointStretches::start(std::size_t number) {
  if (number * length < spectra_.windows()) coming_ = std::async(when_, [this, number] { work_out(number); });
}

void JointStretches::work_out(std::size_t number) {
  const std::size_t first = number * length;
  const std::size_t windows = std::min(length, spectra_.windows() - first), channels = spectra_.channels();
  Stretch& stretch = stretches_[number % kept];
  stretch.spectra.resize(windows * channels);
  stretch.likelihoods.resize(windows);
  spectra_.work_out(first, stretch.spectra);
  for (std::size_t i = 0; i < windows; ++i)
    view_.weigh(std::span{stretch.spectra}.subspan(i * channels, channels), stretch.likelihoods[i]);
}

JointStates& JointStretches::likelihood(std::size_t k) {
  if (k / length == ready_) {
    coming_.get();
    start(++ready_);
  }
  return stretches_[k / length % kept].likelihoods[k % length];
}

JointEvidence::Window JointStretches::window(std::size_t k) const {
  const std::size_t channels = spectra_.channels();
  return std::span{stretches_[k / length % kept].spectra}.subspan(k % length * channels, channels);
}

}  // namespace pulsewright::beats_stage
