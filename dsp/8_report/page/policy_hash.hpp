/// How a content policy names a script.
#pragma once

#include <string>
#include <string_view>

namespace pulsewright {

/// The hash of a script as a content policy names it: SHA-256 in base64 (W3C, Content Security
/// Policy Level 3).
[[nodiscard]] std::string policy_hash(std::string_view script);

}  // namespace pulsewright
