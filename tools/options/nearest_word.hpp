/// The word that was meant by one that is not known.
#pragma once

#include <string>
#include <vector>

namespace pulsewright::program {

/// The word of `known` that is fewest single-letter changes away from `word`, when those are at most a third of its letters; else empty.
/// Letters put in, left out, replaced, or swapped with their neighbour count one each.
[[nodiscard]] std::string nearest_word(const std::string& word, const std::vector<std::string>& known);

}  // namespace pulsewright::program
