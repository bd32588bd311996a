/// EDF and EDF+ files (Kemp & Olivan 2003, Clin Neurophysiol 114:1755) through EDFlib.
#pragma once

#include <filesystem>
#include <string_view>

#include "pulsewright/recording.hpp"

namespace pulsewright::reading {

/// Reads all signals but annotations; `bytes` are those of the file at `path`.
///
/// Discontinuous files (EDF+D) are refused: the place of their pieces would be lost. A file that is shorter than its header promises keeps
/// its whole data records (warning `data_short`), a longer one loses the surplus (`data_surplus`); a file without one whole data record is
/// refused with the numbers. EDFlib's list of open files is not thread-safe and holds a file only once, so one file at a time is read;
/// other threads wait.
/// Throws Error{unreadable}.
[[nodiscard]] Recording read_edf(const std::filesystem::path& path, std::string_view bytes);

}  // namespace pulsewright::reading
