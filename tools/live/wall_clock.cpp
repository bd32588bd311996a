#include "wall_clock.hpp"

#include <array>
#include <ctime>

namespace pulsewright::program {

std::string utc_now() {
  const std::time_t now = std::time(nullptr);
  std::tm parts{};
  ::gmtime_r(&now, &parts);
  std::array<char, 32> text{};
  return {text.data(), std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &parts)};
}

}  // namespace pulsewright::program
