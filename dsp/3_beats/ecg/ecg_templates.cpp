#include "ecg_templates.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "3_beats/simd_lanes.hpp"
#include "template_bank.hpp"

namespace pulsewright::beats_stage {
namespace {

// A complex and its immediate surroundings.
constexpr Seconds half_length{0.117};
// A complex this like a template belongs to it; otherwise it founds another.
constexpr float same_shape = 0.90F;
constexpr TemplateChoice compared{.most = 8, .fewest_members = 3, .smallest_share = 0.01};
// Candidates are tried at these offsets, in track samples.
constexpr int widest_shift = 2;

// The signal around `centre` without its mean, at unit length; beyond either end of the track the last sample there stands still.
// False when nothing varies.
bool cut(const EcgTrack& track, std::ptrdiff_t centre, std::ptrdiff_t half, std::vector<float>& out) {
  const auto last = static_cast<std::ptrdiff_t>(track.shape.size()) - 1;
  if (centre >= half && centre + half <= last) {
    out.assign(track.shape.begin() + (centre - half), track.shape.begin() + (centre + half + 1));
  } else {
    out.clear();
    for (std::ptrdiff_t i = centre - half; i <= centre + half; ++i) {
      out.push_back(track.shape[static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(i, 0, last))]);
    }
  }
  float mean = 0;
  for (const float v : out) mean += v;
  mean /= static_cast<float>(out.size());
  float energy = 0;
  for (float& v : out) {
    v -= mean;
    energy += v * v;
  }
  if (!(energy > 0)) return false;
  const float scale = 1.0F / std::sqrt(energy);
  for (float& v : out) v *= scale;
  return true;
}

// A candidate at every offset against templates.
class ShiftedLikeness {
 public:
  explicit ShiftedLikeness(std::ptrdiff_t half)
      : length_(static_cast<std::size_t>(2 * half + 1)), half_(half), around_(length_ - 1 + SimdLanes::count) {}

  // The largest correlation of what is around a track sample, at any offset, with a template; 0 at least. Templates have no mean, so that none has to be taken off what they are held against.
  [[nodiscard]] float best_likeness(const EcgTrack& track, std::ptrdiff_t at, const Templates& templates) {
    const float* around = from(track, at - half_ - widest_shift);
    SimdLanes sum{}, squares{};
    for (std::size_t i = 0; i < length_; ++i) {
      const SimdLanes here = SimdLanes::load(around + i);
      sum += here;
      squares += here * here;
    }
    const SimdLanes energy = squares - sum * sum * (1.0F / static_cast<float>(length_));
    const auto products = templates.largest_products<offsets>(around);
    float best = 0;
    for (std::size_t s = 0; s < offsets; ++s) {
      // Where nothing varies beyond rounding, nothing is alike.
      if (energy[s] > rounding * squares[s]) best = std::max(best, products[s] / std::sqrt(energy[s]));
    }
    return best;
  }

 private:
  static constexpr std::size_t offsets = 2 * widest_shift + 1;
  static_assert(SimdLanes::count >= offsets);  // the last three lanes are not looked at

  // The track from a sample on, for all offsets; copied where it reaches over an end.
  const float* from(const EcgTrack& track, std::ptrdiff_t first) {
    const auto last = static_cast<std::ptrdiff_t>(track.shape.size()) - 1;
    const auto count = static_cast<std::ptrdiff_t>(around_.size());
    if (first >= 0 && first + count - 1 <= last) return track.shape.data() + first;
    for (std::ptrdiff_t i = 0; i < count; ++i) {
      around_[static_cast<std::size_t>(i)] =
          track.shape[static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(first + i, 0, last))];
    }
    return around_.data();
  }

  std::size_t length_;
  std::ptrdiff_t half_;
  std::vector<float> around_;
};

}  // namespace

void measure_likeness(std::vector<EcgCandidate>& candidates, const EcgTrack& track) {
  const auto half = static_cast<std::ptrdiff_t>(std::lround(samples_in(half_length, track.rate)));
  TemplateBank bank{static_cast<std::size_t>(2 * half + 1), same_shape};
  std::vector<float> shape;
  for (const EcgCandidate& c : candidates) {
    if (c.beat && cut(track, static_cast<std::ptrdiff_t>(c.at), half, shape)) bank.add(shape);
  }
  const Templates templates = bank.chosen(compared);
  ShiftedLikeness shifted{half};
  for (EcgCandidate& c : candidates) {
    c.likeness = shifted.best_likeness(track, static_cast<std::ptrdiff_t>(c.at), templates);
  }
}

}  // namespace pulsewright::beats_stage
