#include "bumps.hpp"

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright::simulation {

namespace {
/// Beyond this many SD a bump is 1e-8 of its height and left out.
constexpr double reach_sd = 6.1;
/// Grid on which `peak_near` looks before it refines.
constexpr double look_step = 0.001;
}  // namespace

void BumpWave::finish() {
  std::sort(bumps_.begin(), bumps_.end(), [](const Bump& a, const Bump& b) {
    if (a.centre != b.centre) return a.centre < b.centre;
    if (a.sd != b.sd) return a.sd < b.sd;
    return a.height < b.height;
  });
  widest_ = 0;
  for (const Bump& bump : bumps_) widest_ = std::max(widest_, bump.sd);
}

double BumpWave::at(double t) const {
  const double reach = reach_sd * widest_;
  auto bump = std::lower_bound(bumps_.begin(), bumps_.end(), t - reach,
                               [](const Bump& b, double time) { return b.centre < time; });
  double sum = 0.0;
  for (; bump != bumps_.end() && bump->centre <= t + reach; ++bump) {
    const double x = (t - bump->centre) / bump->sd;
    if (x > -reach_sd && x < reach_sd) sum += bump->height * elementary::exp(-0.5 * x * x);
  }
  return sum;
}

std::vector<double> BumpWave::sampled(const SampleTimes& times) const {
  std::vector<double> values(times.size(), 0.0);
  for (const Bump& bump : bumps_) {
    const auto [first, last] = times.range(bump.centre - reach_sd * bump.sd, bump.centre + reach_sd * bump.sd);
    for (std::size_t i = first; i < last; ++i) {
      const double x = (times.true_time(i) - bump.centre) / bump.sd;
      if (x > -reach_sd && x < reach_sd) values[i] += bump.height * elementary::exp(-0.5 * x * x);
    }
  }
  return values;
}

BumpWave::Peak BumpWave::peak_near(double t, double reach, double sign) const {
  const int side = static_cast<int>(std::ceil(reach / look_step));
  std::vector<double> grid;
  for (int k = -side - 1; k <= side + 1; ++k) grid.push_back(sign * at(t + look_step * static_cast<double>(k)));
  int best = 0;
  bool found = false;
  for (int k = -side; k <= side; ++k) {
    const auto i = static_cast<std::size_t>(k + side + 1);
    if (grid[i] > grid[i - 1] && grid[i] >= grid[i + 1] && (!found || std::abs(k) < std::abs(best))) {
      best = k;
      found = true;
    }
  }
  if (!found) return {t, false};
  // Ternary search: the wave is smooth and has one maximum between the neighbours.
  double low = t + look_step * static_cast<double>(best - 1);
  double high = t + look_step * static_cast<double>(best + 1);
  while (high - low > 1e-7) {
    const double a = low + (high - low) / 3.0;
    const double b = high - (high - low) / 3.0;
    if (sign * at(a) < sign * at(b)) {
      low = a;
    } else {
      high = b;
    }
  }
  return {0.5 * (low + high), true};
}

}  // namespace pulsewright::simulation
