// What batches hand on: rows of journals, and options of single records as JSON.
#include "entry.hpp"
#include "pulsewright/batch.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace pulsewright;
  const std::string text(reinterpret_cast<const char*>(data), size);
  fuzz::may_refuse([&] { static_cast<void>(line_of_row(row_of_line(text))); });
  fuzz::may_refuse([&] { static_cast<void>(with_options(Request{}, text)); });
  return 0;
}

std::vector<std::string> seeds() {
  return {R"({"file":"a.csv","status":"done","exit_code":0,"duration_s":30.5,"beats_count":37})",
          R"({"file":"a.csv","status":"failed","exit_code":3,"reason":"a.csv: is empty"})",
          R"({"channels":["ecg","#2"],"rate_hz":250,"start_s":5,"end_s":60,"kind":"ecg","code":"wren","age_years":15})",
          std::string(300, '['), R"({"a":)" + std::string(100, '{')};
}
