#include "ecg_templates.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "lanes.hpp"
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

// What `cut` makes of a candidate at every offset, a lane an offset: the same sums in the same order, side by side.
class ShiftedCuts {
 public:
  explicit ShiftedCuts(std::ptrdiff_t half)
      : half_(half),
        around_(static_cast<std::size_t>(2 * half) + Lanes::count),
        cuts_(static_cast<std::size_t>(2 * half + 1)) {}

  void take(const EcgTrack& track, std::ptrdiff_t centre) {
    const auto last = static_cast<std::ptrdiff_t>(track.shape.size()) - 1;
    const std::ptrdiff_t first = centre - half_ - widest_shift;
    const auto count = static_cast<std::ptrdiff_t>(around_.size());
    const float* around = around_.data();
    if (first >= 0 && first + count - 1 <= last) {
      around = track.shape.data() + first;
    } else {
      for (std::ptrdiff_t i = 0; i < count; ++i) {
        around_[static_cast<std::size_t>(i)] =
            track.shape[static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(first + i, 0, last))];
      }
    }
    Lanes mean{}, energy{};
    for (std::size_t i = 0; i < cuts_.size(); ++i) mean += Lanes::load(around + i);
    mean /= static_cast<float>(cuts_.size());
    for (std::size_t i = 0; i < cuts_.size(); ++i) {
      const Lanes value = Lanes::load(around + i) - mean;
      energy += value * value;
      cuts_[i] = value;
    }
    // Where nothing varies, nothing is alike.
    std::array<float, Lanes::count> scales{};
    for (std::size_t s = 0; s < offsets; ++s) scales[s] = energy[s] > 0 ? 1.0F / std::sqrt(energy[s]) : 0.0F;
    const Lanes scale = Lanes::load(scales.data());
    for (Lanes& at : cuts_) at *= scale;
  }

  // The largest product of a cut with a template; 0 at least.
  [[nodiscard]] float best_likeness(const Templates& templates) const {
    const auto at_offsets = templates.largest_products<offsets>(cuts_);
    return *std::max_element(at_offsets.begin(), at_offsets.end());
  }

 private:
  static constexpr std::size_t offsets = 2 * widest_shift + 1;
  static_assert(Lanes::count >= offsets);  // the last three lanes are not looked at

  std::ptrdiff_t half_;
  std::vector<float> around_;
  std::vector<Lanes> cuts_;
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
  ShiftedCuts cuts{half};
  for (EcgCandidate& c : candidates) {
    cuts.take(track, static_cast<std::ptrdiff_t>(c.at));
    c.likeness = cuts.best_likeness(templates);
  }
}

}  // namespace pulsewright::beats_stage
