#include "ecg_fuse.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright {
namespace {

// The usual largest energy is judged over this many seconds to either side.
constexpr std::size_t reach_s = 8;

// Usual beat energy and background energy of one signal, per second.
struct Clarity {
  std::vector<float> beat;
  std::vector<float> background;
};

std::vector<float> running_median(const std::vector<float>& values) {
  std::vector<float> medians(values.size());
  std::vector<float> window;
  for (std::size_t s = 0; s < values.size(); ++s) {
    const std::size_t first = s > reach_s ? s - reach_s : 0;
    const std::size_t last = std::min(values.size(), s + reach_s + 1);
    window.assign(values.begin() + static_cast<std::ptrdiff_t>(first),
                  values.begin() + static_cast<std::ptrdiff_t>(last));
    const auto middle = window.begin() + static_cast<std::ptrdiff_t>(window.size() / 2);
    std::nth_element(window.begin(), middle, window.end());
    medians[s] = *middle;
  }
  return medians;
}

Clarity clarity_of(const EcgTrack& track, std::size_t seconds) {
  std::vector<float> largest(seconds, 0.0F), middle(seconds, 0.0F);
  std::vector<float> window;
  for (std::size_t s = 0; s < seconds; ++s) {
    const auto first = static_cast<std::size_t>(static_cast<double>(s) * track.rate.value());
    const auto last =
        std::min(track.narrow.size(), static_cast<std::size_t>(static_cast<double>(s + 1) * track.rate.value()));
    window.assign(track.narrow.begin() + static_cast<std::ptrdiff_t>(first),
                  track.narrow.begin() + static_cast<std::ptrdiff_t>(last));
    if (window.empty()) continue;
    largest[s] = *std::max_element(window.begin(), window.end());
    const auto half = window.begin() + static_cast<std::ptrdiff_t>(window.size() / 2);
    std::nth_element(window.begin(), half, window.end());
    middle[s] = *half;
  }
  // Two seconds hold a beat at any rate above 30 beats/min.
  for (std::size_t s = 0; s + 1 < seconds; ++s) largest[s] = std::max(largest[s], largest[s + 1]);
  return {running_median(largest), running_median(middle)};
}

std::size_t second_at(std::size_t at, Hertz rate, std::size_t seconds) {
  return std::min(seconds - 1, static_cast<std::size_t>(static_cast<double>(at) / rate.value()));
}

}  // namespace

float EcgFusion::weight(std::size_t signal, std::size_t at) const {
  if (weights.empty()) return 1.0F;
  return weights[signal][second_at(at, fused.rate, weights[signal].size())];
}

std::size_t EcgFusion::clearest() const {
  std::size_t best = 0;
  float best_sum = -1;
  for (std::size_t k = 0; k < weights.size(); ++k) {
    float sum = 0;
    for (const float w : weights[k]) sum += w;
    if (sum > best_sum) {
      best = k;
      best_sum = sum;
    }
  }
  return best;
}

EcgFusion fuse(std::span<const EcgTrack> tracks) {
  EcgFusion fusion;
  if (tracks.size() < 2) return fusion;
  const EcgTrack& first = tracks[0];
  const std::size_t size = first.narrow.size();
  fusion.fused.rate = first.rate;
  fusion.fused.step = first.step;
  fusion.fused.narrow.assign(size, 0.0F);
  fusion.fused.wide.assign(size, 0.0F);
  if (size == 0) return fusion;

  const auto seconds = static_cast<std::size_t>(std::ceil(static_cast<double>(size) / first.rate.value()));
  std::vector<Clarity> clarity;
  for (const EcgTrack& track : tracks) clarity.push_back(clarity_of(track, seconds));
  fusion.weights.assign(tracks.size(), std::vector<float>(seconds, 0.0F));
  for (std::size_t s = 0; s < seconds; ++s) {
    float sum = 0;
    for (std::size_t k = 0; k < tracks.size(); ++k) {
      // The ratio of amplitudes, beat over background: a signal that shows the beats twice as clearly counts twice as much.
      const float beat = clarity[k].beat[s];
      fusion.weights[k][s] = beat > 0 ? std::sqrt(beat / (clarity[k].background[s] + 1e-3F * beat)) : 0.0F;
      sum += fusion.weights[k][s];
    }
    for (auto& weights : fusion.weights) weights[s] = sum > 0 ? weights[s] / sum : 0.0F;
  }
  for (std::size_t k = 0; k < tracks.size(); ++k) {
    for (std::size_t i = 0; i < size; ++i) {
      const std::size_t s = second_at(i, first.rate, seconds);
      const float beat = clarity[k].beat[s];
      const float scale = beat > 0 ? fusion.weights[k][s] / beat : 0.0F;
      fusion.fused.narrow[i] += scale * tracks[k].narrow[i];
      fusion.fused.wide[i] += scale * tracks[k].wide[i];
    }
  }
  return fusion;
}

}  // namespace pulsewright
