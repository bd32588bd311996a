/// Lists of beats or rates that are too long to be one recording's.
#pragma once

#include <fmt/format.h>

#include "message.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright::reading {

/// Refuses a time beyond `longest_list`, in seconds from the start of the list.
inline void check_list_time(const Place& place, double time_s) {
  if (time_s > longest_list.value())
    refuse(place, fmt::format("{:.15g} s", time_s),
           "lies more than 60 days after the start; times count in seconds from the start of the recording");
}

}  // namespace pulsewright::reading
