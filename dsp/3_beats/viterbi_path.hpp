/// The most plausible sequence of beats through scored candidates, of either wave.
#pragma once

#include <cstddef>
#include <limits>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

/// What the path needs to know of a candidate.
struct PathNode {
  std::size_t at = 0;       ///< sample on the detector's grid
  double log_odds = 0;      ///< of being a beat, from its own features
  bool beat = false;        ///< in: believed so far, sets the rhythm; out: on the best path
  std::size_t stretch = 0;  ///< counts the gaps before it: an interval from one stretch to the next says nothing
};

/// The rhythm around a node.
struct Rhythm {
  double log_period = 0;    ///< natural logarithm of the usual interval in seconds
  double irregularity = 0;  ///< median absolute change of that logarithm from interval to interval
};

/// What a path pays for its rhythm, in units of log-odds. Early and late beats pay by how far they leave the local rhythm, on a logarithmic scale, with more freedom where
/// it is irregular.
struct PathCosts {
  Seconds crowded{0.36};        ///< an interval shorter than this pays ...
  double crowded_per_s = 10.0;  ///< ... so much for every second that it lacks
  double early = 2.0;           ///< for each unit of the logarithm beyond the freedom
  double early_freedom = 0.5;
  double late = 5.0;
  double late_freedom = 0.3;
  double most_late =
      std::numeric_limits<double>::infinity();  ///< a late beat pays no more than this: a heart may pause
  double irregular_freedom = 2.0;               ///< further freedom, for each unit of irregularity
  double evidence = 1.0;                        ///< what a node's log-odds weigh against all this
  double for_a_beat = 0.0;                      ///< what is added to them
};

/// Rhythm at each node, from the intervals between the nodes marked as beats around it.
[[nodiscard]] std::vector<Rhythm> rhythm_at(const std::vector<PathNode>& nodes, Hertz rate);

/// Marks the nodes on the best path: the sum of their weighted log-odds, less what each interval costs against the rhythm around it.
/// The rhythm is taken from the nodes marked as beats on entry. No two beats are closer than `refractory`. Nodes in time order.
void choose_viterbi_path(std::vector<PathNode>& nodes, Hertz rate, Seconds refractory, const PathCosts& costs = {});

/// The same again and again, as each path knows the rhythm of the one before, until it stays; a few times at most.
void settle_viterbi_path(std::vector<PathNode>& nodes, Hertz rate, Seconds refractory, const PathCosts& costs);

/// A detector's own candidates, which have members `at`, `log_odds`, `beat` and `stretch`, as nodes.
template <class Candidate>
[[nodiscard]] std::vector<PathNode> path_nodes(const std::vector<Candidate>& candidates) {
  std::vector<PathNode> nodes;
  nodes.reserve(candidates.size());
  for (const Candidate& c : candidates) nodes.push_back({c.at, c.log_odds, c.beat, c.stretch});
  return nodes;
}

/// The best path over a detector's own candidates.
template <class Candidate>
void choose_viterbi_path(std::vector<Candidate>& candidates, Hertz rate, Seconds refractory,
                         const PathCosts& costs = {}) {
  std::vector<PathNode> nodes = path_nodes(candidates);
  choose_viterbi_path(nodes, rate, refractory, costs);
  for (std::size_t i = 0; i < nodes.size(); ++i) candidates[i].beat = nodes[i].beat;
}

/// Numbers the stretches of candidates in time order by the positions at which signals resume.
template <class Candidate>
void number_stretches(std::vector<Candidate>& candidates, const std::vector<std::size_t>& restarts) {
  std::size_t stretch = 0;
  for (Candidate& c : candidates) {
    while (stretch < restarts.size() && restarts[stretch] <= c.at) ++stretch;
    c.stretch = stretch;
  }
}

}  // namespace pulsewright::beats_stage
