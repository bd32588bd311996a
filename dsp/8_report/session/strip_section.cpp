#include "8_report/text/csv_table.hpp"
#include "session_figures.hpp"
#include "session_parts.hpp"

namespace pulsewright {
namespace {

std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
  return text;
}

/// One page as an item of the list; `data-` attributes are for the script.
Markup page_item(const StripPage& page) {
  Markup out;
  out.open("li", {{"id", "figure-" + page.figure.id},
                  {"class", "strip-page"},
                  {"data-start", format_number(page.span.start.value(), 3)},
                  {"data-why", joined(page.reasons)}});
  out.open("figure").open("h4").element("span", {{"class", "when"}}, page.figure.title);
  if (!page.reasons.empty()) out.text(" ").element("span", {{"class", "why"}}, joined(page.reasons));
  out.close().add(figure_frame(page.figure));
  out.element("figcaption", page.figure.alt).close().close();
  return out;
}

/// Buttons and fields that the script brings to life; without it they stay hidden.
Markup pager(const Words& words) {
  Markup out;
  out.open("form", {{"class", "pager"}, {"hidden", ""}});
  out.element("button", {{"type", "button"}, {"name", "earlier"}}, words("strip.earlier"));
  out.element("button", {{"type", "button"}, {"name", "later"}}, words("strip.later"));
  out.open("label").element("span", words("strip.position"));
  out.empty("input", {{"type", "range"}, {"name", "position"}, {"min", "0"}, {"value", "0"}, {"step", "1"}}).close();
  out.open("label").element("span", words("strip.chosen")).open("select", {{"name", "chosen"}});
  out.element("option", {{"value", ""}}, words("strip.choose")).close().close();
  return out.close();
}

}  // namespace

Markup strip_section(const SessionView& session, const Words& words) {
  const std::vector<StripPage> pages = strip_pages(session.analysis, *session.recording, *session.chosen, words);
  Markup out;
  out.open("div", {{"class", "strip"}}).element("h3", words("strip.title")).element("p", words("strip.caption"));
  out.add(legend_list(strip_legend(session.analysis.beats.source, words)));
  out.add(pager(words));
  out.element("p", {{"class", "quiet without-scripts"}}, words("page.noscript"));
  out.element("p", {{"class", "quiet print-only"}}, words("strip.print"));
  out.open("ol", {{"class", "strip-pages"}});
  bool all = true;
  for (std::size_t i = 0; i < pages.size(); ++i) {
    all = all && (i == 0 || pages[i].span.start == pages[i - 1].span.end);
    if (!pages[i].reasons.empty()) out.add(page_item(pages[i]));
  }
  out.close();
  for (const StripPage& page : pages)
    if (page.reasons.empty()) out.open("template", {{"class", "strip-page"}}).add(page_item(page)).close();
  if (!all) out.element("p", {{"class", "quiet"}}, words("strip.sample"));
  return out.close();
}

}  // namespace pulsewright
