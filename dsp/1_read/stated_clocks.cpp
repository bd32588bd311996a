#include "pulsewright/stated_clocks.hpp"

#include <cmath>

#include "clock_text.hpp"
#include "column_name.hpp"
#include "mapped_file.hpp"
#include "number_text.hpp"
#include "text_layout.hpp"

namespace pulsewright {
namespace {

using namespace reading;

constexpr double day_s = 86400;

bool is_of_a_clock(const ClockTime& time) { return time.has_time && time.of_day && (time.day || time.second > 0); }

}  // namespace

std::optional<std::string> clock_start_of_rates(const std::filesystem::path& path) {
  const MappedFile file{path};
  const TextLayout layout = find_text_layout(file.text(), file.name());
  if (layout.first_rows.empty()) return std::nullopt;
  for (const auto& cell : layout.first_rows.front())
    if (const auto time = parse_clock(cell); time && is_of_a_clock(*time)) return iso_of(*time);
  return std::nullopt;
}

std::optional<Seconds> offset_by_clocks(const std::optional<std::string>& reference,
                                        const std::optional<std::string>& test) {
  if (!reference || !test) return std::nullopt;
  const auto a = parse_clock(*reference), b = parse_clock(*test);
  if (!a || !b || !a->has_time || !b->has_time || a->zone.has_value() != b->zone.has_value()) return std::nullopt;
  double offset = a->second - b->second;
  if (a->zone) offset -= static_cast<double>(*a->zone - *b->zone);
  if (a->day && b->day) return Seconds{offset + day_s * static_cast<double>(*a->day - *b->day)};
  return Seconds{std::remainder(offset, day_s)};
}

}  // namespace pulsewright
