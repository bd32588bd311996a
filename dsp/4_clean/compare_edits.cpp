#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pulsewright/beat_edits.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {

namespace {

bool agree(const BeatEdit& a, const BeatEdit& b) {
  if (a.action != b.action || a.label != b.label) return false;
  if (a.action != EditAction::move) return true;
  return std::abs((*a.to - *b.to).value()) <= same_beat.value();
}

Seconds time_of(const EditComparison::Dispute& dispute) {
  return dispute.first ? dispute.first->time : dispute.second->time;
}

struct Pair {
  double distance;
  std::size_t first, second;
};

/// Edits of one beat, one to one, the closest first.
std::vector<Pair> of_one_beat(std::span<const BeatEdit> first, std::span<const BeatEdit> second) {
  std::vector<Pair> pairs;
  for (std::size_t i = 0; i < first.size(); ++i)
    for (std::size_t j = 0; j < second.size(); ++j) {
      const double distance = std::abs((first[i].time - second[j].time).value());
      if (distance <= same_beat.value()) pairs.push_back({distance, i, j});
    }
  std::stable_sort(pairs.begin(), pairs.end(), [](const Pair& a, const Pair& b) { return a.distance < b.distance; });
  std::vector<bool> taken_first(first.size()), taken_second(second.size());
  std::vector<Pair> chosen;
  for (const Pair& pair : pairs) {
    if (taken_first[pair.first] || taken_second[pair.second]) continue;
    taken_first[pair.first] = taken_second[pair.second] = true;
    chosen.push_back(pair);
  }
  return chosen;
}

}  // namespace

std::size_t EditComparison::open() const {
  return static_cast<std::size_t>(
      std::count_if(disputes.begin(), disputes.end(), [](const Dispute& d) { return !d.decision.has_value(); }));
}

EditComparison compare_edits(std::span<const BeatEdit> first, std::span<const BeatEdit> second,
                             std::span<const BeatEdit> decisions) {
  EditComparison result;
  std::vector<bool> paired_first(first.size()), paired_second(second.size());
  for (const Pair& pair : of_one_beat(first, second)) {
    paired_first[pair.first] = paired_second[pair.second] = true;
    if (agree(first[pair.first], second[pair.second]))
      result.agreed.push_back(first[pair.first]);
    else
      result.disputes.push_back({first[pair.first], second[pair.second], std::nullopt});
  }
  for (std::size_t i = 0; i < first.size(); ++i)
    if (!paired_first[i]) result.disputes.push_back({first[i], std::nullopt, std::nullopt});
  for (std::size_t j = 0; j < second.size(); ++j)
    if (!paired_second[j]) result.disputes.push_back({std::nullopt, second[j], std::nullopt});
  std::stable_sort(result.agreed.begin(), result.agreed.end(),
                   [](const BeatEdit& a, const BeatEdit& b) { return a.time < b.time; });
  std::stable_sort(
      result.disputes.begin(), result.disputes.end(),
      [](const EditComparison::Dispute& a, const EditComparison::Dispute& b) { return time_of(a) < time_of(b); });

  for (const BeatEdit& decision : decisions) {
    const auto near = [&](const std::optional<BeatEdit>& edit) {
      return edit && std::abs((edit->time - decision.time).value()) <= same_beat.value();
    };
    bool settles = false;
    for (EditComparison::Dispute& dispute : result.disputes)
      if (!dispute.decision && (near(dispute.first) || near(dispute.second))) {
        dispute.decision = decision;
        settles = true;
        break;
      }
    if (!settles)
      throw Error{ErrorCode::usage, fmt::format("decision '{}' at {:.6f} s by {}: nothing is disputed there",
                                                to_string(decision.action), decision.time.value(), decision.author)};
  }
  return result;
}

std::vector<BeatEdit> adjudicated(const EditComparison& comparison) {
  std::vector<BeatEdit> edits = comparison.agreed;
  for (const EditComparison::Dispute& dispute : comparison.disputes)
    if (dispute.decision) edits.push_back(*dispute.decision);
  std::erase_if(edits, [](const BeatEdit& edit) { return edit.action == EditAction::keep; });
  std::stable_sort(edits.begin(), edits.end(), [](const BeatEdit& a, const BeatEdit& b) { return a.time < b.time; });
  return edits;
}

}  // namespace pulsewright
