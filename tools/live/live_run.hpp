/// A live run from its first byte to its closing summary.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

#include "command.hpp"
#include "live_lesson.hpp"
#include "live_person.hpp"
#include "live_source.hpp"
#include "live_view.hpp"
#include "projector.hpp"
#include "pulsewright/pipeline.hpp"

namespace pulsewright::program {

struct LiveRunSetup {
  std::vector<LivePersonSetup> people;
  std::vector<std::unique_ptr<LiveSource>> sources;  ///< one a person
  std::unique_ptr<LiveView> view;
  std::optional<std::filesystem::path> record;  ///< the folder to keep samples in
  std::optional<Seconds> length;                ///< the run ends after this time
  std::optional<LessonOptions> lesson;          ///< guides the people through it
  std::optional<ProjectorSetup> projector;      ///< serves the page for the wall
  AnalyzeOptions closing;                       ///< how the closing summary is worked out
};

/// Until every source has ended, the time is over, or the run is interrupted. Exit code 1 where no
/// heart rate was ever shown.
[[nodiscard]] ExitCode run_live(LiveRunSetup setup);

}  // namespace pulsewright::program
