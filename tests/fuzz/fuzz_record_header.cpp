// Headers of the open record format. No signal files stand beside them, so that reading ends there.
#include "entry.hpp"
#include "pulsewright/read.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const fuzz::ScratchFile file{"r.hea"};
  fuzz::may_refuse([&] { static_cast<void>(pulsewright::read_recording(file.write(data, size))); });
  return 0;
}

std::vector<std::string> seeds() {
  return {
      "100 2 360 650000\n100.dat 212 200 11 1024 995 -22131 0 MLII\n100.dat 212 200 11 1024 1011 20052 0 V5\n# "
      "comment\n",
      "r 1 250/1000(5) 1000 10:11:12.5 01/02/2024\nr.dat 16x4:2+512 200(-3)/uV 16 0 0 0 0 a lead\n",
      "m/3 2 100 6 10:00:00\ns1 2\n~ 3\ns2 1\n", "m/2 3 100\nlayout 0\nr 4\n", "r 2\r\nr.dat 8\r\nr.dat 311 0\r\n"};
}
