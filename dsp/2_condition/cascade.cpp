#include "cascade.hpp"

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright::condition_stage {

std::size_t settling_samples(const Sections& sections, double share) {
  double slowest = 0.0;
  for (const Section& s : sections) {
    const double discriminant = s.a1 * s.a1 - 4.0 * s.a2;
    const double radius = discriminant < 0.0 ? std::sqrt(s.a2) : (std::abs(s.a1) + std::sqrt(discriminant)) / 2.0;
    slowest = std::max(slowest, radius);
  }
  if (slowest <= 0.0) return 2;          // nothing recursive: a section remembers two samples
  if (slowest >= 1.0) return 1U << 30U;  // never settles; the caller is bounded by its signal
  return static_cast<std::size_t>(std::ceil(elementary::log(share) / elementary::log(slowest))) + 2;
}

}  // namespace pulsewright::condition_stage
