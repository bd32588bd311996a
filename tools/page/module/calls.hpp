/// What the page asks of the library: calls with a JSON object in and a JSON object out. Files lie in the module's memory; large results are files too.
#pragma once

#include <string>
#include <string_view>

#include "pulsewright/json.hpp"

namespace pulsewright::page {

/// Where results are put, a folder of the module's memory; emptied by whoever takes them out.
inline constexpr const char* results_folder = "/results";

/// What a file is: `form` (recording, beats, intervals, rates, roster, sheet, study) and, of a recording, its document as `inspect` gives it. `asked`: `file`,
/// `options` as of `analyze`. Throws Error{unreadable}.
[[nodiscard]] Json inspect(const Json& asked);

/// Every stage on `file` with `options` (keys of `with_options`). Keeps the session for `session_file`; the reply sums it up.
[[nodiscard]] Json analyze(const Json& asked);
/// One result of the session that `analyze` left, in the results folder: `what` is report, workings, analysis.json, beats.csv, ... and `language` a tag.
/// Throws Error{usage} when there is none.
[[nodiscard]] Json session_file(const Json& asked);

/// The files that `sheet` names, as written, a line each, with whose they are. Throws Error{unreadable} with every fault of the sheet.
[[nodiscard]] Json sheet_files(const Json& asked);
/// The columns and rows of a table as it stands in `file`, for editing.
[[nodiscard]] Json table(const Json& asked);
/// The people of `roster`. Throws Error{unreadable} with every fault of it.
[[nodiscard]] Json roster_people(const Json& asked);
/// The class of `sheet` and `roster`, sorted by `sort`, with `options` as of `analyze`. Keeps it for `class_file`.
[[nodiscard]] Json study_class(const Json& asked);
/// One result of the class that `study_class` left: `what` is class.html, class.json, class.csv, class.txt.
[[nodiscard]] Json class_file(const Json& asked);

/// Targets of a `roster`, as document and CSV, and with `plan` (as of `target --plan`) the plan of everybody.
[[nodiscard]] Json targets(const Json& asked);
/// The rate of `beats` counted over `seconds`, begun on a `beat` or at a `moment`, with its rounding error.
[[nodiscard]] Json counted(const Json& asked);

/// Lays a recording on the lab bench: `file` with `options`. The reply says which signal is looked at and how many beats the library finds as it is.
[[nodiscard]] Json bench_open(const Json& asked);
/// The recording on the bench through every stage with `stages` changed (`pulse_baseline_hz`, `pulse_top_hz`, `ecg_baseline_hz`, `mains`, `refractory_s`, `window_s`,
/// `least_confidence`), and the pupil's own detector (`own`: `smooth_s`, `threshold`, `refractory_s`); samples only inside `view` (`start_s`, `end_s`).
[[nodiscard]] Json bench_turn(const Json& asked);

/// Opens `sensor` (a number): what it sends (`kind` pulse or ecg, `form` automatic or packets), who wears it (`code`), when it `begun`.
[[nodiscard]] Json live_open(const Json& asked);
/// What came of `sensor`: the bytes of `file`, `arrived_us`, after a pause where it is `interrupted`. The reply has the latest second.
[[nodiscard]] Json live_push(const Json& asked);
/// What `sensor` sent so far as a file that the program reads: a recording; of packets their intervals, or without any their rates.
[[nodiscard]] Json live_file(const Json& asked);

/// Says how far the work is; the page shows it. `step` is a word, `detail` may be empty.
void tell_progress(const char* step, const std::string& detail = {});

/// Puts `bytes` into the results folder and gives its path.
[[nodiscard]] std::string put_result(const std::string& name, std::string_view bytes);

/// The object under `options`, as text for `with_options`.
[[nodiscard]] std::string options_of(const Json& asked);

/// The text of a key; empty when it is not there.
[[nodiscard]] std::string text_of(const Json& asked, const char* key);

}  // namespace pulsewright::page
