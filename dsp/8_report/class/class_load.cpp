#include "8_report/page/sortable_table.hpp"
#include "class_parts.hpp"

namespace pulsewright {
namespace {

TableCell load_cell(const std::optional<Ranged>& value, int decimals, std::string key, const Words& words) {
  TableCell cell;
  if (!value) {
    cell.content.element("span", {{"class", "quiet"}}, words("class.missing"));
    return cell;
  }
  cell.value = value->value;
  cell.content = traced_markup(traced_number(value->value, 2, decimals, std::move(key), words));
  return cell;
}

}  // namespace

Markup class_load(const ClassComparison& comparison, const Words& words) {
  std::vector<std::vector<TableCell>> rows;
  for (std::size_t i = 0; i < comparison.members.size(); ++i) {
    const ClassMember& member = comparison.members[i];
    if (!member.session || !member.session->weighted_minutes) continue;
    const auto key = [i](const char* name) { return member_key(i, std::string("effort.session.") + name); };
    const SessionEffort& session = *member.session;
    rows.push_back({{member.entry.code},
                    load_cell(session.weighted_minutes, 1, key("weighted_min"), words),
                    load_cell(session.impulse_men, 1, key("impulse_men"), words),
                    load_cell(session.impulse_women, 1, key("impulse_women"), words)});
  }
  Markup out;
  if (rows.empty()) return out;
  const std::string name = words("class.load_table");
  out.open("details", {{"id", "load"}}).element("summary", name).element("p", words("class.load_note"));
  out.add(sortable_table(name, name,
                         {{words("class.column.code")},
                          {words("class.column.load"), true},
                          {words("class.column.impulse_men"), true},
                          {words("class.column.impulse_women"), true}},
                         rows));
  return out.close();
}

}  // namespace pulsewright
