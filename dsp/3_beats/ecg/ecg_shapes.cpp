#include "ecg_shapes.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstring>

#include "3_beats/simd_lanes.hpp"
#include "template_bank.hpp"

namespace pulsewright::beats_stage {
namespace {

// Shapes are compared on a grid this coarse: what is asked here is where P, QRS and T waves lie, not how steep they are.
constexpr Seconds grid{0.025};

constexpr TemplateChoice compared{.most = 8, .fewest_members = 2, .smallest_share = 0.01};

// The level before and after a complex is taken this far from it, and its height within the inner end of that.
constexpr Seconds level_near{0.070}, level_far{0.155};
constexpr float tiny = 1e-6F;

// A part of the surroundings that is compared. Shapes more alike than `same` belong to one template.
struct Window {
  Seconds before, after;
  float same;
  bool level_off;  // a straight line is taken off, as baseline wander is one over this length; else only the mean
};
constexpr Window near_window{Seconds{0.200}, Seconds{0.200}, 0.85F, true};
constexpr Window whole_window{Seconds{0.250}, Seconds{0.450}, 0.85F, true};
constexpr Window energy_window{Seconds{0.250}, Seconds{0.450}, 0.93F, false};

// One window over one series, beyond whose ends the last sample stands still.
class Comparison {
 public:
  Comparison(const std::vector<float>& series, const Window& window, Hertz rate)
      : series_(series), window_(window), hop_(std::max<std::size_t>(1, track_samples(grid, rate))) {
    before_ = track_samples(window.before, rate) / hop_;
    count_ = before_ + track_samples(window.after, rate) / hop_ + 1;
    for (std::size_t i = 0; i < count_; ++i) {
      ramp_.push_back(static_cast<float>(i) - 0.5F * static_cast<float>(count_ - 1));
      ramp_energy_ += ramp_.back() * ramp_.back();
    }
    around_.resize(count_ + shifts);  // the last lane, one more, is not looked at
  }

  void collect(const std::vector<EcgCandidate>& candidates) {
    TemplateBank bank{count_, window_.same};
    std::vector<float> shape(count_);
    for (const EcgCandidate& c : candidates) {
      if (!c.beat) continue;
      const Sums sums = add_up(c.at);
      if (!(sums.energy[centre] > 0)) continue;
      const float scale = 1.0F / std::sqrt(sums.energy[centre]);
      for (std::size_t i = 0; i < count_; ++i)
        shape[i] = scale * (around_[i + centre] - sums.mean[centre] - sums.slope[centre] * ramp_[i]);
      bank.add(shape);
    }
    templates_ = bank.chosen(compared);
  }

  // The best correlation with a template, as it stands and moved by one step of the grid to either side; 0 at least. Templates are level, so that what is off level in the surroundings
  // adds nothing to their products.
  float likeness(std::size_t at) {
    const Sums sums = add_up(at);
    const auto products = templates_.largest_products<shifts>(around_.data());
    float best = 0;
    for (std::size_t shift = 0; shift < shifts; ++shift) {
      if (sums.energy[shift] > 0) best = std::max(best, products[shift] / std::sqrt(sums.energy[shift]));
    }
    return best;
  }

 private:
  static constexpr std::size_t shifts = 3, centre = 1;

  // Of the surroundings at each shift, a lane a shift.
  struct Sums {
    SimdLanes::Four mean{}, slope{};
    SimdLanes::Four
        energy{};  // of what varies; 0 where that is no more than rounding: where nothing varies, nothing is alike
  };

  static SimdLanes::Four four(const float* from) {
    SimdLanes::Four loaded;
    std::memcpy(&loaded, from, sizeof loaded);
    return loaded;
  }

