/// The most plausible sequence of beats through scored candidates, of either wave.
#pragma once

#include <cstddef>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright {

/// What the path needs to know of a candidate.
struct PathNode {
  std::size_t at = 0;   ///< sample on the detector's grid
  double log_odds = 0;  ///< of being a beat, from its own features
  bool beat = false;    ///< in: believed so far, sets the rhythm; out: on the best path
};

/// Marks the nodes on the best path: the sum of their log-odds, less what each interval costs against the rhythm around it.
/// The rhythm is taken from the nodes marked as beats on entry. No two beats are closer than `refractory`. Nodes in time order.
void choose_best_path(std::vector<PathNode>& nodes, Hertz rate, Seconds refractory);

/// The same for a detector's own candidates, which have members `at`, `log_odds` and `beat`.
template <class Candidate>
void choose_best_path(std::vector<Candidate>& candidates, Hertz rate, Seconds refractory) {
  std::vector<PathNode> nodes;
  nodes.reserve(candidates.size());
  for (const Candidate& c : candidates) nodes.push_back({c.at, c.log_odds, c.beat});
  choose_best_path(nodes, rate, refractory);
  for (std::size_t i = 0; i < nodes.size(); ++i) candidates[i].beat = nodes[i].beat;
}

}  // namespace pulsewright
