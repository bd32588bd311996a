#include <algorithm>
#include <cmath>

#include "pulsewright/beat_shapes.hpp"
#include "pulsewright/median.hpp"
#include "shape_groups.hpp"

namespace pulsewright {

namespace {

constexpr std::size_t fewest_beats = 20;
/// Intervals on each side that an interval is compared with.
constexpr std::size_t reach = 10;
/// A usual shape is that of at least one beat in thirty, less than a third of them early (ours).
constexpr double least_share = 1.0 / 30.0;
constexpr double most_early = 0.33;
/// A shape is mostly early, and so ventricular wherever it stands, from this share of early beats on (ours).
constexpr double mostly_early = 0.5;
/// Shapes that are alike to this degree are usual together with the largest usual one (ours).
constexpr double like_usual = 0.90;

/// How a beat stands in its rhythm.
struct Timing {
  double share = 1.0;    ///< its interval over the median of those around it
  double scatter = 1.0;  ///< median distance of those from their median, as a share of it
  double drop = 1.0;     ///< its interval over the one before
};

std::vector<Timing> timings(const std::vector<Beat*>& beats) {
  std::vector<double> intervals;
  for (std::size_t i = 1; i < beats.size(); ++i) intervals.push_back((beats[i]->time - beats[i - 1]->time).value());
  std::vector<Timing> result(beats.size());
  for (std::size_t i = 1; i < beats.size(); ++i) {
    const std::size_t here = i - 1;
    const std::size_t from = here - std::min(here, reach), to = std::min(intervals.size(), here + reach + 1);
    std::vector<double> around;
    for (std::size_t k = from; k < to; ++k)
      if (k != here) around.push_back(intervals[k]);
    if (around.empty()) continue;
    const double usual = upper_median(std::span(around));
    result[i].share = intervals[here] / usual;
    if (here > 0) result[i].drop = intervals[here] / intervals[here - 1];
    for (double& v : around) v = std::abs(v - usual) / usual;
    result[i].scatter = upper_median(std::span(around));
  }
  return result;
}

/// Which groups are usual.
std::vector<bool> usual_groups(const ShapeGroups& shapes, const std::vector<double>& early, double beats) {
  const std::size_t n = shapes.groups.size();
  std::vector<bool> usual(n, false);
  std::optional<std::size_t> largest;
  for (std::size_t g = 0; g < n; ++g) {
    usual[g] = shapes.groups[g].count >= least_share * beats && early[g] < most_early;
    if (usual[g] && (!largest || shapes.groups[g].count > shapes.groups[*largest].count)) largest = g;
  }
  if (!largest) return usual;
  for (std::size_t g = 0; g < n; ++g)
    usual[g] = usual[g] || similarity(shapes.groups[g].mean, shapes.groups[*largest].mean) >= like_usual;
  return usual;
}

/// How like a wave is to the usual shape that it is most like.
double likeness(const Shape& wave, const ShapeGroups& shapes, const std::vector<bool>& usual) {
  double best = -1.0;
  for (std::size_t g = 0; g < usual.size(); ++g)
    if (usual[g]) best = std::max(best, similarity(wave, shapes.groups[g].mean));
  return best;
}

}  // namespace

BeatTrain label_by_shape(BeatTrain train, std::span<const Signal> signals, const ShapeOptions& options) {
  std::vector<Beat*> beats;
  for (Beat& beat : train.candidates)
    if (beat.verdict == BeatVerdict::accepted) beats.push_back(&beat);
  if (signals.empty() || signals.front().kind != ChannelKind::ecg || beats.size() < fewest_beats) return train;

  std::vector<std::optional<Shape>> waves;
  waves.reserve(beats.size());
  for (const Beat* beat : beats) waves.push_back(shape_at(signals.front(), beat->time));
  const ShapeGroups shapes = group_shapes(waves, options.same_shape);
  const std::vector<Timing> timing = timings(beats);

  std::vector<double> early(shapes.groups.size(), 0.0);
  for (std::size_t i = 0; i < beats.size(); ++i)
    if (shapes.group[i] && timing[i].share < options.early)
      early[*shapes.group[i]] += 1.0 / shapes.groups[*shapes.group[i]].count;
  const std::vector<bool> usual = usual_groups(shapes, early, static_cast<double>(beats.size()));
  if (std::find(usual.begin(), usual.end(), true) == usual.end()) return train;

  for (std::size_t i = 0; i < beats.size(); ++i) {
    if (!shapes.group[i] || beats[i]->label != BeatLabel::unlabelled) continue;
    const std::size_t g = *shapes.group[i];
    const bool is_early = timing[i].share < options.early;
    if (usual[g]) {
      const bool told = is_early && timing[i].scatter < options.regular && timing[i].drop < options.sudden;
      beats[i]->label = told ? BeatLabel::supraventricular : BeatLabel::normal;
      continue;
    }
    const double like = likeness(*waves[i], shapes, usual);
    const bool of_an_early_shape = early[g] >= mostly_early && shapes.groups[g].count > 1;
    if (of_an_early_shape || like < options.strange || (is_early && like < options.other))
      beats[i]->label = BeatLabel::ventricular;
  }
  return train;
}

}  // namespace pulsewright