  // Fills `around_` with samples of the grid from place `first` of the series on.
  void gather(std::ptrdiff_t first) {
    const std::size_t count = around_.size();
    const auto last = static_cast<std::ptrdiff_t>(series_.size()) - 1;
    const auto hop = static_cast<std::ptrdiff_t>(hop_);
    const std::ptrdiff_t reach = static_cast<std::ptrdiff_t>(count - 1) * hop;
    if (first >= 0 && first + reach <= last) {
      const float* from = series_.data() + first;
      for (std::size_t i = 0; i < count; ++i, from += hop) around_[i] = *from;
      return;
    }
    for (std::size_t i = 0; i < count; ++i) {
      const std::ptrdiff_t place = std::clamp<std::ptrdiff_t>(first + static_cast<std::ptrdiff_t>(i) * hop, 0, last);
      around_[i] = series_[static_cast<std::size_t>(place)];
    }
  }

  Sums add_up(std::size_t at) {
    gather(static_cast<std::ptrdiff_t>(at) - static_cast<std::ptrdiff_t>((before_ + 1) * hop_));
    // The ramp has no mean, so that the slope needs none taken off: all at once.
    SimdLanes::Four sum{}, along_ramp{}, squares{};
    for (std::size_t i = 0; i < count_; ++i) {
      const SimdLanes::Four here = four(around_.data() + i);
      sum += here;
      along_ramp += here * ramp_[i];
      squares += here * here;
    }
    Sums sums;
    sums.mean = sum / static_cast<float>(count_);
    sums.slope = along_ramp * (window_.level_off ? 1.0F / ramp_energy_ : 0.0F);
    sums.energy = squares - sum * sums.mean - along_ramp * sums.slope;
    for (std::size_t shift = 0; shift < shifts; ++shift)
      if (sums.energy[shift] < rounding * squares[shift]) sums.energy[shift] = 0;
    return sums;
  }

  const std::vector<float>& series_;
  Window window_;
  std::size_t hop_;         // samples of the series
  std::size_t before_ = 0;  // steps of the grid
  std::size_t count_ = 0;
  std::vector<float> ramp_;
  float ramp_energy_ = 0;
  std::vector<float> around_;
  Templates templates_;
};

// How far the level after a complex is from that before it, over the height of the complex: a step is no beat.
float step_over(const std::vector<float>& shape, std::size_t at, Hertz rate) {
  const auto last = static_cast<std::ptrdiff_t>(shape.size()) - 1;
  const std::ptrdiff_t near = track_samples(level_near, rate), far = track_samples(level_far, rate);
  const auto value = [&](std::ptrdiff_t offset) {
    return shape[static_cast<std::size_t>(
        std::clamp<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(at) + offset, 0, last))];
  };
  float before = 0, after = 0;
  for (std::ptrdiff_t k = near + 1; k <= far; ++k) {
    before += value(-k);
    after += value(k);
  }
  float low = value(0), high = low;
  for (std::ptrdiff_t k = -near; k <= near; ++k) {
    low = std::min(low, value(k));
    high = std::max(high, value(k));
  }
  return std::abs(after - before) / (static_cast<float>(far - near) * (high - low + tiny));
}

}  // namespace

void measure_shapes(std::vector<EcgCandidate>& candidates, const EcgTrack& track) {
  std::vector<float> amplitude(track.narrow.size());
  for (std::size_t i = 0; i < amplitude.size(); ++i) amplitude[i] = std::sqrt(track.narrow[i]);
  Comparison near{track.shape, near_window, track.rate}, whole{track.shape, whole_window, track.rate},
      energy{amplitude, energy_window, track.rate};
  for (Comparison* comparison : {&near, &whole, &energy}) comparison->collect(candidates);

  for (EcgCandidate& c : candidates) {
    if (c.log_odds < out_of_question) continue;
    c.near_shape = near.likeness(c.at);
    c.whole_shape = whole.likeness(c.at);
    c.whole_energy = energy.likeness(c.at);
    c.step_over = step_over(track.shape, c.at, track.rate);
  }
}

}  // namespace pulsewright::beats_stage
