/// The fields of an EDF header that have to be looked at before EDFlib may see the file.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace pulsewright::reading {

struct EdfHeader {
  bool is_bdf = false;
  bool discontinuous = false;  ///< EDF+D
  std::int64_t header_bytes = 0;
  std::int64_t records = 0;       ///< as the header says; -1 while a recorder had not finished
  std::int64_t record_bytes = 0;  ///< of one data record
  std::int64_t record_samples = 0;
};

/// Where the number of data records stands in the file.
inline constexpr std::size_t edf_records_at = 236;
inline constexpr std::size_t edf_records_width = 8;

/// Whether bytes start like an EDF or BDF file: the version field and a header length that fits the number of signals.
[[nodiscard]] bool looks_like_edf(std::string_view bytes);

/// Reads those fields. Throws Error{unreadable} naming the byte, the value and the rule.
[[nodiscard]] EdfHeader parse_edf_header(std::string_view bytes, const std::string& file);

}  // namespace pulsewright::reading
