/// The one way in which the library refuses: an exception with a code and a message that names the file, the place in
/// it, the value and the rule. Poor data is not an error: it comes back as an ordinary result with warnings.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace pulsewright {

/// What kind of refusal it was. The program turns it into its exit code.
enum class ErrorCode {
  usage,       ///< a request that contradicts itself or names something that is not there (exit code 2)
  unreadable,  ///< a file that is missing, damaged, or not in any known format (exit code 3)
  unwritable,  ///< an output that could not be written completely (exit code 3)
  contract,    ///< a caller of the library broke a documented precondition
};

/// Thrown by every stage. `what()` is the whole message, fit to be shown to a person.
class Error : public std::runtime_error {
 public:
  Error(ErrorCode code, const std::string& message) : std::runtime_error(message), code_(code) {}

  [[nodiscard]] ErrorCode code() const { return code_; }

 private:
  ErrorCode code_;
};

/// Something a person should know about an otherwise usable result. `code` is a stable word for scripts
/// (`clock_gaps`, `checksum_mismatch`, ...); `message` says what happened, where, and what to do about it.
struct Warning {
  std::string code;
  std::string message;
};

using Warnings = std::vector<Warning>;

}  // namespace pulsewright
