/// One recording through every stage, and what can be made of it.
#include <optional>

#include "calls.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/input_signals.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::page {
namespace {

struct OpenSession {
  InputSignals signals;
  Analysis analysis;
  std::optional<SessionEffort> course;  ///< nothing for recordings longer than a session
};

std::optional<OpenSession>& open_session() {
  static std::optional<OpenSession> session;
  return session;
}

SessionView view_of(const OpenSession& session) {
  if (!session.signals.recording) return {session.analysis};
  return {session.analysis, &*session.signals.recording, &session.signals.chosen};
}

std::string report_of(const OpenSession& session, Language language) {
  const SessionView view = view_of(session);
  return session.course ? session_report(view, *session.course, language) : session_report(view, language);
}

std::string result_of(const OpenSession& session, const std::string& what, Language language) {
  const Analysis& analysis = session.analysis;
  if (what == "report.html") return report_of(session, language);
  if (what == "workings.html") return workings_page(view_of(session), session.signals.find, language);
  if (what == "analysis.json") return analysis_json(analysis);
  if (what == "variability.json") return variability_json(analysis.variability);
  if (what == "effort.json") return effort_json(analysis.effort);
  if (what == "beats.csv") return beats_csv(analysis.beats);
  if (what == "intervals.csv") return intervals_csv(analysis.intervals);
  if (what == "rate.csv") return rate_csv(analysis.rates);
  if (what == "summary.txt") return analysis_text(analysis);
  throw Error(ErrorCode::usage, "no result of a session is named " + what);
}

}  // namespace

Json analyze(const Json& asked) {
  open_session().reset();  // its memory is needed
  Request request = with_options({}, options_of(asked));
  request.input = text_of(asked, "file");
  OpenSession session;
  tell_progress("beats");
  session.analysis = analyze_input(request, session.signals, [](BeatTrain beats) {
    tell_progress("rate");
    return beats;
  });
  tell_progress("session");
  if (session.analysis.rates.duration <= longest_session) {
    SessionOptions options;
    options.effort = request.effort;
    session.course = study_session(session.analysis.rates, session.analysis.effort.person, options);
  }
  const BatchRow row = batch_row(session.analysis.beats.provenance.input, session.analysis);
  Json reply = {{"exit_code", row.exit_code},
                {"duration_s", session.analysis.rates.duration.value()},
                {"signals", session.signals.recording.has_value()}};
  open_session() = std::move(session);
  return reply;
}

Json session_file(const Json& asked) {
  if (!open_session()) throw Error(ErrorCode::usage, "no session is open");
  const std::string what = text_of(asked, "what");
  const Language language = language_of(text_of(asked, "language")).value_or(Language::english);
  return {{"file", put_result(what, result_of(*open_session(), what, language))}};
}

}  // namespace pulsewright::page
