/// What a file is, before anything is done with it.
#include <fstream>
#include <string>

#include "calls.hpp"
#include "pulsewright/batch.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"
#include "pulsewright/table.hpp"

namespace pulsewright::page {
namespace {

/// Which of the lists that a teacher writes a table is, by its columns; empty when it is none.
std::string list_form(const std::string& file) {
  try {
    const Table table = read_table(file);
    if (table.column("code") && table.column("file")) return "sheet";
    if (table.column("code") && !table.column("start_s")) return "roster";
    if (table.column("test")) return "study";
  } catch (const Error&) {
    // Signals, and everything else that has no names over its columns, are no list; whoever reads them says what is wrong.
  }
  return {};
}

/// A roster may also be a JSON document.
bool is_people_document(const std::string& file) {
  std::ifstream bytes(file, std::ios::binary);
  return (bytes >> std::ws).peek() == '{';
}

}  // namespace

Json inspect(const Json& asked) {
  const std::string file = text_of(asked, "file");
  if (is_people_document(file)) return {{"form", "roster"}};
  if (const std::string form = list_form(file); !form.empty()) return {{"form", form}};
  const Request request = with_options({}, options_of(asked));
  if (holds_rates(file)) {
    const RateSeries rates = read_rates(file);
    return {{"form", "rates"}, {"duration_s", rates.duration.value()}};
  }
  try {
    const Recording recording = read_recording(file, request.read);
    Json reply = {{"form", "recording"}, {"recording", Json::parse(recording_json(recording))}};
    reply["recording"]["duration_s"] = recording.duration.value();
    return reply;
  } catch (const Error& error) {
    if (error.code() == ErrorCode::usage) throw;
    try {
      const BeatTrain beats = read_beats(file).beats;
      return {{"form", "beats"}, {"beats", beats.accepted().size()}, {"duration_s", beats.duration.value()}};
    } catch (const Error&) {
    }
    try {
      const BeatTrain beats = read_intervals(file, IntervalUnit::milliseconds);
      return {{"form", "intervals"}, {"beats", beats.accepted().size()}, {"duration_s", beats.duration.value()}};
    } catch (const Error&) {
    }
    throw;  // as a recording: what most files are meant to be
  }
}

}  // namespace pulsewright::page
