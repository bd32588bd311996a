// No refusal without its kind.
// words: Error
#include "pulsewright/error.hpp"
using namespace pulsewright;
#ifdef CONTROL
Error error{ErrorCode::usage, "no such channel"};
#else
Error error{"no such channel"};  // refused
#endif
