#include "anchor_support.hpp"

#include <algorithm>
#include <cstddef>

namespace pulsewright::beats_stage {
namespace {

// Chosen on the development recordings without their motion channels: treadmill and wrist whole and cut to begin after 40, 80, 120 and 160 s, and those at rest.
/// A clear pulse: its lines explain most of the energy, the first is not much weaker than the others, and there is little between them. Of such windows 99 % were right, and in the wrist
/// recordings, which begin in motion, there are next to none.
constexpr float least_explained = 0.75F;
constexpr float most_overtones = 1.2F, most_between = 0.2F;
/// Faster than a heart usually is at rest, and as clear, may be a cadence: then there must be no trace of the stride, at half of it.
constexpr double fast_bpm = 120.0;
constexpr float most_between_if_fast = 0.02F;
/// Between the lines so much as would be strange of a pulse.
constexpr float strange_between = 0.5F;
/// Where the path is less sure of itself than this it says nothing of what lies beyond.
constexpr double broken_agreement = 0.9;
/// Without an anchor, nine of ten windows were right, but the wrong ones lay together in few recordings; where the lines are strange, three of four.
constexpr double usual_without_anchor = 0.8, strange_without_anchor = 0.5;

bool clear(const AnchorClues& window) {
  const RateLines& lines = window.lines;
  const float between = window.rate_bpm < fast_bpm ? most_between : most_between_if_fast;
  return lines.first + lines.overtones > least_explained && lines.overtones < most_overtones * lines.first &&
         lines.between < between * lines.first;
}

bool strange(const RateLines& lines) {
  return lines.overtones > most_overtones * lines.first || lines.between > strange_between * lines.first;
}

/// The weakest link since the last clear window.
double led_from(double before, const AnchorClues& window) {
  if (clear(window)) return 1.0;
  return std::min(before, std::clamp((window.agreement - broken_agreement) / (1.0 - broken_agreement), 0.0, 1.0));
}

}  // namespace

std::vector<AnchorSupport> anchor_support(std::span<const AnchorClues> windows, bool causal) {
  std::vector<AnchorSupport> all(windows.size());
  double anchored = 0.0;
  for (std::size_t k = 0; k < windows.size(); ++k) {
    anchored = led_from(anchored, windows[k]);
    all[k] = {anchored, strange(windows[k].lines) ? strange_without_anchor : usual_without_anchor};
  }
  if (causal) return all;
  anchored = 0.0;
  for (std::size_t k = windows.size(); k-- > 0;) {
    anchored = led_from(anchored, windows[k]);
    all[k].anchored = std::max(all[k].anchored, anchored);
  }
  return all;
}

}  // namespace pulsewright::beats_stage
