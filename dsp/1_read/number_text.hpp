/// Numbers and words in text, read without the process's locale.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace pulsewright::reading {

/// Without blanks, tabs, carriage returns and line feeds at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// ASCII letters made lower case; other bytes stay.
[[nodiscard]] std::string lower_case(std::string_view text);

/// A whole decimal integer with an optional sign; nothing when any other character is there or it does not fit.
[[nodiscard]] std::optional<std::int64_t> whole_integer(std::string_view text);

/// A whole finite decimal number with an optional sign and exponent; nothing otherwise (`nan` and `inf` are words, not numbers).
[[nodiscard]] std::optional<double> whole_number(std::string_view text);

/// The words of a line, parted by blanks and tabs.
[[nodiscard]] std::vector<std::string_view> words_of(std::string_view line);

/// Takes the first line off `rest`, without its line end (LF, CRLF or CR LF at the end of the text).
[[nodiscard]] std::string_view take_line(std::string_view& rest);

}  // namespace pulsewright::reading
