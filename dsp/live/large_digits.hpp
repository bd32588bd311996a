/// Numbers that can be read from the other end of the room.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pulsewright::live_stage {

inline constexpr std::size_t large_rows = 5;

/// Digits and `-` as five rows of characters, each seven wide, with a blank between them. Anything
/// else is blank.
[[nodiscard]] std::vector<std::string> large_digits(std::string_view text);

}  // namespace pulsewright::live_stage
