// Delimited text, with and without a stated rate.
#include <cmath>
#include <cstdlib>

#include "entry.hpp"
#include "pulsewright/read.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace pulsewright;
  static const fuzz::ScratchFile file{"log.csv"};
  const auto& path = file.write(data, size);
  for (const bool stated : {false, true})
    fuzz::may_refuse([&] {
      ReadOptions options;
      if (stated) options.rate = Hertz{125};
      const Recording r = read_recording(path, options);
      // whatever was accepted keeps the promises of the vocabulary
      for (const Channel& c : r.channels) {
        if (!(c.rate.value() > 0) || !std::isfinite(c.rate.value())) std::abort();
        if (!c.times.empty() && c.times.size() != c.samples.size()) std::abort();
        for (std::size_t i = 1; i < c.times.size(); ++i)
          if (!(c.times[i - 1] < c.times[i])) std::abort();
      }
    });
  return 0;
}

std::vector<std::string> seeds() {
  std::string plain = "time_s,ecg,acc_x_g\n";
  std::string clock = "# rate 125 Hz\r\nZeit;Puls [counts]\r\n";
  std::string bare;
  std::string dates = "stamp\tppg\n";
  for (int i = 0; i < 30; ++i) {
    plain += std::to_string(i * 0.008) + "," + std::to_string(i % 7) + ",-0.5\n";
    clock += "10:00:00," + std::to_string(100 + i) + ";" + std::to_string(i) + ",5\r\n";
    bare += std::to_string(12000 + 8 * i) + " " + std::to_string(i * i % 31) + "\n";
    dates += "2024-03-01T10:00:" + std::to_string(10 + i) + "Z\t" + (i % 5 == 0 ? "nan" : "3e2") + "\n";
  }
  return {plain, clock, bare, dates, "\xef\xbb\xbf\"a, b\",c\n\"1,5\",2\n\"2,5\",3\n", "sample,x\n0,1\n1,2\n5,3\n"};
}
