/// Text of unknown encoding made fit for files and terminals, which are UTF-8.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace pulsewright {

inline constexpr std::string_view replacement_character = "\xEF\xBF\xBD";  // U+FFFD

/// Length in bytes of the well-formed UTF-8 sequence at `at` (RFC 3629), 0 when there is none. Surrogates and the two non-characters U+FFFE
/// and U+FFFF, which XML forbids, count as none.
[[nodiscard]] std::size_t sequence_length(std::string_view text, std::size_t at);

/// Which control characters stay.
enum class Controls {
  all,        ///< for tables, where they are data
  line_ends,  ///< for terminals, which obey the others
};

/// `text` with each byte that is no UTF-8, and each control character that may not stay, as U+FFFD.
[[nodiscard]] std::string valid_text(std::string_view text, Controls kept);

}  // namespace pulsewright
