#include <algorithm>

#include "session_parts.hpp"

namespace pulsewright {

namespace {

/// Common practice for a warm-up and a cool-down.
constexpr Seconds shortest_usual{300.0};
constexpr Seconds longest_usual{600.0};
/// Two lengths are about equal when the shorter is at least this share of the longer (ours).
constexpr double about_equal_share = 2.0 / 3.0;

UsualLength length_of(Seconds time) {
  if (!(time.value() > 0.0)) return UsualLength::none;
  if (time < shortest_usual) return UsualLength::shorter;
  return time > longest_usual ? UsualLength::longer : UsualLength::usual;
}

}  // namespace

const char* to_string(UsualLength length) {
  switch (length) {
    case UsualLength::none: return "none";
    case UsualLength::shorter: return "shorter";
    case UsualLength::usual: return "usual";
    case UsualLength::longer: break;
  }
  return "longer";
}

void add_easing(SessionEffort& session) {
  Easing& easing = session.easing;
  for (const Phase& phase : session.phases) {
    if (phase.kind == PhaseKind::warm_up) easing.warm_up += phase.span().length();
    if (phase.kind == PhaseKind::cool_down) easing.cool_down += phase.span().length();
  }
  easing.warm_up_length = length_of(easing.warm_up);
  easing.cool_down_length = length_of(easing.cool_down);
  const Seconds shorter = std::min(easing.warm_up, easing.cool_down),
                longer = std::max(easing.warm_up, easing.cool_down);
  easing.about_equal = shorter.value() > 0.0 && shorter >= about_equal_share * longer;
  for (std::size_t k = 0; k < session.phases.size(); ++k) {
    if (session.phases[k].kind != PhaseKind::work) continue;
    easing.end_seen = k + 1 < session.phases.size();
    easing.abrupt_stop = easing.end_seen && session.phases[k + 1].kind == PhaseKind::rest;
  }
}

}  // namespace pulsewright
