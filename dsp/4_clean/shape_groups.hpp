/// Beats of one shape.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

/// The wave around an R peak, 0.10 s before to 0.15 s after, in steps of 2.5 ms, its straight base line from end to end removed.
using Shape = std::array<double, 101>;

/// Nothing where a sample is missing.
[[nodiscard]] std::optional<Shape> shape_at(const Signal& signal, Seconds time);

/// 2 x.y / (x.x + y.y), the highest over shifts of up to four steps: 1 for the same wave, less for another form or another size.
[[nodiscard]] double similarity(const Shape& x, const Shape& y);

/// Groups as they come: each shape joins the group whose mean it is most like, or starts one. A full house gives up the smallest group, whose beats keep its number.
struct ShapeGroups {
  struct Group {
    Shape mean{};
    int count = 0;
  };
  std::vector<Group> groups;                      ///< every one there ever was
  std::vector<std::optional<std::size_t>> group;  ///< of each shape
};
[[nodiscard]] ShapeGroups group_shapes(const std::vector<std::optional<Shape>>& shapes, double same);

}  // namespace pulsewright
