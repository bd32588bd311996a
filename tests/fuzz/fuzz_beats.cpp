// Beat tables, listings, sample numbers, interval lists and spans.
#include "entry.hpp"
#include "pulsewright/read.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace pulsewright;
  static const fuzz::ScratchFile file{"beats.txt"};
  const auto& path = file.write(data, size);
  fuzz::may_refuse([&] { static_cast<void>(read_beats(path, Hertz{360})); });
  fuzz::may_refuse([&] { static_cast<void>(read_intervals(path, IntervalUnit::milliseconds)); });
  fuzz::may_refuse([&] { static_cast<void>(read_spans(path, std::nullopt)); });
  return 0;
}

std::vector<std::string> seeds() {
  return {"time_s,sample,confidence,verdict\n0.5,180,0.9,accepted\n1.25,450,0.4,too_soon\n", "18\n160\n300\n",
          "      Time   Sample #  Type  Sub Chan  Num\tAux\n    0:00.000        0     \"    0    0    0\t## time "
          "resolution: 256\n    0:00.336       86  "
          "   N    0    1    0\n",
          "800 810 790\n860\n", "102840 103119\n4519 5939\n"};
}
