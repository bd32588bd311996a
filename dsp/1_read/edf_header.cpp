#include "edf_header.hpp"

#include "message.hpp"
#include "number_text.hpp"

namespace pulsewright::reading {

namespace {

/// Layout of the fixed part, in bytes (EDF specification).
constexpr std::size_t fixed_bytes = 256;
constexpr std::size_t header_bytes_at = 184;
constexpr std::size_t reserved_at = 192;
constexpr std::size_t duration_at = 244;
constexpr std::size_t signals_at = 252;
/// In the part of 256 bytes a signal, what stands before the samples per data record: label 16, transducer 80, dimension 8, physical
/// and digital extremes 4 x 8, prefilter 80.
constexpr std::size_t samples_at = 216;
constexpr std::int64_t most_signals = 4096;

std::optional<std::int64_t> field(std::string_view bytes, std::size_t at, std::size_t width) {
  if (bytes.size() < at + width) return std::nullopt;
  return whole_integer(trimmed(bytes.substr(at, width)));
}

}  // namespace

bool looks_like_edf(std::string_view bytes) {
  const bool version = bytes.starts_with("0       ") || bytes.starts_with(
                                                            "\xff"
                                                            "BIOSEMI");
  if (!version || bytes.size() < fixed_bytes) return false;
  const auto signals = field(bytes, signals_at, 4);
  const auto length = field(bytes, header_bytes_at, 8);
  return signals && length && *signals >= 0 && *length == (*signals + 1) * static_cast<std::int64_t>(fixed_bytes);
}

EdfHeader parse_edf_header(std::string_view bytes, const std::string& file) {
  EdfHeader header;
  const auto place = [&](std::size_t byte) { return Place{file, std::nullopt, static_cast<std::int64_t>(byte)}; };
  header.is_bdf = bytes.front() != '0';
  header.discontinuous = bytes.substr(reserved_at, 5) == "EDF+D" || bytes.substr(reserved_at, 5) == "BDF+D";
  const auto signals = field(bytes, signals_at, 4).value_or(0);
  if (signals < 1 || signals > most_signals)
    refuse(place(signals_at), bytes.substr(signals_at, 4), "the number of signals is 1 to 4096");
  header.header_bytes = (signals + 1) * static_cast<std::int64_t>(fixed_bytes);
  if (static_cast<std::int64_t>(bytes.size()) < header.header_bytes)
    refuse(place(bytes.size()), "the file ends inside its header of " + std::to_string(header.header_bytes) + " bytes");
  const auto records = field(bytes, edf_records_at, edf_records_width);
  if (!records || *records < -1)
    refuse(place(edf_records_at), bytes.substr(edf_records_at, edf_records_width),
           "the number of data records is a whole number");
  header.records = *records;
  const std::string_view seconds = trimmed(bytes.substr(duration_at, 8));
  const auto duration = whole_number(seconds);
  if (seconds.find_first_of("eE") != seconds.npos)
    refuse(place(duration_at), seconds, "the length of a data record is a number without exponent");
  if (!duration || *duration <= 0)
    refuse(place(duration_at), bytes.substr(duration_at, 8), "a data record lasts longer than 0 s");
  for (std::int64_t i = 0; i < signals; ++i) {
    const std::size_t at =
        fixed_bytes + samples_at * static_cast<std::size_t>(signals) + 8 * static_cast<std::size_t>(i);
    const auto samples = field(bytes, at, 8);
    if (!samples || *samples < 1)
      refuse(place(at), bytes.substr(at, 8), "the samples of a signal in one data record are 1 or more");
    header.record_samples += *samples;
  }
  header.record_bytes = header.record_samples * (header.is_bdf ? 3 : 2);
  return header;
}

}  // namespace pulsewright::reading
