#include "figure.hpp"

#include <algorithm>

#include "8_report/embedded_text.hpp"
#include "figure_style.hpp"

namespace pulsewright {
namespace {

/// Narrower there would be no room for the title.
constexpr int alone_least_px = 480;
constexpr int alone_margin_px = 24;
constexpr int alone_title_px = 54;
constexpr int alone_legend_row_px = 22;
/// A wide figure has room for two entries of its legend side by side.
constexpr int alone_legend_column_px = 480;
/// Width of a letter of the title, at most.
constexpr double alone_title_letter_px = 9.8;

/// Everything but letters, digits and the marks that may stand in a URL as they are (RFC 3986, unreserved) as %XX.
std::string url_encoded(std::string_view bytes) {
  constexpr std::string_view kept = "-._~,:;/*!()";
  constexpr std::string_view digits = "0123456789ABCDEF";
  std::string out;
  out.reserve(bytes.size() * 9 / 8);
  for (const char c : bytes) {
    const bool plain = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    if (plain || kept.find(c) != std::string_view::npos) {
      out += c;
    } else {
      const auto byte = static_cast<unsigned char>(c);
      out += {'%', digits[byte >> 4U], digits[byte & 0xFU]};
    }
  }
  return out;
}

Markup swatch(const LegendEntry& entry) {
  Markup mark;
  mark.open("svg", {{"class", "swatch"}, {"width", "22"}, {"height", "14"}, {"aria-hidden", "true"}});
  switch (entry.swatch) {
    case LegendEntry::Swatch::area:
      mark.empty("rect", {{"class", entry.style}, {"x", "1"}, {"y", "1"}, {"width", "20"}, {"height", "12"}});
      break;
    case LegendEntry::Swatch::line:
      mark.empty("line", {{"class", entry.style}, {"x1", "1"}, {"x2", "21"}, {"y1", "7"}, {"y2", "7"}});
      break;
    case LegendEntry::Swatch::symbol:
      mark.empty("use", {{"href", "#" + entry.style}, {"class", "symbol"}, {"x", "11"}, {"y", "7"}});
      break;
  }
  mark.close();
  return mark;
}

/// The selector of the marks that an entry stands for.
std::string marks_of(const LegendEntry& entry) {
  if (entry.swatch == LegendEntry::Swatch::symbol) return "[href=\"#" + entry.style + "\"]";
  std::string selector = "." + entry.style;
  std::replace(selector.begin(), selector.end(), ' ', '.');
  return selector;
}

/// Characters, not bytes: continuation bytes of UTF-8 take no room.
std::size_t letters_of(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

std::string plot_height(const Figure& figure) { return std::to_string(figure.height_px); }

}  // namespace

Markup figure_definitions() {
  Markup defs;
  defs.open("defs");
  const auto hatch = [&defs](const char* id, const char* style, const char* size, const char* d) {
    defs.open("pattern", {{"id", id}, {"width", size}, {"height", size}, {"patternUnits", "userSpaceOnUse"}});
    defs.empty("path", {{"class", style}, {"d", d}}).close();
  };
  hatch("hatch-missing", "hatch", "7", "M-1 8L8 -1M-1 1L1 -1M6 8L8 6");
  hatch("hatch-replaced", "hatch accent", "5", "M-1 -1L6 6M-1 4L1 6M4 -1L6 1");
  const auto symbol = [&defs](const char* id, const char* d) { defs.empty("path", {{"id", id}, {"d", d}}); };
  // Centred on 0, 0 and about 10 px large; told apart by shape.
  symbol("mark-accepted", "M-4.5 -4H4.5L0 4.5Z");
  symbol("mark-doubtful", "M-4.5 -4H4.5L0 4.5ZM-2.4 -2.8H2.4L0 1.8Z");
  symbol("mark-too_soon", "M-4 -1H4V1H-4Z");
  symbol("mark-repolarisation", "M-4 -4H4V-2H1V4H-1V-2H-4Z");
  symbol("mark-reflected", "M0 -5L5 0L0 5L-5 0ZM0 -2.6L-2.6 0L0 2.6L2.6 0Z");
  symbol("mark-weak",
         "M0 -4.5A4.5 4.5 0 1 0 0 4.5A4.5 4.5 0 1 0 0 -4.5ZM0 -2.8A2.8 2.8 0 1 1 0 2.8A2.8 2.8 0 1 1 0 -2.8Z");
  symbol("mark-unreadable", "M-4 -4H4V4H-4ZM-2.4 -2.4V2.4H2.4V-2.4Z");
  symbol("mark-value", "M-1.75 -7H1.75V7H-1.75Z");
  symbol("mark-border", "M-0.75 -5H0.75V5H-0.75Z");
  symbol("mark-person", "M0 -3.5A3.5 3.5 0 1 0 0 3.5A3.5 3.5 0 1 0 0 -3.5Z");
  symbol("mark-ease", "M0 -5A5 5 0 1 0 0 5A5 5 0 1 0 0 -5ZM0 -2.8A2.8 2.8 0 1 1 0 2.8A2.8 2.8 0 1 1 0 -2.8Z");
  symbol("mark-limit", "M0 -6L6 0L0 6L-6 0Z");
  symbol("mark-off_rhythm", "M-4.2 -3L-3 -4.2L0 -1.2L3 -4.2L4.2 -3L1.2 0L4.2 3L3 4.2L0 1.2L-3 4.2L-4.2 3L-1.2 0Z");
  defs.close();
  return defs;
}

Markup data_link(const std::string& id, const std::string& csv, const std::string& text) {
  Markup out;
  return out.element(
      "a", {{"class", "data"}, {"download", id + ".csv"}, {"href", "data:text/csv;charset=utf-8," + url_encoded(csv)}},
      text);
}

Markup legend_list(const std::vector<LegendEntry>& legend) {
  Markup out;
  out.open("ul", {{"class", "legend"}});
  for (const LegendEntry& entry : legend)
    out.open("li", {{"data-marks", marks_of(entry)}}).add(swatch(entry)).text(entry.text).close();
  return out.close();
}

Markup figure_frame(const Figure& figure) {
  Markup out;
  if (!figure.y_title.empty()) out.element("p", {{"class", "y-title"}, {"aria-hidden", "true"}}, figure.y_title);
  out.open("div", {{"class", figure.width_px ? "frame square" : "frame"}});
  const auto side = [&](const char* style, int width, const Markup& content) {
    if (content.blank()) return;
    out.open(
        "svg",
        {{"class", style}, {"width", std::to_string(width)}, {"height", plot_height(figure)}, {"aria-hidden", "true"}});
    out.add(content).close();
  };
  side("left", left_room_px, figure.left);
  out.open("div", {{"class", figure.scrolls ? "pane scrolls" : "pane"},
                   {"tabindex", "0"},
                   {"role", "group"},
                   {"aria-label", figure.title}});
  out.open("svg", {{"class", "plot"},
                   {"role", "img"},
                   {"aria-label", figure.alt},
                   {"width", figure.width_px ? std::to_string(*figure.width_px) : "100%"},
                   {"height", plot_height(figure)},
                   {"data-low", format_number(figure.x_low, 6)},
                   {"data-high", format_number(figure.x_high, 6)},
                   {"data-readout", figure.readout},
                   {"data-missing", figure.readout_missing}});
  out.add(figure.plot).close().close();
  side("right", right_room_px, figure.right);
  return out.close();
}

Markup figure_on_page(const Figure& figure, const Words& words, const char* heading) {
  Markup out;
  out.open("figure", {{"id", "figure-" + figure.id}});
  if (heading != nullptr) out.element(heading, figure.title);
  out.add(figure_frame(figure));
  if (!figure.legend.empty()) out.add(legend_list(figure.legend));
  out.open("figcaption");
  if (!figure.caption.empty()) out.element("p", figure.caption);
  out.open("details").element("summary", words("figure.details")).element("p", figure.alt);
  if (!figure.csv.empty()) out.open("p").add(data_link(figure.id, figure.csv, words("figure.data"))).close();
  out.close().close().close();
  return out;
}

std::string figure_svg(const Figure& figure) {
  const int plot_px = figure.width_px.value_or(alone_plot_px);
  const int right_px = figure.right.blank() ? alone_margin_px : right_room_px;
  const int entries = static_cast<int>(figure.legend.size());
  const int legend_columns = std::max(plot_px / alone_legend_column_px, 1);
  const int legend_rows = (entries + legend_columns - 1) / legend_columns;
  const int legend_px = legend_rows * alone_legend_row_px;
  const int title_px = static_cast<int>(alone_title_letter_px * static_cast<double>(letters_of(figure.title)));
  const int width =
      std::max({left_room_px + plot_px + right_px, alone_least_px, alone_margin_px + title_px + alone_margin_px});
  const int legend_top = alone_title_px + figure.height_px + 8;
  const int height = legend_top + legend_px + alone_margin_px;
  const auto text = [](int number) { return std::to_string(number); };

  Markup out;
  out.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                   {"class", "alone"},
                   {"width", text(width)},
                   {"height", text(height)},
                   {"viewBox", "0 0 " + text(width) + " " + text(height)},
                   {"role", "img"},
                   {"aria-labelledby", "title description"}});
  out.element("title", {{"id", "title"}}, figure.title);
  out.element("desc", {{"id", "description"}}, figure.alt);
  out.element("style", figure_style_alone());
  out.add(figure_definitions());
  out.empty("rect", {{"class", "paper"}, {"width", "100%"}, {"height", "100%"}});
  out.element("text", {{"class", "figure-title"}, {"x", "16"}, {"y", "22"}}, figure.title);
  out.element("text", {{"class", "tick"}, {"x", "16"}, {"y", "38"}}, figure.y_title);
  const auto column = [&](int x, int column_width, const Markup& content) {
    out.open("svg", {{"x", text(x)},
                     {"y", text(alone_title_px)},
                     {"width", text(column_width)},
                     {"height", plot_height(figure)},
                     {"overflow", "visible"}});
    out.add(content).close();
  };
  column(0, left_room_px, figure.left);
  column(left_room_px, plot_px, figure.plot);
  column(left_room_px + plot_px, right_px, figure.right);
  for (int k = 0; k < entries; ++k) {
    const LegendEntry& entry = figure.legend[static_cast<std::size_t>(k)];
    const int x = left_room_px + k / legend_rows * alone_legend_column_px;
    const int y = legend_top + k % legend_rows * alone_legend_row_px;
    out.open("svg", {{"x", text(x)}, {"y", text(y)}, {"width", "22"}, {"height", "14"}});
    out.add(swatch(entry)).close();
    out.element("text", {{"class", "tick"}, {"x", text(x + 30)}, {"y", text(y + 11)}}, entry.text);
  }
  out.close();
  return out.bytes() + "\n";
}

}  // namespace pulsewright
