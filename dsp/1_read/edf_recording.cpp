#include "edf_recording.hpp"

#include <edflib.h>
#include <fmt/format.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <limits>
#include <memory>
#include <mutex>
#include <system_error>
#include <vector>

#include "channel_kind.hpp"
#include "edf_header.hpp"
#include "edf_timeline.hpp"
#include "input_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "size_limit.hpp"

namespace pulsewright::reading {

namespace {

/// EDFlib keeps its open files in one unguarded table.
std::mutex& edflib_mutex() {
  static std::mutex mutex;
  return mutex;
}

constexpr int block_samples = 65536;
constexpr std::int64_t copied_bytes = 1 << 20;
/// Samples are kept in single precision.
constexpr double largest_physical = std::numeric_limits<float>::max();

const char* edflib_fault(int code) {
  switch (code) {
    case EDFLIB_MALLOC_ERROR: return "there is not enough memory";
    case EDFLIB_NO_SUCH_FILE_OR_DIRECTORY: return "the file cannot be opened";
    case EDFLIB_FILE_CONTAINS_FORMAT_ERRORS: return "the header breaks the EDF or BDF specification";
    case EDFLIB_MAXFILES_REACHED: return "too many EDF files are open";
    case EDFLIB_FILE_READ_ERROR: return "the file cannot be read to its end";
    case EDFLIB_FILE_ALREADY_OPENED: return "the file is open already";
    case EDFLIB_NUMBER_OF_SIGNALS_INVALID: return "the number of signals is out of range";
    case EDFLIB_FILE_IS_DISCONTINUOUS: return "the file is discontinuous (EDF+D)";
    default: return "the file cannot be read as EDF or BDF";
  }
}

/// An anonymous file with the whole data records of a damaged one and the right number in its header.
class RepairedCopy {
 public:
  RepairedCopy(const std::filesystem::path& path, std::int64_t bytes, std::int64_t records)
      : fd_(::memfd_create("edf", MFD_CLOEXEC)) {
    InputFile source{path, Opening::stored};
    if (fd_ < 0) refuse({source.name()}, "cannot be repaired in memory: " + std::generic_category().message(errno));
    std::string block(copied_bytes, '\0');
    for (std::int64_t at = 0; at < bytes; at += static_cast<std::int64_t>(block.size())) {
      block.resize(static_cast<std::size_t>(std::min<std::int64_t>(copied_bytes, bytes - at)));
      source.read(block.data(), block.size());
      if (at == 0) {
        block.replace(edf_records_at, edf_records_width, fmt::format("{:<8}", records));
        if (block[edf_continuity_at] == 'D') block[edf_continuity_at] = 'C';
      }
      put(block, source.name());
    }
  }
  ~RepairedCopy() {
    if (fd_ >= 0) ::close(fd_);
  }
  RepairedCopy(const RepairedCopy&) = delete;
  RepairedCopy& operator=(const RepairedCopy&) = delete;

  [[nodiscard]] std::string path() const { return fmt::format("/proc/self/fd/{}", fd_); }

 private:
  void put(std::string_view part, const std::string& file) const {
    while (!part.empty()) {
      const ssize_t written = ::write(fd_, part.data(), part.size());
      if (written < 0) refuse({file}, "cannot be repaired in memory: " + std::generic_category().message(errno));
      part.remove_prefix(static_cast<std::size_t>(written));
    }
  }

  int fd_;
};

/// A file opened by EDFlib, closed at the end.
class OpenEdf {
 public:
  OpenEdf(const std::string& path, const std::string& file) : header_(std::make_unique<edf_hdr_struct>()) {
    if (edfopen_file_readonly(path.c_str(), header_.get(), EDFLIB_DO_NOT_READ_ANNOTATIONS) != 0)
      refuse({file}, edflib_fault(header_->filetype));
  }
  ~OpenEdf() { edfclose_file(header_->handle); }
  OpenEdf(const OpenEdf&) = delete;
  OpenEdf& operator=(const OpenEdf&) = delete;

  [[nodiscard]] const edf_hdr_struct& header() const { return *header_; }

  [[nodiscard]] std::vector<float> samples(int signal, const std::string& file) const {
    const long long count = header_->signalparam[signal].smp_in_file;
    std::vector<float> samples;
    samples.reserve(static_cast<std::size_t>(count));
    std::vector<double> block(block_samples);
    while (static_cast<long long>(samples.size()) < count) {
      const auto left = std::min<long long>(block_samples, count - static_cast<long long>(samples.size()));
      const int got = edfread_physical_samples(header_->handle, signal, static_cast<int>(left), block.data());
      if (got <= 0)
        refuse({file}, fmt::format("signal {} ends after {} of {} samples", signal + 1, samples.size(), count));
      for (int i = 0; i < got; ++i) samples.push_back(static_cast<float>(block[static_cast<std::size_t>(i)]));
    }
    return samples;
  }

