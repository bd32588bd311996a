#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <numeric>

#include "pulsewright/complexity.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {

namespace {

using Rank = std::uint32_t;

/// Counts of points by rank that change one at a time (Fenwick 1994, Softw Pract Exp 24:327): change and prefix sum in log n.
class RankCounts {
 public:
  explicit RankCounts(std::size_t ranks) : tree_(ranks + 1, 0) {}
  void change(Rank rank, int by) {
    for (std::size_t i = rank + 1; i < tree_.size(); i += i & (~i + 1)) tree_[i] += by;
  }
  /// Points with a rank in [low, high).
  [[nodiscard]] int between(Rank low, Rank high) const { return below(high) - below(low); }

 private:
  [[nodiscard]] int below(Rank rank) const {
    int sum = 0;
    for (std::size_t i = rank; i > 0; i &= i - 1) sum += tree_[i];
    return sum;
  }
  std::vector<int> tree_;
};

/// One coordinate of all points: each point's rank, and the ranks [low, high) of those within the tolerance of it.
struct Coordinate {
  std::vector<Rank> rank, low, high;
};

/// A value of the series and its position.
struct Placed {
  double value;
  Rank at;
};

/// In the order of values, and of positions where values are equal.
std::vector<Placed> in_order(std::span<const double> values) {
  std::vector<Placed> order(values.size());
  for (std::size_t i = 0; i < values.size(); ++i) order[i] = {values[i], static_cast<Rank>(i)};
  std::sort(order.begin(), order.end(),
            [](const Placed& a, const Placed& b) { return a.value != b.value ? a.value < b.value : a.at < b.at; });
  return order;
}

/// The coordinate that is the value `ahead` places after the first one of each of `n` runs, from the order of the whole series.
Coordinate coordinate(const std::vector<Placed>& whole, std::size_t ahead, std::size_t n, double tolerance) {
  std::vector<Placed> order;
  order.reserve(n);
  for (const Placed& p : whole) {
    if (p.at >= ahead && p.at < ahead + n) order.push_back({p.value, static_cast<Rank>(p.at - ahead)});
  }
  Coordinate result{std::vector<Rank>(n), std::vector<Rank>(n), std::vector<Rank>(n)};
  std::size_t low = 0, high = 0;
  for (std::size_t place = 0; place < n; ++place) {
    const auto [here, point] = order[place];
    while (here - order[low].value > tolerance) ++low;
    while (high < n && order[high].value - here <= tolerance) ++high;
    result.rank[point] = static_cast<Rank>(place);
    result.low[point] = static_cast<Rank>(low);
    result.high[point] = static_cast<Rank>(high);
  }
  return result;
}

std::vector<Rank> by_rank(const Coordinate& c) {
  std::vector<Rank> points(c.rank.size());
  for (std::size_t i = 0; i < points.size(); ++i) points[c.rank[i]] = static_cast<Rank>(i);
  return points;
}

/// A window slides over the points in the order of x; the y of those inside are counted by rank.
std::vector<std::uint32_t> counts_in_the_plane(const Coordinate& x, const Coordinate& y) {
  const std::vector<Rank> points = by_rank(x);
  RankCounts inside(points.size());
  std::vector<std::uint32_t> counts(points.size());
  Rank from = 0, to = 0;
  for (const Rank point : points) {
    for (; to < x.high[point]; ++to) inside.change(y.rank[points[to]], 1);
    for (; from < x.low[point]; ++from) inside.change(y.rank[points[from]], -1);
    counts[point] = static_cast<std::uint32_t>(inside.between(y.low[point], y.high[point]));
  }
  return counts;
}

/// In space: the points with x in [low, high) are those before `high` less those before `low`. Both are asked of prefixes of the order of x, halved
/// again and again: points of a left half answer the questions of the right half by the sliding window of the plane. Inside, a point is its rank in y.
class CountsInSpace {
 public:
  CountsInSpace(const Coordinate& x, const Coordinate& y, const Coordinate& z)
      : points_(x.rank.size()),
        neighbours_(points_.size()),
        first_question_(points_.size() + 2, 0),
        questions_(2 * points_.size()),
        counts_(points_.size(), 0),
        inside_(points_.size()) {
    const std::size_t n = points_.size();
    const std::vector<Rank> by_y = by_rank(y);
    for (Rank point = 0; point < n; ++point) {
      const Rank i = by_y[point];
      points_[x.rank[i]] = point;
      neighbours_[point] = {y.low[i], y.high[i], z.rank[i], z.low[i], z.high[i]};
      ++first_question_[x.low[i] + 1];
      ++first_question_[x.high[i] + 1];
    }
    std::partial_sum(first_question_.begin(), first_question_.end(), first_question_.begin());
    std::vector<std::size_t> next = first_question_;
    for (Rank point = 0; point < n; ++point) {
      const Rank i = by_y[point];
      questions_[next[x.low[i]]++] = question(point, false);
      questions_[next[x.high[i]]++] = question(point, true);
    }
    solve(0, n + 1);
  }
  /// For each point in the order in which they were given.
  [[nodiscard]] std::vector<std::uint32_t> by_point(const Coordinate& y) const {
    std::vector<std::uint32_t> counts(counts_.size());
    for (std::size_t i = 0; i < counts.size(); ++i) counts[i] = static_cast<std::uint32_t>(counts_[y.rank[i]]);
    return counts;
  }

