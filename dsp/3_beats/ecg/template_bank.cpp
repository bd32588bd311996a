#include "template_bank.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <numeric>

namespace pulsewright::beats_stage {
namespace {

constexpr std::size_t most_templates = 24;
// A template follows slow change: each new member weighs at least this much.
constexpr float slowest_update = 0.05F;

}  // namespace

void TemplateBank::add(std::span<const float> shape) {
  ++added_;
  std::size_t best = members_.size();
  float best_likeness = same_;
  for (std::size_t first = 0; first < members_.size(); first += side_by_side) {
    const float* four = samples_.data() + slot(first, 0);
    SimdLanes::Four sums{};
    for (std::size_t i = 0; i < length_; ++i) {
      SimdLanes::Four at_i;
      std::memcpy(&at_i, four + i * side_by_side, sizeof at_i);
      sums += at_i * shape[i];
    }
    for (std::size_t t = 0; t < side_by_side && first + t < members_.size(); ++t) {
      if (sums[t] > best_likeness) {
        best = first + t;
        best_likeness = sums[t];
      }
    }
  }
  if (best < members_.size()) {
    join(best, shape);
  } else if (members_.size() < most_templates) {
    members_.push_back(0);
    if (members_.size() % side_by_side == 1) samples_.resize(samples_.size() + side_by_side * length_);
    replace(members_.size() - 1, shape);
  } else {
    replace(static_cast<std::size_t>(std::min_element(members_.begin(), members_.end()) - members_.begin()), shape);
  }
}

void TemplateBank::replace(std::size_t number, std::span<const float> shape) {
  for (std::size_t i = 0; i < length_; ++i) at(number, i) = shape[i];
  members_[number] = 1;
}

void TemplateBank::join(std::size_t number, std::span<const float> shape) {
  const float weight = std::max(slowest_update, 1.0F / static_cast<float>(members_[number] + 1));
  float energy = 0;
  for (std::size_t i = 0; i < length_; ++i) {
    float& sample = at(number, i);
    sample += weight * (shape[i] - sample);
    energy += sample * sample;
  }
  ++members_[number];
  if (!(energy > 0)) return;
  const float scale = 1.0F / std::sqrt(energy);
  for (std::size_t i = 0; i < length_; ++i) at(number, i) *= scale;
}

Templates TemplateBank::chosen(const TemplateChoice& choice) const {
  std::vector<std::size_t> order(members_.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return members_[a] > members_[b]; });
  const double fewest = std::max<double>(choice.fewest_members, choice.smallest_share * added_);
  std::size_t count = 0;
  while (count < order.size() && count < choice.most && (count == 0 || members_[order[count]] >= fewest)) ++count;
  Templates templates{count, length_};
  for (std::size_t number = 0; number < count; ++number) {
    for (std::size_t i = 0; i < length_; ++i) templates.set(number, i, samples_[slot(order[number], i)]);
  }
  return templates;
}

}  // namespace pulsewright::beats_stage
