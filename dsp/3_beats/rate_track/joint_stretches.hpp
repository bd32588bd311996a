/// The windows of a recording, a stretch of them at a time: spectra, and what they say of each pair of a heart and a stride.
#pragma once

#include <array>
#include <cstddef>
#include <future>
#include <vector>

#include "joint_evidence.hpp"
#include "joint_path.hpp"
#include "joint_states.hpp"
#include "pulse_spectra.hpp"

namespace pulsewright::beats_stage {

/// Works out one stretch while the ones before it are in use: in a thread beside, or, without one, when it is asked for.
class JointStretches {
 public:
  /// Both must outlive this.
  JointStretches(const PulseSpectra& spectra, const JointEvidence& view, bool beside);

  /// Likelihood of each pair in window k, as `JointPath::Evidence` asks for it: it goes when the stretch after the next is asked for.
  [[nodiscard]] JointStates& likelihood(std::size_t k);
  /// The spectra of a window whose likelihood is still there.
  [[nodiscard]] JointEvidence::Window window(std::size_t k) const;

 private:
  struct Stretch {
    std::vector<PulseSpectrum> spectra;
    std::vector<JointStates> likelihoods;
  };
  static constexpr std::size_t length = JointPath::stretch;
  /// One that is coming, one in use, and the one before it.
  static constexpr std::size_t kept = 3;

  void start(std::size_t number);
  void work_out(std::size_t number);

  const PulseSpectra& spectra_;
  const JointEvidence& view_;
  std::launch when_;
  std::array<Stretch, kept> stretches_;
  std::size_t ready_ = 0;     ///< stretches that were worked out
  std::future<void> coming_;  ///< the last member: it is waited for before the others go
};

}  // namespace pulsewright::beats_stage
