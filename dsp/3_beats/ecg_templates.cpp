#include "ecg_templates.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "lanes.hpp"

namespace pulsewright::beats_stage {
namespace {

// A complex and its immediate surroundings.
constexpr Seconds half_length{0.117};
// A complex this like a template belongs to it; otherwise it founds another.
constexpr float same_shape = 0.90F;
constexpr std::size_t most_templates = 24;
// A template follows slow change: each new member weighs at least this much.
constexpr float slowest_update = 0.05F;
// Templates with a smaller share of the beats are chance.
constexpr double smallest_share = 0.01;
constexpr int fewest_members = 3;
// The templates compared with every candidate, the most frequent first.
constexpr std::size_t most_compared = 8;
// Candidates are tried at these offsets, in track samples.
constexpr int widest_shift = 2;

struct Template {
  std::vector<float> shape;  // unit length
  int members = 0;
};

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

float dot(const std::vector<float>& a, const std::vector<float>& b) {
  // Four running sums: a fixed order that the processor can do side by side.
  float s0 = 0, s1 = 0, s2 = 0, s3 = 0;
  std::size_t i = 0;
  for (; i + 4 <= a.size(); i += 4) {
    s0 += a[i] * b[i];
    s1 += a[i + 1] * b[i + 1];
    s2 += a[i + 2] * b[i + 2];
    s3 += a[i + 3] * b[i + 3];
  }
  for (; i < a.size(); ++i) s0 += a[i] * b[i];
  return (s0 + s1) + (s2 + s3);
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

  // The largest `dot` of a cut with a template.
  [[nodiscard]] float best_likeness(const std::vector<float>& shape) const {
    Lanes s0{}, s1{}, s2{}, s3{};
    std::size_t i = 0;
    for (; i + 4 <= shape.size(); i += 4) {
      s0 += cuts_[i] * shape[i];
      s1 += cuts_[i + 1] * shape[i + 1];
      s2 += cuts_[i + 2] * shape[i + 2];
      s3 += cuts_[i + 3] * shape[i + 3];
    }
    for (; i < shape.size(); ++i) s0 += cuts_[i] * shape[i];
    const Lanes sums = (s0 + s1) + (s2 + s3);
    float best = 0;
    for (std::size_t s = 0; s < offsets; ++s) best = std::max(best, sums[s]);
    return best;
  }

 private:
  static constexpr std::size_t offsets = 2 * widest_shift + 1;
  static_assert(Lanes::count >= offsets);  // the last three lanes are not looked at

  std::ptrdiff_t half_;
  std::vector<float> around_;
  std::vector<Lanes> cuts_;
};

void normalise(std::vector<float>& shape) {
  const float energy = dot(shape, shape);
  if (!(energy > 0)) return;
  const float scale = 1.0F / std::sqrt(energy);
  for (float& v : shape) v *= scale;
}

std::vector<Template> collect(const std::vector<EcgCandidate>& candidates, const EcgTrack& track, std::ptrdiff_t half) {
  std::vector<Template> templates;
  std::vector<float> shape;
  int beats = 0;
  for (const EcgCandidate& c : candidates) {
    if (!c.beat || !cut(track, static_cast<std::ptrdiff_t>(c.at), half, shape)) continue;
    ++beats;
    Template* best = nullptr;
    float best_likeness = same_shape;
    for (Template& t : templates) {
      if (const float likeness = dot(shape, t.shape); likeness > best_likeness) {
        best = &t;
        best_likeness = likeness;
      }
    }
    if (best != nullptr) {
      const float weight = std::max(slowest_update, 1.0F / static_cast<float>(best->members + 1));
      for (std::size_t i = 0; i < shape.size(); ++i) best->shape[i] += weight * (shape[i] - best->shape[i]);
      normalise(best->shape);
      ++best->members;
    } else if (templates.size() < most_templates) {
      templates.push_back({shape, 1});
    } else {
      *std::min_element(templates.begin(), templates.end(),
                        [](const Template& a, const Template& b) { return a.members < b.members; }) = {shape, 1};
    }
  }
  std::stable_sort(templates.begin(), templates.end(),
                   [](const Template& a, const Template& b) { return a.members > b.members; });
  const double fewest = std::max<double>(fewest_members, smallest_share * beats);
  std::size_t kept = 0;
  while (kept < templates.size() && kept < most_compared && templates[kept].members >= fewest) ++kept;
  templates.resize(std::max<std::size_t>(kept, std::min<std::size_t>(templates.size(), 1)));
  return templates;
}

}  // namespace

void measure_likeness(std::vector<EcgCandidate>& candidates, const EcgTrack& track) {
  const auto half = static_cast<std::ptrdiff_t>(std::lround(samples_in(half_length, track.rate)));
  const std::vector<Template> templates = collect(candidates, track, half);
  ShiftedCuts cuts{half};
  for (EcgCandidate& c : candidates) {
    cuts.take(track, static_cast<std::ptrdiff_t>(c.at));
    float best = 0;
    for (const Template& t : templates) best = std::max(best, cuts.best_likeness(t.shape));
    c.likeness = best;
  }
}

}  // namespace pulsewright::beats_stage
