/// A serial port.
#pragma once

#include <memory>
#include <string>

#include "live_source.hpp"

namespace pulsewright::program {

/// Opens the port with 8 data bits, no parity, one stop bit, no flow control, for this program
/// alone. Throws Error{unreadable}.
[[nodiscard]] std::unique_ptr<LiveSource> open_serial(const std::string& path, int baud);

}  // namespace pulsewright::program
