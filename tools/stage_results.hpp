/// Runs the stages that a command needs and stamps every result with where it came from.
#pragma once

#include <optional>

#include "options/input_options.hpp"
#include "options/person_options.hpp"
#include "options/window_options.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/pipeline.hpp"

namespace pulsewright::program {

/// What the stages after the beats are asked for.
struct StageFlags {
  WindowFlags window;
  PersonFlags person;
};

/// The settings of all groups in one object.
[[nodiscard]] Json joined(std::initializer_list<Json> groups);

/// What the flags ask of an input, every stage of it. Throws Error{usage} when the target is empty.
[[nodiscard]] Request request_of(const InputFlags& input, const StageFlags& stages);

/// The options of every stage. Throws what the groups throw.
[[nodiscard]] AnalyzeOptions analyze_options(const StageFlags& flags);

/// Beats of the input, with the settings in their provenance.
[[nodiscard]] BeatTrain stamped_beats(const InputFlags& input, const Json& options);

/// Rates of the input, from beats and from the spectrum, with the settings in their provenance; the warnings of the beats are added to `of_beats`.
[[nodiscard]] RateSeries stamped_rates(const InputFlags& input, const WindowFlags& window, Warnings& of_beats);

/// A recording with the signals that its beats were found in, for reports that draw them; empty when the input was a list.
struct InputSignals {
  std::optional<Recording> recording;
  ChosenSignals chosen;
};

/// Every stage on the input, its signals kept.
[[nodiscard]] Analysis analyze_input(const InputFlags& input, const StageFlags& stages, InputSignals& signals);

/// Every stage on the input. Warnings of a stage that were passed on stay with it.
[[nodiscard]] Analysis analyze_input(const InputFlags& input, const StageFlags& stages);

/// Every warning of every stage, in their order.
[[nodiscard]] Warnings warnings_of(const Analysis& analysis);

}  // namespace pulsewright::program
