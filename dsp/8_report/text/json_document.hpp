/// The frame that every JSON document shares, and the rule that no null goes unexplained.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/json.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {

/// Why keys of one body are null. A key that is null for several reasons, in rows of a list, names each once.
class Reasons {
 public:
  Reasons() = default;
  /// Starts from the reasons a stage gave.
  explicit Reasons(const std::vector<Reason>& given);

  /// Takes up a reason that a stage gave.
  void give(const std::string& key, const std::string& reason) { given_.emplace(key, reason); }
  /// Notes why `key` is null here: the stage's own reason where it gave one, else `otherwise`.
  void explain(const std::string& key, const std::string& otherwise);
  [[nodiscard]] Json json() const;

 private:
  std::map<std::string, std::string> given_;
  std::map<std::string, std::vector<std::string>> used_;
};

/// A number rounded as `format_number` does, or null.
[[nodiscard]] Json json_number(std::optional<double> value, int decimals);

/// Puts a number of so many decimals under `key`; a missing one as null with its reason.
void put(Json& object, Reasons& reasons, const std::string& key, std::optional<double> value, int decimals,
         const std::string& otherwise);

/// Puts a word under `key`; a missing one as null with its reason.
void put_word(Json& object, Reasons& reasons, const std::string& key, const char* word, const std::string& otherwise);

/// An array of {start_s, end_s}.
[[nodiscard]] Json json_spans(const std::vector<Span>& spans);

/// The whole document: version, name, the body's keys, `reasons`, `warnings`, `provenance`.
[[nodiscard]] std::string json_document(const std::string& name, const Json& body, Reasons reasons,
                                        const Warnings& warnings, const Provenance& provenance);

// Bodies of the stages, which stand alone or inside an analysis.
[[nodiscard]] Json beats_body(const BeatTrain& beats, const BeatListing& listing, Reasons& reasons);
[[nodiscard]] Json intervals_body(const Intervals& intervals, Reasons& reasons);
[[nodiscard]] Json rate_body(const RateSeries& rates, Reasons& reasons);
[[nodiscard]] Json variability_body(const Variability& result, Reasons& reasons);
[[nodiscard]] Json effort_body(const Effort& result, Reasons& reasons);
/// The reasons that the effort stage gave, under the keys of its body.
[[nodiscard]] Reasons effort_reasons(const Effort& result);
[[nodiscard]] Json target_body(const TargetZone& target, Reasons& reasons);
[[nodiscard]] Json person_body(const Person& person, Reasons& reasons);

}  // namespace pulsewright
