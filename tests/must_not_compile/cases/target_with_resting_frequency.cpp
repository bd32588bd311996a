// A person's resting rate is in beats/min.
// words: HertzTag
#include "pulsewright/effort.hpp"
using namespace pulsewright;
#ifdef CONTROL
Person wren{.code = "wren", .age_years = 15.0, .resting = 66_bpm};
#else
Person wren{.code = "wren", .age_years = 15.0, .resting = 1.1_hz};  // refused
#endif
