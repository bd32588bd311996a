// EDF files: damaged headers must not reach past what the library checks before EDFlib sees them.
#include "entry.hpp"
#include "pulsewright/read.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const fuzz::ScratchFile file{"a.edf"};
  fuzz::may_refuse([&] { static_cast<void>(pulsewright::read_recording(file.write(data, size))); });
  return 0;
}

std::vector<std::string> seeds() {
  const auto field = [](std::string text, std::size_t width) {
    text.resize(width, ' ');
    return text;
  };
  std::string edf = field("0", 8) + field("Heron", 80) + field("stair-climb", 80) + "02.03.24" + "10.11.12" +
                    field("512", 8) + field("", 44) + field("3", 8) + field("1", 8) + field("1", 4) + field("ecg", 16) +
                    field("", 80) + field("mV", 8) + field("-10", 8) + field("10", 8) + field("-1000", 8) +
                    field("1000", 8) + field("", 80) + field("8", 8) + field("", 32);
  edf += std::string(48, '\x01');
  return {edf};
}
