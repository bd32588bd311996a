// Tables that people write: any text is refused or read, and a log survives being kept in.
#include <cstdlib>

#include "entry.hpp"
#include "pulsewright/effort_report.hpp"
#include "pulsewright/table.hpp"
#include "pulsewright/training_log.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace pulsewright;
  const std::string text(reinterpret_cast<const char*>(data), size);
  fuzz::may_refuse([&] {
    const Table table = table_of(text, "t.csv");
    for (const TableRow& row : table.rows)
      if (row.cells.size() != table.columns.size() || row.last_line < row.line) std::abort();
  });
  fuzz::may_refuse([&] {
    std::vector<LogEntry> before;
    if (!text.empty()) before = log_of(table_of(text, "log.csv"));
    LogEntry entry;
    entry.date = "2026-03-02";
    entry.code = "wren";
    entry.session = text.substr(0, 9).find_first_of(" \t\r\n") == std::string::npos ? text.substr(0, 9) : "clip.csv";
    const LogUpdate update = log_with(text, "log.csv", {entry});
    const std::vector<LogEntry> after = log_of(table_of(update.bytes, "log.csv"));
    if (after.size() != before.size() + static_cast<std::size_t>(update.added)) std::abort();
  });
  return 0;
}

std::vector<std::string> seeds() {
  return {"code,age_years\nwren,15\n# a remark\n\"he\"\"ron\",\"16\"\n", "a;b;c\n1,5;\"two\nlines\";'=3\n",
          "date,code,session,activity,duration_min,measured_min\n2026-03-02,wren,clip.csv,run,30,30\n",
          "\xef\xbb\xbf"
          "Date;code;session;note;activity;duration_min;measured_min\r\n2026-03-02;wren;a;\"x;y\";;3,5;3\r\n# end"};
}