 private:
  std::unique_ptr<edf_hdr_struct> header_;
};

std::string clock_start_of(const edf_hdr_struct& header) {
  std::string text =
      fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", header.startdate_year, header.startdate_month,
                  header.startdate_day, header.starttime_hour, header.starttime_minute, header.starttime_second);
  const long long milliseconds = header.starttime_subsecond / (EDFLIB_TIME_DIMENSION / 1000);
  if (milliseconds != 0) text += fmt::format(".{:03}", milliseconds);
  return text;
}

/// Puts the samples of each data record where its time says, with missing ones between them.
void part_pieces(Channel& channel, int in_record, const std::vector<double>& starts, const std::string& file) {
  const auto place_of = [&](std::size_t record) {
    return std::llround((starts[record] - starts.front()) * channel.rate.value());
  };
  const std::int64_t count = place_of(starts.size() - 1) + in_record;
  check_size({file}, count, 1);
  std::vector<float> parted(static_cast<std::size_t>(count), std::numeric_limits<float>::quiet_NaN());
  for (std::size_t record = 0; record < starts.size(); ++record)
    std::copy_n(channel.samples.begin() + static_cast<std::ptrdiff_t>(record) * in_record, in_record,
                parted.begin() + place_of(record));
  channel.samples = std::move(parted);
}

void note_gaps(const std::vector<double>& starts, double record_s, const std::string& file, Warnings& warnings) {
  constexpr double shortest_gap_s = 0.001;  // times are written with few decimals
  int gaps = 0;
  double lost = 0, longest = 0, longest_ends = 0;
  for (std::size_t record = 1; record < starts.size(); ++record) {
    const double gap = starts[record] - starts[record - 1] - record_s;
    if (gap < shortest_gap_s) continue;
    ++gaps;
    lost += gap;
    if (gap <= longest) continue;
    longest = gap;
    longest_ends = starts[record] - starts.front();
  }
  if (gaps == 0) return;
  warnings.push_back(
      {"clock_gaps", message_at({file}, fmt::format("{} gap{} in time, {:.3f} s in all; the longest, {:.3f} s, ends at "
                                                    "{:.3f} s",
                                                    gaps, gaps == 1 ? "" : "s", lost, longest, longest_ends))});
}

}  // namespace

Recording read_edf(const std::filesystem::path& path, std::string_view beginning, std::uint64_t size) {
  const std::string file = path.string();
  const EdfHeader facts = parse_edf_header(beginning, file);
  Recording recording;
  const auto bytes = static_cast<std::int64_t>(size);
  const std::int64_t stored = (bytes - facts.header_bytes) / facts.record_bytes;
  // A device that was switched off while it recorded leaves -1.
  const std::string promised = facts.records < 0 ? "an unknown number of" : std::to_string(facts.records);
  if (stored == 0)
    refuse({file},
           fmt::format("holds {} bytes of data, not one whole data record of {}; its header promises {} records",
                       bytes - facts.header_bytes, facts.record_bytes, promised));
  const std::int64_t used = facts.records > 0 ? std::min(stored, facts.records) : stored;
  check_size({file}, used, facts.record_samples);
  const std::int64_t used_bytes = facts.header_bytes + used * facts.record_bytes;
  std::unique_ptr<RepairedCopy> repaired;
  EdfTimeline timeline;
  if (!facts.annotations.empty()) {
    InputFile lists{path, Opening::stored};
    timeline = read_edf_timeline(lists, facts, used);
    for (Warning& warning : timeline.warnings) recording.warnings.push_back(std::move(warning));
  } else if (facts.discontinuous) {
    refuse({file}, "is discontinuous (EDF+D) and has no annotation signal, which says when its pieces begin");
  }
  if (used != facts.records || used_bytes != bytes) {
    const bool surplus = facts.records > 0 && stored >= facts.records;
    recording.warnings.push_back(
        {surplus ? "data_surplus" : "data_short",
         message_at({file},
                    fmt::format("holds {} whole data records in {} bytes where the header promises {}; {} are used",
                                stored, bytes, promised, used))});
  }
  // EDFlib reads continuous files only; the pieces are parted again below.
  if (facts.discontinuous || used != facts.records || used_bytes != bytes)
    repaired = std::make_unique<RepairedCopy>(path, used_bytes, used);

  const std::lock_guard lock{edflib_mutex()};
  const OpenEdf edf{repaired ? repaired->path() : file, file};
  const edf_hdr_struct& header = edf.header();
  recording.provenance.format = facts.is_bdf ? "bdf" : "edf";
  recording.clock_start = clock_start_of(header);
  const double record_s = static_cast<double>(header.datarecord_duration) / static_cast<double>(EDFLIB_TIME_DIMENSION);
  for (int i = 0; i < header.edfsignals; ++i) {
    const edf_param_struct& signal = header.signalparam[i];
    if (!(std::abs(signal.phys_min) <= largest_physical && std::abs(signal.phys_max) <= largest_physical))
      refuse({file}, fmt::format("{:g} to {:g}", signal.phys_min, signal.phys_max),
             fmt::format("is no range of signal {}, whose samples would be infinite", i + 1));
    Channel channel;
    channel.name = trimmed(signal.label);
    channel.unit = trimmed(signal.physdimension);
    channel.rate = Hertz{static_cast<double>(signal.smp_in_datarecord) / record_s};
    channel.kind = kind_of_channel(channel.name, channel.unit, channel.rate);
    channel.samples = edf.samples(i, file);
    if (facts.discontinuous) part_pieces(channel, signal.smp_in_datarecord, timeline.record_starts, file);
    recording.duration = std::max(
        recording.duration, time_of(SampleIndex{static_cast<std::int64_t>(channel.samples.size())}, channel.rate));
    recording.channels.push_back(std::move(channel));
  }
  if (recording.channels.empty()) refuse({file}, "holds annotations but no signals");
  if (facts.discontinuous) note_gaps(timeline.record_starts, facts.record_s, file, recording.warnings);
  return recording;
}

}  // namespace pulsewright::reading
