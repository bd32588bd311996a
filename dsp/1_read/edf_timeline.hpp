/// When the data records of an EDF+ or BDF+ file begin, by its time-stamped annotation lists (Kemp & Olivan 2003, Clin Neurophysiol 114:1755, sections 2.2.2 to 2.2.4).
#pragma once

#include <cstdint>
#include <vector>

#include "edf_header.hpp"
#include "input_file.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright::reading {

struct EdfTimeline {
  std::vector<double> record_starts;  ///< of each data record, in seconds after the start of the file; not falling
  Warnings warnings;
};

/// Reads the annotation signals of the first `records` data records of `file`, which stands at its beginning. Damaged
/// lists are passed over with the warning `annotations_damaged`; what lists say beside times is left out. Throws Error{unreadable}, with the byte, when a record of
/// a discontinuous file does not say when it begins, or begins before the one above ends.
[[nodiscard]] EdfTimeline read_edf_timeline(InputFile& file, const EdfHeader& header, std::int64_t records);

}  // namespace pulsewright::reading
