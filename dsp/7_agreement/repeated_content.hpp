/// Records of a study that are listed as different ones and hold the same.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

/// A warning `repeated_content` for each set of records that hold the same and differ in person, condition or device; `same` says whether the two at these positions do.
[[nodiscard]] Warnings repeated_content(const std::vector<const RecordFacts*>& records,
                                        const std::function<bool(std::size_t, std::size_t)>& same);

}  // namespace pulsewright
