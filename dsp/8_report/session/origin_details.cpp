#include "8_report/all_warnings.hpp"
#include "session_parts.hpp"

namespace pulsewright {

Markup origin_details(const SessionView& session, const Words& words) {
  const Provenance& origin = session.analysis.beats.provenance;
  Markup out;
  out.open("dl", {{"class", "origin"}});
  const auto row = [&](const char* key, std::string_view value, bool code) {
    out.element("dt", words(key)).open("dd");
    if (code)
      out.element("code", value);
    else
      out.text(value);
    out.close();
  };
  row("origin.input", origin.input, true);
  row("origin.format", origin.format, true);
  if (origin.sha256.empty())
    row("origin.sha256", words("origin.no_hash"), false);
  else
    row("origin.sha256", origin.sha256, true);
  if (session.recording != nullptr && session.recording->clock_start)
    row("origin.started", *session.recording->clock_start, false);
  row("origin.source", words(std::string("source.") + to_string(session.analysis.beats.source)), false);
  if (session.chosen != nullptr)
    for (const Signal& signal : session.chosen->signals)
      row("origin.signal",
          words("origin.signal_row", {{"name", signal.channel}, {"rate", words.number(signal.rate.value(), 2)}}),
          false);
  const bool defaults = origin.options.empty() || origin.options == "{}";
  row("origin.options", defaults ? words("origin.defaults") : origin.options, !defaults);
  row("origin.version", origin.version.empty() ? version() : origin.version, true);
  out.close();
  out.element("p", {{"class", "quiet"}}, words("origin.again"));

  const Warnings warnings = all_warnings(session.analysis);
  if (!warnings.empty()) {
    out.element("h3", words("origin.warnings")).open("ul", {{"lang", "en"}, {"class", "warnings"}});
    for (const Warning& warning : warnings)
      out.open("li").text(warning.message + " ").element("code", warning.code).close();
    out.close();
  }
  return out;
}

}  // namespace pulsewright