 private:
  struct Neighbours {
    Rank y_low, y_high, z, z_low, z_high;
  };
  /// A point, doubled, and one more where its answer is added and not taken away: so they are in the order of y.
  using Question = std::uint32_t;
  struct Part {
    std::vector<Rank> points;         ///< with x rank in the part, in the order of y
    std::vector<Question> questions;  ///< asked at a place in the part, in the order of y
  };

  static Question question(Rank point, bool added) { return 2 * point + (added ? 1 : 0); }
  void answer(Question question, int found) { counts_[question / 2] += question % 2 == 1 ? found : -found; }

  void answer(const std::vector<Rank>& points, const std::vector<Question>& questions) {
    std::size_t from = 0, to = 0;
    for (const Question question : questions) {
      const Neighbours& p = neighbours_[question / 2];
      for (; to < points.size() && points[to] < p.y_high; ++to) inside_.change(neighbours_[points[to]].z, 1);
      for (; from < to && points[from] < p.y_low; ++from) inside_.change(neighbours_[points[from]].z, -1);
      answer(question, inside_.between(p.z_low, p.z_high));
    }
    for (; from < to; ++from) inside_.change(neighbours_[points[from]].z, -1);
  }

  [[nodiscard]] std::span<const Question> asked_at(std::size_t place) const {
    return std::span{questions_}.subspan(first_question_[place], first_question_[place + 1] - first_question_[place]);
  }

  void answer_one_by_one(std::size_t first, std::size_t last) {
    for (std::size_t place = first + 1; place < last; ++place)
      for (const Question question : asked_at(place)) {
        const Neighbours& p = neighbours_[question / 2];
        int found = 0;
        for (std::size_t k = first; k < place; ++k) {
          const Rank q = points_[k];
          found += q - p.y_low < p.y_high - p.y_low && neighbours_[q].z - p.z_low < p.z_high - p.z_low;
        }
        answer(question, found);
      }
  }

  Part solve(std::size_t first, std::size_t last) {
    constexpr std::size_t few = 64;
    Part part;
    if (last - first <= few) {
      answer_one_by_one(first, last);
      const auto place = [](const auto& of, std::size_t at) { return of.begin() + static_cast<std::ptrdiff_t>(at); };
      part.points.assign(place(points_, first), place(points_, std::min(last, points_.size())));
      part.questions.assign(place(questions_, first_question_[first]), place(questions_, first_question_[last]));
      std::sort(part.points.begin(), part.points.end());
      std::sort(part.questions.begin(), part.questions.end());
      return part;
    }
    const std::size_t middle = first + (last - first) / 2;
    const Part left = solve(first, middle), right = solve(middle, last);
    answer(left.points, right.questions);
    const auto both = [](const auto& a, const auto& b, auto& merged) {
      merged.resize(a.size() + b.size());
      std::merge(a.begin(), a.end(), b.begin(), b.end(), merged.begin());
    };
    both(left.points, right.points, part.points);
    both(left.questions, right.questions, part.questions);
    return part;
  }

  std::vector<Rank> points_;  ///< in the order of x
  std::vector<Neighbours> neighbours_;
  std::vector<std::size_t> first_question_;  ///< by how many points of the order of x they are asked
  std::vector<Question> questions_;
  std::vector<int> counts_;
  RankCounts inside_;
};

/// Runs of any length: those whose first values are close, compared one by one.
std::vector<std::uint32_t> counts_by_comparison(const Coordinate& x, std::span<const double> values, std::size_t length,
                                                double tolerance) {
  const std::vector<Rank> points = by_rank(x);
  std::vector<std::uint32_t> counts(points.size());
  for (const Rank point : points)
    for (Rank k = x.low[point]; k < x.high[point]; ++k) {
      bool close = true;
      for (std::size_t j = 1; close && j < length; ++j) {
        const double a = values[point + j], b = values[points[k] + j];
        close = (a > b ? a - b : b - a) <= tolerance;
      }
      counts[point] += close;
    }
  return counts;
}

}  // namespace

std::vector<std::uint32_t> neighbour_counts(std::span<const double> values, std::size_t length, double tolerance) {
  if (length == 0 || !(tolerance >= 0.0))
    throw Error{
        ErrorCode::contract,
        fmt::format("neighbour_counts: runs of {} values within {}; the length must be at least 1, the tolerance "
                    "not negative",
                    length, tolerance)};
  if (values.size() < length) return {};
  const std::size_t n = values.size() - length + 1;
  const std::vector<Placed> order = in_order(values);
  const auto axis = [&](std::size_t k) { return coordinate(order, k, n, tolerance); };
  const Coordinate x = axis(0);
  if (length == 1) {
    std::vector<std::uint32_t> counts(n);
    for (std::size_t i = 0; i < n; ++i) counts[i] = x.high[i] - x.low[i];
    return counts;
  }
  if (length == 2) return counts_in_the_plane(x, axis(1));
  if (length == 3) {
    const Coordinate y = axis(1), z = axis(2);
    return CountsInSpace{x, y, z}.by_point(y);
  }
  return counts_by_comparison(x, values, length, tolerance);
}

}  // namespace pulsewright
