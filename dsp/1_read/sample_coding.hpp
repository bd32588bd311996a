/// How the open record format packs samples into bytes: signal(5) of the physionet.org manual.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace pulsewright::reading {

inline constexpr std::string_view known_codings_text = "8, 16, 24, 32, 61, 80, 160, 212, 310, 311";

/// Samples are decoded in runs whose first sample is a multiple of this, so that a run starts on a whole byte in every coding.
inline constexpr std::int64_t coding_stride = 6;

[[nodiscard]] bool is_known_coding(std::int64_t coding);

/// How many whole samples `bytes` bytes hold.
[[nodiscard]] std::int64_t samples_in_bytes(int coding, std::int64_t bytes);

/// How many bytes `samples` samples take, the last byte counted whole.
[[nodiscard]] std::int64_t bytes_of_samples(int coding, std::int64_t samples);

/// Decodes `out.size()` samples from number `first` on (a multiple of `coding_stride`; all must be there). Coding 8 gives the stored
/// differences.
void decode_samples(int coding, std::span<const unsigned char> bytes, std::int64_t first, std::span<std::int32_t> out);

/// The stored value that means "not recorded": the lowest of the coding. Coding 8 has none; then it is a value no sample takes.
[[nodiscard]] std::int64_t invalid_value(int coding);

}  // namespace pulsewright::reading
