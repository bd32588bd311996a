/// How long a list of beats or rates may be: everything after it is worked out for the whole of its span, gaps included.
#pragma once

#include <fmt/format.h>

#include "message.hpp"

namespace pulsewright::reading {

inline constexpr double longest_list_s = 60.0 * 86400.0;

/// Refuses a time beyond that, in seconds from the start of the list.
inline void check_list_time(const Place& place, double time_s) {
  if (time_s > longest_list_s)
    refuse(place, fmt::format("{:.15g} s", time_s),
           "lies more than 60 days after the start; times count in seconds from the start of the recording");
}

}  // namespace pulsewright::reading
