/// What the library asks of OpenSSL, for browsers, where there is none: SHA-256 (FIPS 180-4) and base64 (RFC 4648), under OpenSSL's names. Nothing secret
/// depends on it; hashes say which bytes a result comes from, and which script a page may run.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>

constexpr int EVP_MAX_MD_SIZE = 64;

struct EVP_MD {};
struct ENGINE;

/// The running hash: eight words, the bytes of an unfinished block, and how many bytes there were.
struct EVP_MD_CTX {
  std::array<std::uint32_t, 8> words{};
  std::array<unsigned char, 64> block{};
  std::size_t held = 0;
  std::uint64_t bytes = 0;
};

namespace pulsewright_compat {

/// Fractions of the cube roots of the first 64 primes (FIPS 180-4, 4.2.2).
inline constexpr std::array<std::uint32_t, 64> round_words{
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

inline std::uint32_t turned(std::uint32_t word, int by) { return (word >> by) | (word << (32 - by)); }

/// One block of 64 bytes (FIPS 180-4, 6.2.2).
inline void take_block(EVP_MD_CTX& hash, const unsigned char* block) {
  std::array<std::uint32_t, 64> w;
  for (std::size_t i = 0; i < 16; ++i)
    w[i] = std::uint32_t{block[4 * i]} << 24 | std::uint32_t{block[4 * i + 1]} << 16 |
           std::uint32_t{block[4 * i + 2]} << 8 | std::uint32_t{block[4 * i + 3]};
  for (std::size_t i = 16; i < 64; ++i) {
    const std::uint32_t s0 = turned(w[i - 15], 7) ^ turned(w[i - 15], 18) ^ (w[i - 15] >> 3);
    const std::uint32_t s1 = turned(w[i - 2], 17) ^ turned(w[i - 2], 19) ^ (w[i - 2] >> 10);
    w[i] = w[i - 16] + s0 + w[i - 7] + s1;
  }
  auto [a, b, c, d, e, f, g, h] = hash.words;
  for (std::size_t i = 0; i < 64; ++i) {
    const std::uint32_t t1 = h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) +
                             round_words[i] + w[i];
    const std::uint32_t t2 = (turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
    h = g, g = f, f = e, e = d + t1, d = c, c = b, b = a, a = t1 + t2;
  }
  const std::array<std::uint32_t, 8> more{a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < 8; ++i) hash.words[i] += more[i];
}

}  // namespace pulsewright_compat

inline const EVP_MD* EVP_sha256() {
  static const EVP_MD sha256;
  return &sha256;
}

inline EVP_MD_CTX* EVP_MD_CTX_new() { return new EVP_MD_CTX; }
inline void EVP_MD_CTX_free(EVP_MD_CTX* hash) { delete hash; }

inline int EVP_DigestInit_ex(EVP_MD_CTX* hash, const EVP_MD*, ENGINE*) {
  *hash = {};
  hash->words = {0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};
  return 1;
}

inline int EVP_DigestUpdate(EVP_MD_CTX* hash, const void* data, std::size_t size) {
  const auto* bytes = static_cast<const unsigned char*>(data);
  hash->bytes += size;
  while (size > 0) {
    if (hash->held == 0 && size >= hash->block.size()) {
      pulsewright_compat::take_block(*hash, bytes);
      bytes += hash->block.size();
      size -= hash->block.size();
      continue;
    }
    const std::size_t part = size < hash->block.size() - hash->held ? size : hash->block.size() - hash->held;
    std::memcpy(hash->block.data() + hash->held, bytes, part);
    hash->held += part;
    bytes += part;
    size -= part;
    if (hash->held < hash->block.size()) continue;
    pulsewright_compat::take_block(*hash, hash->block.data());
    hash->held = 0;
  }
  return 1;
}

inline int EVP_DigestFinal_ex(EVP_MD_CTX* hash, unsigned char* digest, unsigned int* size) {
  const std::uint64_t bits = hash->bytes * 8;
  const unsigned char mark = 0x80, zero = 0;
  EVP_DigestUpdate(hash, &mark, 1);
  while (hash->held != 56) EVP_DigestUpdate(hash, &zero, 1);
  for (int shift = 56; shift >= 0; shift -= 8) {
    const auto byte = static_cast<unsigned char>(bits >> shift);
    EVP_DigestUpdate(hash, &byte, 1);
  }
  for (std::size_t i = 0; i < 32; ++i) digest[i] = static_cast<unsigned char>(hash->words[i / 4] >> (24 - 8 * (i % 4)));
  if (size != nullptr) *size = 32;
  return 1;
}

inline int EVP_Digest(const void* data, std::size_t bytes, unsigned char* digest, unsigned int* size, const EVP_MD* kind,
                      ENGINE* engine) {
  EVP_MD_CTX hash;
  EVP_DigestInit_ex(&hash, kind, engine);
  EVP_DigestUpdate(&hash, data, bytes);
  return EVP_DigestFinal_ex(&hash, digest, size);
}

/// Base64 with padding and a zero byte behind; the length without it.
inline int EVP_EncodeBlock(unsigned char* out, const unsigned char* in, int size) {
  constexpr char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  int length = 0;
  for (int i = 0; i < size; i += 3) {
    const int left = size - i;
    const std::uint32_t three = std::uint32_t{in[i]} << 16 | (left > 1 ? std::uint32_t{in[i + 1]} << 8 : 0) |
                                (left > 2 ? std::uint32_t{in[i + 2]} : 0);
    for (int k = 0; k < 4; ++k)
      out[length++] = static_cast<unsigned char>(k <= left ? letters[three >> (18 - 6 * k) & 63] : '=');
  }
  out[length] = 0;
  return length;
}
