/// How stage 1 words what it refuses: "file:line: value 'x': rule". Every error and warning of the stage goes through here.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "pulsewright/error.hpp"

namespace pulsewright::reading {

/// A place in a file. Lines count from 1, bytes from 0.
struct Place {
  std::string file;
  std::optional<std::int64_t> line = std::nullopt;
  std::optional<std::int64_t> byte = std::nullopt;
  std::string column = {};  ///< name or number of a text column
};

/// `value` made fit to show: control characters escaped, long values cut.
[[nodiscard]] std::string shown(std::string_view value);

/// "file:line: column 'c': value 'x': rule"; parts that are absent are left out.
[[nodiscard]] std::string message_at(const Place& place, std::string_view value, std::string_view rule);
/// The same without a value.
[[nodiscard]] std::string message_at(const Place& place, std::string_view rule);

/// Throws Error{unreadable} with `message_at`.
[[noreturn]] void refuse(const Place& place, std::string_view value, std::string_view rule);
[[noreturn]] void refuse(const Place& place, std::string_view rule);

}  // namespace pulsewright::reading
