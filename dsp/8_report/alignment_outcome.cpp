#include "alignment_outcome.hpp"

namespace pulsewright {

const char* alignment_outcome(const ComparedRecord& record) {
  const Alignment& alignment = record.alignment;
  if (record.one_clock) return "one_clock";
  if (alignment.refused) return "refused";
  if (alignment.applied == AlignmentSteps::none && alignment.found_offset) return "not_demanded";
  return to_string(alignment.applied);
}

std::optional<double> error_with_alignment(const ComparedRecord& record) {
  if (!record.alignment.found_offset) return std::nullopt;
  return record.alignment.applied == AlignmentSteps::none ? record.found_mean_absolute_error
                                                          : record.mean_absolute_error;
}

}  // namespace pulsewright
