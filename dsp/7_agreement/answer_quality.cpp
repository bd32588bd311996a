#include <algorithm>
#include <cmath>

#include "pulsewright/median.hpp"
#include "pulsewright/rate_study.hpp"

namespace pulsewright {
namespace {

/// Miss of a 95 % interval, in units of which its score is: 2 / (1 - 0.95).
constexpr double miss_weight = 40;
constexpr double near_bpm = 5;
constexpr int risk_points = 10;

double miss_of(double low, double high, double reference) { return std::max({0.0, low - reference, reference - high}); }

/// The half width of least score around each answer. The score is convex in it and bends at the errors: it is least where a twentieth of
/// them is larger.
void put_best_constant(std::vector<double> errors, AnswerQuality& quality) {
  std::sort(errors.begin(), errors.end());
  const double n = static_cast<double>(errors.size());
  constexpr double share = 0.95;
  const auto at = static_cast<std::size_t>(std::ceil(share * n)) - 1;
  const double half = errors[std::min(at, errors.size() - 1)];
  double missed = 0;
  for (const double error : errors) missed += std::max(0.0, error - half);
  quality.constant_half_width = half;
  quality.constant_score = 2 * half + miss_weight * missed / n;
}

void put_risk(std::vector<const StudyWindow*> answers, AnswerQuality& quality) {
  std::stable_sort(answers.begin(), answers.end(),
                   [](const StudyWindow* a, const StudyWindow* b) { return *a->confidence > *b->confidence; });
  double sum = 0, near = 0;
  std::size_t taken = 0;
  for (int k = 1; k <= risk_points; ++k) {
    const std::size_t until = answers.size() * static_cast<std::size_t>(k) / risk_points;
    for (; taken < until; ++taken) {
      const double error = std::abs(*answers[taken]->test - answers[taken]->reference);
      sum += error;
      near += error <= near_bpm ? 1 : 0;
    }
    if (taken == 0) continue;
    const double count = static_cast<double>(taken);
    quality.risk.push_back({100 * count / static_cast<double>(quality.windows), *answers[taken - 1]->confidence,
                            sum / count, 100 * near / count});
  }
}

}  // namespace

AnswerQuality answer_quality(std::span<const StudyWindow> windows) {
  AnswerQuality quality;
  quality.windows = windows.size();
  std::vector<const StudyWindow*> sure;
  std::vector<double> errors, widths;
  double width = 0, missed = 0, held = 0;
  for (const StudyWindow& window : windows) {
    if (!window.test) continue;
    ++quality.answered;
    if (window.confidence) sure.push_back(&window);
    if (!window.low || !window.high) continue;
    const double miss = miss_of(*window.low, *window.high, window.reference);
    widths.push_back(*window.high - *window.low);
    errors.push_back(std::abs(*window.test - window.reference));
    width += widths.back();
    missed += miss;
    held += miss > 0 ? 0 : 1;
  }
  quality.with_interval = widths.size();
  if (!widths.empty()) {
    const double n = static_cast<double>(widths.size());
    quality.covers_percent = 100 * held / n;
    quality.mean_width = width / n;
    quality.median_width = median(std::span(widths));
    quality.interval_score = (width + miss_weight * missed) / n;
    put_best_constant(std::move(errors), quality);
  }
  put_risk(std::move(sure), quality);
  return quality;
}

}  // namespace pulsewright
