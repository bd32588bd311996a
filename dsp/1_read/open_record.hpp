/// Records of the open record format: a header, and signal files beside it.
#pragma once

#include <filesystem>
#include <functional>
#include <span>

#include "pulsewright/recording.hpp"
#include "record_header.hpp"

namespace pulsewright::reading {

/// Takes the bytes that were read, in reading order, for the provenance hash.
using ByteSink = std::function<void(std::span<const unsigned char>)>;

/// The signals of a single-segment record.
struct StoredSignals {
  std::vector<Channel> channels;
  std::vector<int> samples_per_frame;  ///< of each channel
  std::int64_t frames = 0;             ///< of the longest signal file, or as the header says
  Warnings warnings;
};

/// Reads the signal files that `header` names. Samples come in physical units, invalid ones as NaN.
///
/// - A missing file, or one without a single whole frame although the header promises some, is Error{unreadable} with the numbers.
/// - A file shorter than promised keeps what is there (warning `data_short`); bytes beyond the promise are ignored (`data_surplus`).
/// - Without a promise the file's size decides.
/// - A checksum that does not fit is the warning `checksum_mismatch`; it is not checked on a short file.
/// - An unknown gain is taken as 200 steps/mV (warning `gain_unknown`).
/// - A skewed signal loses the samples that precede frame 0 and gets as many NaN at its end.
[[nodiscard]] StoredSignals read_stored_signals(const RecordHeader& header, const std::filesystem::path& header_path,
                                                const ByteSink& sink);

/// Reads a record of one or more segments. In a multi-segment record stretches without data are NaN; a layout segment of length 0 at the
/// start gives the signals, and later segments find theirs by description.
[[nodiscard]] Recording read_open_record(const std::filesystem::path& header_path, const ByteSink& sink);

}  // namespace pulsewright::reading
