// Signal files of the open record format: the first byte picks coding and header, the rest are the samples.
#include "entry.hpp"
#include "pulsewright/read.hpp"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const fuzz::ScratchFile file{"r.dat"};
  static constexpr const char* codings[] = {"8", "16", "24", "32", "61", "80", "160", "212", "310", "311"};
  if (size == 0) return 0;
  const std::string coding = codings[data[0] % 10];
  const std::string frames = data[0] & 16 ? " 7" : data[0] & 32 ? "" : " 1000";
  const std::string skew = data[0] & 64 ? "x3:2+3" : "";
  std::ofstream{file.folder() / "r.hea"} << "r 2 250" << frames << "\nr.dat " << coding << skew
                                         << " 200 0 0 0 5\nr.dat " << coding << (data[0] & 64 ? "+3" : "") << "\n";
  file.write(data + 1, size - 1);
  fuzz::may_refuse([&] { static_cast<void>(pulsewright::read_recording(file.folder() / "r")); });
  return 0;
}

std::vector<std::string> seeds() {
  std::vector<std::string> all;
  for (int first = 0; first < 128; first += 3) all.push_back(static_cast<char>(first) + std::string(61, '\x35'));
  return all;
}
