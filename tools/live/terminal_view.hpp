/// The screen of a live run.
#pragma once

#include <memory>

#include "live_view.hpp"

namespace pulsewright::program {

/// Takes the terminal over until it is destroyed. Nothing where there is no terminal, or it can do
/// nothing but print.
[[nodiscard]] std::unique_ptr<LiveView> live_terminal_view();

}  // namespace pulsewright::program
