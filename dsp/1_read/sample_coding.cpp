#include "sample_coding.hpp"

#include <cstring>
#include <vector>

namespace pulsewright::reading {

namespace {

/// The low `bits` bits of `word` as a two's-complement number.
template <int bits>
std::int32_t signed_low(std::uint32_t word) {
  return static_cast<std::int32_t>(word << (32 - bits)) >> (32 - bits);
}

std::uint32_t little16(const unsigned char* p) { return static_cast<std::uint32_t>(p[0] | p[1] << 8); }

/// Samples that stand in whole bytes.
template <int width, class Take>
void decode_plain(const unsigned char* p, std::span<std::int32_t> out, Take take) {
  for (std::int32_t& sample : out) {
    sample = take(p);
    p += width;
  }
}

/// Two 12-bit samples in three bytes: first the low byte of one, then the high four bits of both (the first's below), then the low byte of
/// the other.
void decode_212(const unsigned char* p, std::span<std::int32_t> out) {
  std::size_t i = 0;
  for (; i + 1 < out.size(); i += 2, p += 3) {
    out[i] = signed_low<12>(little16(p));
    out[i + 1] = signed_low<12>((static_cast<std::uint32_t>(p[1]) >> 4) << 8 | p[2]);
  }
  if (i < out.size()) out[i] = signed_low<12>(little16(p));
}

/// Three 10-bit samples in two 16-bit words: two in bits 1 to 10 of each word, the third in the top five bits of both, the first word's
/// below.
void group_310(const unsigned char* p, std::int32_t* three) {
  const std::uint32_t low = little16(p);
  const std::uint32_t high = little16(p + 2);
  three[0] = signed_low<10>(low >> 1);
  three[1] = signed_low<10>(high >> 1);
  three[2] = signed_low<10>(low >> 11 | (high >> 11) << 5);
}

/// Three 10-bit samples in the low thirty bits of a 32-bit word, the first lowest.
void group_311(const unsigned char* p, std::int32_t* three) {
  const std::uint32_t word = little16(p) | little16(p + 2) << 16;
  three[0] = signed_low<10>(word);
  three[1] = signed_low<10>(word >> 10);
  three[2] = signed_low<10>(word >> 20);
}

/// Groups of three samples in four bytes; the last group may be cut short.
template <class Group>
void decode_threes(std::span<const unsigned char> bytes, std::span<std::int32_t> out, Group group) {
  std::size_t i = 0;
  const unsigned char* p = bytes.data();
  for (; i + 2 < out.size(); i += 3, p += 4) group(p, &out[i]);
  if (i == out.size()) return;
  unsigned char last[4] = {0, 0, 0, 0};
  const auto left = static_cast<std::size_t>(bytes.data() + bytes.size() - p);
  std::memcpy(last, p, left < 4 ? left : 4);
  std::int32_t three[3];
  group(last, three);
  for (std::size_t k = 0; i < out.size(); ++i, ++k) out[i] = three[k];
}

}  // namespace

bool is_known_coding(std::int64_t coding) {
  switch (coding) {
    case 8:
    case 16:
    case 24:
    case 32:
    case 61:
    case 80:
    case 160:
    case 212:
    case 310:
    case 311: return true;
    default: return false;
  }
}

std::int64_t samples_in_bytes(int coding, std::int64_t bytes) {
  switch (coding) {
    case 8:
    case 80: return bytes;
    case 16:
    case 61:
    case 160: return bytes / 2;
    case 24: return bytes / 3;
    case 32: return bytes / 4;
    case 212: return bytes / 3 * 2 + (bytes % 3 == 2 ? 1 : 0);
    case 310: return bytes / 4 * 3 + (bytes % 4 >= 2 ? 1 : 0);
    case 311: return bytes / 4 * 3 + (bytes % 4 == 3 ? 2 : bytes % 4 == 2 ? 1 : 0);
    default: return 0;
  }
}

std::int64_t bytes_of_samples(int coding, std::int64_t samples) {
  switch (coding) {
    case 8:
    case 80: return samples;
    case 16:
    case 61:
    case 160: return samples * 2;
    case 24: return samples * 3;
    case 32: return samples * 4;
    case 212: return samples / 2 * 3 + samples % 2 * 2;
    case 310: return samples / 3 * 4 + (samples % 3 == 2 ? 4 : samples % 3 == 1 ? 2 : 0);
    case 311: return samples / 3 * 4 + (samples % 3 == 2 ? 3 : samples % 3 == 1 ? 2 : 0);
    default: return 0;
  }
}

void decode_samples(int coding, std::span<const unsigned char> bytes, std::int64_t first, std::span<std::int32_t> out) {
  const auto from = bytes.subspan(static_cast<std::size_t>(bytes_of_samples(coding, first)));
  const unsigned char* p = from.data();
  using Byte = const unsigned char*;
  switch (coding) {
    case 8: decode_plain<1>(p, out, [](Byte b) { return signed_low<8>(b[0]); }); break;
    case 16: decode_plain<2>(p, out, [](Byte b) { return signed_low<16>(little16(b)); }); break;
    case 24:
      decode_plain<3>(p, out,
                      [](Byte b) { return signed_low<24>(little16(b) | static_cast<std::uint32_t>(b[2]) << 16); });
      break;
    case 32: decode_plain<4>(p, out, [](Byte b) { return signed_low<32>(little16(b) | little16(b + 2) << 16); }); break;
    case 61:
      decode_plain<2>(p, out, [](Byte b) { return signed_low<16>(static_cast<std::uint32_t>(b[0] << 8 | b[1])); });
      break;
    case 80: decode_plain<1>(p, out, [](Byte b) { return static_cast<std::int32_t>(b[0]) - 128; }); break;
    case 160: decode_plain<2>(p, out, [](Byte b) { return static_cast<std::int32_t>(little16(b)) - 32768; }); break;
    case 212: decode_212(p, out); break;
    case 310: decode_threes(from, out, group_310); break;
    case 311: decode_threes(from, out, group_311); break;
    default: break;
  }
}

std::int64_t invalid_value(int coding) {
  switch (coding) {
    case 80: return -128;
    case 310:
    case 311: return -512;
    case 212: return -2048;
    case 16:
    case 61:
    case 160: return -32768;
    case 24: return -8388608;
    case 32: return INT32_MIN;
    default: return INT64_MIN;
  }
}

}  // namespace pulsewright::reading
