#include "shape_groups.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>

namespace pulsewright {

namespace {

constexpr double before_s = 0.100, step_s = 0.0025;
constexpr std::size_t longest_shift = 4;
/// Groups that are compared at once, and over how many beats a mean forgets (ours).
constexpr std::size_t most_groups = 16;
constexpr int memory = 32;

double energy(const Shape& x) {
  double even = 0.0, odd = x.back() * x.back();
  for (std::size_t k = 0; k + 1 < x.size(); k += 2) {
    even += x[k] * x[k];
    odd += x[k + 1] * x[k + 1];
  }
  return even + odd;
}
static_assert(std::tuple_size_v<Shape> % 2 == 1);

}  // namespace

std::optional<Shape> shape_at(const Signal& signal, Seconds time) {
  Shape shape;
  const double step = step_s * signal.rate.value();
  const double start = samples_in(time - Seconds{before_s} - signal.start, signal.rate);
  const double end = start + static_cast<double>(shape.size() - 1) * step;
  if (!(start >= 0.0) || !(std::floor(end) + 1.0 < static_cast<double>(signal.values.size()))) return std::nullopt;
  double sum = 0.0;
  for (std::size_t k = 0; k < shape.size(); ++k) {
    const double place = start + static_cast<double>(k) * step;
    const auto i = static_cast<std::size_t>(static_cast<std::int64_t>(place));
    const double a = static_cast<double>(signal.values[i]), b = static_cast<double>(signal.values[i + 1]);
    shape[k] = a + (place - static_cast<double>(static_cast<std::int64_t>(place))) * (b - a);
    sum += shape[k];
  }
  if (!std::isfinite(sum)) return std::nullopt;
  const double first = shape.front(), slope = (shape.back() - first) / static_cast<double>(shape.size() - 1);
  for (std::size_t k = 0; k < shape.size(); ++k) shape[k] -= first + slope * static_cast<double>(k);
  return shape;
}

double similarity(const Shape& x, const Shape& y) {
  // Products at every shift, two shifts in a register; nothing lies beyond the ends. The last lane is not looked at.
  using Pair = double __attribute__((vector_size(16)));
  constexpr std::size_t shifts = 2 * longest_shift + 1, pairs = (shifts + 1) / 2;
  std::array<double, std::tuple_size_v<Shape> + 2 * pairs> padded{};
  std::copy(y.begin(), y.end(), padded.begin() + longest_shift);
  std::array<Pair, pairs> products{};
  for (std::size_t k = 0; k < x.size(); ++k) {
    for (std::size_t p = 0; p < pairs; ++p) {
      Pair at_two_shifts;
      std::memcpy(&at_two_shifts, padded.data() + k + 2 * p, sizeof at_two_shifts);
      products[p] += at_two_shifts * x[k];
    }
  }
  const double squares = energy(x) + energy(y);
  double best = -1.0;
  // At shift s, the last s of one wave and the first s of the other meet nothing.
  double x_first = 0.0, x_last = 0.0, y_first = 0.0, y_last = 0.0;
  for (std::size_t s = 0; s <= longest_shift; ++s) {
    const auto product = [&](std::size_t place) { return products[place / 2][place % 2]; };
    const auto try_one = [&](double of_product, double of_squares) {
      if (of_squares > 0.0) best = std::max(best, 2.0 * of_product / of_squares);
    };
    try_one(product(longest_shift + s), squares - x_last - y_first);
    try_one(product(longest_shift - s), squares - x_first - y_last);
    if (s == longest_shift) break;
    x_first += x[s] * x[s];
    y_first += y[s] * y[s];
    x_last += x[x.size() - 1 - s] * x[x.size() - 1 - s];
    y_last += y[y.size() - 1 - s] * y[y.size() - 1 - s];
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
