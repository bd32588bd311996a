#include "sortable_table.hpp"

#include "pulsewright/report.hpp"

namespace pulsewright {

Markup sortable_table(const std::string& name, const std::string& caption, const std::vector<TableColumn>& columns,
                      const std::vector<std::vector<TableCell>>& rows) {
  constexpr int sort_decimals = 6;
  Markup out;
  out.open("div", {{"class", "wide-table"}, {"tabindex", "0"}, {"role", "group"}, {"aria-label", name}});
  out.open("table", {{"class", "sortable"}}).element("caption", caption).open("thead").open("tr");
  for (const TableColumn& column : columns)
    out.element("th", {{"scope", "col"}, {"class", column.number ? "number" : "word"}}, column.name);
  out.close().close().open("tbody");
  for (const std::vector<TableCell>& row : rows) {
    out.open("tr").element("th", {{"scope", "row"}}, row.front().shown);
    for (std::size_t k = 1; k < row.size(); ++k) {
      const char* style = columns[k].number ? "number" : "word";
      if (row[k].value)
        out.element("td", {{"class", style}, {"data-value", format_number(row[k].value, sort_decimals)}}, row[k].shown);
      else
        out.element("td", {{"class", style}}, row[k].shown);
    }
    out.close();
  }
  return out.close().close().close();
}

}  // namespace pulsewright
