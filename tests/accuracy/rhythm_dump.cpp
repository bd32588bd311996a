/// Reads windows of 30 intervals in ms, one a line, and prints their features and the probabilities of the rhythm states, for fit_rhythm_state.py.
#include <fmt/core.h>

#include <iostream>
#include <sstream>
#include <string>
#include <vector>

#include "pulsewright/rhythm.hpp"

int main() {
  try {
    for (std::string line; std::getline(std::cin, line);) {
      std::istringstream words(line);
      std::vector<double> intervals;
      for (double ms = 0; words >> ms;) intervals.push_back(ms);
      for (const double value : pulsewright::rhythm_features(intervals)) fmt::print("{:.7g} ", value);
      for (const double value : pulsewright::rhythm_probabilities(intervals)) fmt::print("{:.6f} ", value);
      fmt::print("\n");
    }
  } catch (const std::exception& error) {
    std::cerr << "rhythm_dump: " << error.what() << '\n';
    return 3;
  }
}
