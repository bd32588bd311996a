/// Writes samples in the codings of the open record format, from the words of signal(5) of the physionet.org manual and without the
/// library, so that the reader has something to be held against.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace read_tests {

/// Appends the low `bytes` bytes of `value`, lowest first.
inline void put_little(std::string& out, std::int64_t value, int bytes) {
  for (int i = 0; i < bytes; ++i) out += static_cast<char>(value >> (8 * i) & 0xff);
}

/// The bytes of `samples` in frame order. Coding 8 wants differences.
inline std::string encode(int coding, const std::vector<int>& samples) {
  std::string out;
  if (coding == 310 || coding == 311) {
    for (std::size_t i = 0; i < samples.size(); i += 3) {
      const auto at = [&](std::size_t k) {
        return static_cast<std::uint32_t>(k < samples.size() ? samples[k] : 0) & 1023U;
      };
      const std::uint32_t a = at(i);
      const std::uint32_t b = at(i + 1);
      const std::uint32_t c = at(i + 2);
      if (coding == 310) {
        // two samples in bits 1 to 10 of a word each; the third's low five bits on top of the first word, its high five on the second
        put_little(out, a * 2 + (c % 32) * 2048, 2);
        put_little(out, b * 2 + (c / 32) * 2048, 2);
      } else {
        put_little(out, static_cast<std::int64_t>(a) + b * 1024LL + c * 1048576LL, 4);
      }
    }
    return out;
  }
  if (coding == 212) {
    for (std::size_t i = 0; i < samples.size(); i += 2) {
      const unsigned a = static_cast<unsigned>(samples[i]) & 4095U;
      const unsigned b = static_cast<unsigned>(i + 1 < samples.size() ? samples[i + 1] : 0) & 4095U;
      put_little(out, a % 256, 1);
      put_little(out, a / 256 + (b / 256) * 16, 1);
      if (i + 1 < samples.size()) put_little(out, b % 256, 1);
    }
    return out;
  }
  for (const int s : samples) switch (coding) {
      case 8: put_little(out, s, 1); break;
      case 16: put_little(out, s, 2); break;
      case 24: put_little(out, s, 3); break;
      case 32: put_little(out, s, 4); break;
      case 61:
        out += static_cast<char>(s >> 8 & 0xff);
        out += static_cast<char>(s & 0xff);
        break;
      case 80: put_little(out, s + 128, 1); break;
      case 160: put_little(out, s + 32768, 2); break;
      default: break;
    }
  return out;
}

/// 16-bit sum of samples, as headers carry it.
inline int checksum(const std::vector<int>& samples) {
  std::uint32_t sum = 0;
  for (const int s : samples) sum += static_cast<std::uint32_t>(s);
  return static_cast<std::int16_t>(sum & 0xffff);
}

}  // namespace read_tests
