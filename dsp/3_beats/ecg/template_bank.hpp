/// Shapes of beats, gathered into templates.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "3_beats/simd_lanes.hpp"

namespace pulsewright::beats_stage {

/// Of what is held against templates: energy of what varies below this share of all its energy is rounding.
inline constexpr float rounding = 1e-5F;

/// Which templates are worth comparing with: so many at most, the most frequent first. With fewer members, or a smaller share of all the shapes, a template is chance.
struct TemplateChoice {
  std::size_t most = 8;
  int fewest_members = 2;
  double smallest_share = 0.01;
};

/// Templates of one length to compare with, four side by side. Places beyond the last are zero.
class Templates {
 public:
  Templates() = default;
  Templates(std::size_t count, std::size_t length)
      : length_(length), samples_((count + side_by_side - 1) / side_by_side * length) {}

  void set(std::size_t number, std::size_t i, float value) {
    samples_[number / side_by_side * length_ + i][number % side_by_side] = value;
  }

  /// For a series and the same series begun later by one sample, by two and so on: the largest product with any template, 0 at least.
  template <std::size_t shifts>
  [[nodiscard]] std::array<float, shifts> largest_products(const float* series) const {
    std::array<float, shifts> largest{};
    for (auto four = samples_.begin(); four != samples_.end(); four += static_cast<std::ptrdiff_t>(length_)) {
      std::array<SimdLanes::Four, shifts> sums{};
      for (std::size_t i = 0; i < length_; ++i) {
        const SimdLanes::Four at_i = four[static_cast<std::ptrdiff_t>(i)];
        for (std::size_t s = 0; s < shifts; ++s) sums[s] += at_i * series[i + s];
      }
      for (std::size_t s = 0; s < shifts; ++s) {
        for (std::size_t t = 0; t < side_by_side; ++t) largest[s] = std::max(largest[s], sums[s][t]);
      }
    }
    return largest;
  }

 private:
  static constexpr std::size_t side_by_side = 4;
  std::size_t length_ = 0;
  std::vector<SimdLanes::Four> samples_;
};

/// Each shape joins the template that it is most like, or founds one. A full bank gives up the template with the fewest members.
class TemplateBank {
 public:
  /// Shapes of `length` samples whose correlation is above `same` belong to one template.
  TemplateBank(std::size_t length, float same) : length_(length), same_(same) {}

  /// A shape at unit length.
  void add(std::span<const float> shape);

  /// The templates chosen, each at unit length, the most frequent first. If none is frequent enough, the most frequent one all the same.
  [[nodiscard]] Templates chosen(const TemplateChoice& choice) const;

 private:
  void replace(std::size_t number, std::span<const float> shape);
  void join(std::size_t number, std::span<const float> shape);

  // Four templates stand side by side, so that a shape is compared with all four at once.
  [[nodiscard]] float& at(std::size_t number, std::size_t i) { return samples_[slot(number, i)]; }
  [[nodiscard]] std::size_t slot(std::size_t number, std::size_t i) const {
    return (number / side_by_side * length_ + i) * side_by_side + number % side_by_side;
  }
  static constexpr std::size_t side_by_side = 4;

  std::size_t length_;
  float same_;
  std::vector<float> samples_;
  std::vector<int> members_;
  int added_ = 0;
};

}  // namespace pulsewright::beats_stage
