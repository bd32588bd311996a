#include "sortable_table.hpp"

#include <algorithm>

#include "pulsewright/report.hpp"

namespace pulsewright {

Markup sortable_table(const std::string& name, const std::string& caption, const std::vector<TableColumn>& columns,
                      const std::vector<std::vector<TableCell>>& rows) {
  constexpr int sort_decimals = 6;
  Markup out;
  out.open("div", {{"class", "wide-table"}, {"tabindex", "0"}, {"role", "group"}, {"aria-label", name}});
  out.open("table", {{"class", "sortable"}})
      .element("caption", {{"class", caption == name ? "unseen" : ""}}, caption)
      .open("thead")
      .open("tr");
  for (const TableColumn& column : columns)
    out.element("th", {{"scope", "col"}, {"class", column.number ? "number" : "word"}}, column.name);
  out.close();
  const bool scales =
      std::any_of(columns.begin(), columns.end(), [](const TableColumn& column) { return !column.scale.blank(); });
  if (scales) {
    out.open("tr", {{"class", "scale"}, {"aria-hidden", "true"}});
    for (const TableColumn& column : columns)
      out.open("td", {{"class", column.number ? "number" : "word"}}).add(column.scale).close();
    out.close();
  }
  out.close().open("tbody");
  for (const std::vector<TableCell>& row : rows) {
    out.open("tr").element("th", {{"scope", "row"}}, row.front().shown);
    for (std::size_t k = 1; k < row.size(); ++k) {
      const char* style = columns[k].number ? "number" : "word";
      if (row[k].value)
        out.open("td", {{"class", style}, {"data-value", format_number(row[k].value, sort_decimals)}});
      else
        out.open("td", {{"class", style}});
      if (row[k].content.blank())
        out.text(row[k].shown);
      else
        out.add(row[k].content);
      out.close();
    }
    out.close();
  }
  return out.close().close().close();
}

}  // namespace pulsewright
