/// What a call throws, for tests of messages.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <optional>
#include <string>

#include "pulsewright/error.hpp"

namespace read_tests {

struct Refusal {
  std::optional<pulsewright::ErrorCode> code;  ///< nothing when the call did not throw
  std::string message;
};

template <class Call>
Refusal refusal_of(Call call) {
  try {
    call();
  } catch (const pulsewright::Error& error) {
    return {error.code(), error.what()};
  }
  return {};
}

inline bool warns(const pulsewright::Warnings& warnings, const std::string& code) {
  return std::any_of(warnings.begin(), warnings.end(), [&](const auto& w) { return w.code == code; });
}

inline std::string codes_of(const pulsewright::Warnings& warnings) {
  std::string codes;
  for (const auto& w : warnings) codes += (codes.empty() ? "" : " ") + w.code;
  return codes;
}

/// Checks that a call refuses with this code and a message that holds every given piece.
template <class Call, class... Pieces>
void expect_refusal(Call call, pulsewright::ErrorCode code, const Pieces&... pieces) {
  const Refusal refusal = refusal_of(call);
  ASSERT_TRUE(refusal.code.has_value()) << "it was accepted";
  EXPECT_EQ(*refusal.code, code) << refusal.message;
  for (const std::string& piece : {std::string{pieces}...})
    EXPECT_NE(refusal.message.find(piece), std::string::npos) << "'" << piece << "' is missing in: " << refusal.message;
}

}  // namespace read_tests
