#include "beat_times.hpp"

#include <algorithm>

#include "random.hpp"

namespace pulsewright::simulation {

namespace {
/// No early beat sooner than this: the tissue is not yet excitable (ours).
constexpr double soonest = 0.28;
/// Nor later than this share of the interval, where it would not be early.
constexpr double latest_share = 0.92;
}  // namespace

std::vector<Contraction> beat_times(const Timeline& timeline, const EarlyBeats& early, std::uint64_t seed) {
  Random random(seed, Stream::early_beats);
  std::vector<Contraction> contractions;
  double offset = random.uniform();  // the first beat falls anywhere in its interval
  double beats = offset;
  double before = timeline.when(beats);
  bool last_was_early = true;
  int since_ventricular = 0;
  while (true) {
    const double next = timeline.when(beats + 1.0);
    if (next >= timeline.end()) break;
    const double normal = next - before;
    const double usual = 60.0 / timeline.rate(next);
    // Two draws a beat whatever the options are.
    const double chance = random.uniform() * 60.0 / usual;  // uniform in [0, beats a minute)
    const double share =
        std::max(early.coupling * (0.95 + 0.1 * random.uniform()), normal > 0.0 ? soonest / normal : 1.0);
    ++since_ventricular;

    BeatLabel label = BeatLabel::normal;
    if (!last_was_early && share <= latest_share) {
      const bool due = early.ventricular_every > 0 && since_ventricular >= early.ventricular_every;
      if (due || chance < early.ventricular_per_minute) {
        label = BeatLabel::ventricular;
      } else if (chance < early.ventricular_per_minute + early.supraventricular_per_minute) {
        label = BeatLabel::supraventricular;
      }
    }

    double time = next;
    double reached = beats + 1.0;
    if (label != BeatLabel::normal) time = before + share * normal;
    if (label == BeatLabel::supraventricular) reached = timeline.beats_until(time);
    if (label == BeatLabel::ventricular) since_ventricular = 0;
    const double last_time = contractions.empty() ? before : contractions.back().time;
    contractions.push_back({time, label, time - last_time, usual});
    last_was_early = label != BeatLabel::normal;
    beats = reached;
    before = label == BeatLabel::ventricular ? next : time;
  }
  return contractions;
}

}  // namespace pulsewright::simulation
