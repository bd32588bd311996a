#include "pulsewright/report.hpp"

namespace pulsewright {

std::string_view cautions() {
  return "Not a medical device; nothing here diagnoses. Stop exercising and get help on chest pain, dizziness, "
         "fainting, or "
         "breathlessness out of proportion. An age formula misses a person's own maximum by 10 to 12 beats/min (one "
         "standard "
         "deviation). A known condition, a medicine that slows the heart, or a doubt goes to a licensed professional; "
         "school and "
         "local rules come first.";
}

}  // namespace pulsewright
