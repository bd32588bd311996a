#include "8_report/page/page_frame.hpp"
#include "pulsewright/effort_report.hpp"
#include "session_figures.hpp"
#include "session_parts.hpp"

namespace pulsewright {
namespace {

void check(const SessionView& session) {
  if ((session.recording == nullptr) != (session.chosen == nullptr))
    throw Error(ErrorCode::contract, "a session report needs both the recording and its signals, or neither");
  if (session.chosen != nullptr && session.chosen->signals.empty())
    throw Error(ErrorCode::contract, "a session report needs at least one signal");
}

Markup header(const Analysis& analysis, const Words& words) {
  const std::string& code = analysis.effort.person.code;
  Markup out;
  out.element("h1", code.empty() ? words("page.title") : words("page.title_of", {{"code", code}}));
  out.element(
      "p", {{"class", "quiet"}},
      words("page.file", {{"input", analysis.beats.provenance.input}}) + ", " + words.length(analysis.beats.duration));
  return out;
}

/// The figures of each section that has any, in the order of the page.
struct SectionFigures {
  const char* section;
  std::vector<Figure> figures;
};

std::vector<SectionFigures> figures_of(const SessionView& session, const SessionEffort* course, const Words& words) {
  const Analysis& analysis = session.analysis;
  std::vector<SectionFigures> sections{{"rate", {rate_figure(analysis, course, words)}},
                                       {"effort", {}},
                                       {"recovery", {}},
                                       {"signal", {}},
                                       {"intervals", {}}};
  const auto add = [&sections](std::size_t section, std::optional<Figure> figure) {
    if (figure) sections[section].figures.push_back(std::move(*figure));
  };
  add(1, intensity_figure(analysis.effort, words));
  add(1, target_figure(analysis.effort, words));
  if (course != nullptr) add(2, recovery_figure(*course, words));
  if (session.chosen != nullptr) add(3, overview_figure(analysis, *session.recording, *session.chosen, words));
  add(4, histogram_figure(analysis.intervals, words));
  add(4, neighbours_figure(analysis.intervals, words));
  add(4, spectrum_figure(analysis.variability, words));
  return sections;
}

/// The data of the phases, or why a long recording has none.
Markup note_on_phases(const Analysis& analysis, const SessionEffort* course, const Words& words) {
  Markup out;
  if (course != nullptr && analysis.effort.mean_rate)
    out.open("p", {{"class", "quiet"}})
        .add(data_link("phases", phases_csv(*course, words.numbers()), words("phases.data")))
        .close();
  else if (analysis.rates.duration > longest_session)
    out.element("p", {{"class", "quiet"}}, words("phases.too_long", {{"longest", words.length(longest_session)}}));
  return out;
}

std::string report_of(const SessionView& session, const SessionEffort* course, Language language) {
  check(session);
  const Words words(language);
  Markup main = page_section("summary", words("section.summary"), summary_sentences(session.analysis, words));
  for (const SectionFigures& section : figures_of(session, course, words)) {
    if (section.figures.empty()) continue;
    Markup contents;
    contents.open("div", {{"class", section.figures.size() > 1 ? "figures pair" : "figures"}});
    for (const Figure& figure : section.figures) contents.add(figure_on_page(figure, words, "h3"));
    contents.close();
    if (std::string_view(section.section) == "rate") contents.add(note_on_phases(session.analysis, course, words));
    if (std::string_view(section.section) == "signal") contents.add(strip_section(session, words));
    main.add(page_section(section.section, words(std::string("section.") + section.section), contents));
  }
  main.add(page_section("numbers", words("section.numbers"), numbers_table(session.analysis.variability, words)));
  main.add(page_section("origin", words("section.origin"), origin_details(session, words)));
  const std::string& code = session.analysis.effort.person.code;
  const std::string& input = session.analysis.beats.provenance.input;
  const std::string title = words("page.title_of", {{"code", code.empty() ? input : code}});
  return page_frame(title, header(session.analysis, words), main, words);
}

std::vector<FigureFile> files_of(const SessionView& session, const SessionEffort* course, Language language) {
  check(session);
  const Words words(language);
  std::vector<FigureFile> files;
  for (const SectionFigures& section : figures_of(session, course, words))
    for (const Figure& figure : section.figures) files.push_back({figure.id, figure_svg(figure)});
  if (session.chosen == nullptr) return files;
  for (StripPage& page : strip_pages(session.analysis, *session.recording, *session.chosen, words)) {
    if (page.reasons.empty()) continue;
    page.figure.title = words("section.signal") + ", " + page.figure.title;
    page.figure.legend = strip_legend(session.analysis.beats.source, words);
    files.push_back({page.figure.id, figure_svg(page.figure)});
  }
  return files;
}

}  // namespace

std::string session_report(const SessionView& session, Language language) {
  return report_of(session, nullptr, language);
}

std::string session_report(const SessionView& view, const SessionEffort& session, Language language) {
  return report_of(view, &session, language);
}

std::vector<FigureFile> session_figures(const SessionView& session, Language language) {
  return files_of(session, nullptr, language);
}

std::vector<FigureFile> session_figures(const SessionView& view, const SessionEffort& session, Language language) {
  return files_of(view, &session, language);
}

}  // namespace pulsewright
