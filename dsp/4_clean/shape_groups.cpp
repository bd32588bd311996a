#include "shape_groups.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright {

namespace {

constexpr double before_s = 0.100, step_s = 0.0025;
constexpr int longest_shift = 4;
/// Groups that are compared at once, and over how many beats a mean forgets (ours).
constexpr std::size_t most_groups = 16;
constexpr int memory = 32;

}  // namespace

std::optional<Shape> shape_at(const Signal& signal, Seconds time) {
  Shape shape;
  for (std::size_t k = 0; k < shape.size(); ++k) {
    const Seconds at = time + Seconds{static_cast<double>(k) * step_s - before_s};
    const double place = samples_in(at - signal.start, signal.rate);
    const double below = std::floor(place);
    if (below < 0.0 || below + 1.0 >= static_cast<double>(signal.values.size())) return std::nullopt;
    const auto i = static_cast<std::size_t>(below);
    const double a = static_cast<double>(signal.values[i]), b = static_cast<double>(signal.values[i + 1]);
    shape[k] = a + (place - below) * (b - a);
    if (!std::isfinite(shape[k])) return std::nullopt;
  }
  const double first = shape.front(), slope = (shape.back() - first) / static_cast<double>(shape.size() - 1);
  for (std::size_t k = 0; k < shape.size(); ++k) shape[k] -= first + slope * static_cast<double>(k);
  return shape;
}

double similarity(const Shape& x, const Shape& y) {
  double best = -1.0;
  const auto n = static_cast<int>(x.size());
  for (int shift = -longest_shift; shift <= longest_shift; ++shift) {
    double product = 0.0, squares = 0.0;
    for (int k = std::max(0, -shift); k < std::min(n, n - shift); ++k) {
      const double a = x[static_cast<std::size_t>(k)], b = y[static_cast<std::size_t>(k + shift)];
      product += a * b;
      squares += a * a + b * b;
    }
    if (squares > 0.0) best = std::max(best, 2.0 * product / squares);
  }
  return best;
}

ShapeGroups group_shapes(const std::vector<std::optional<Shape>>& shapes, double same) {
  ShapeGroups result;
  std::vector<std::size_t> present;  // numbers of the groups that are compared
  for (const std::optional<Shape>& shape : shapes) {
    result.group.push_back(std::nullopt);
    if (!shape) continue;
    std::size_t best = 0;
    double highest = -1.0;
    for (const std::size_t g : present) {
      const double like = similarity(*shape, result.groups[g].mean);
      if (like > highest) {
        highest = like;
        best = g;
      }
    }
    if (highest < same) {
      if (present.size() == most_groups)
        present.erase(std::min_element(present.begin(), present.end(), [&](std::size_t a, std::size_t b) {
          return result.groups[a].count < result.groups[b].count;
        }));
      best = result.groups.size();
      result.groups.push_back({*shape, 0});
      present.push_back(best);
    }
    ShapeGroups::Group& group = result.groups[best];
    ++group.count;
    const double weight = 1.0 / std::min(group.count, memory);
    for (std::size_t k = 0; k < shape->size(); ++k) group.mean[k] += weight * ((*shape)[k] - group.mean[k]);
    result.group.back() = best;
  }
  return result;
}

}  // namespace pulsewright
