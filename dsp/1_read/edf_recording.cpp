#include "edf_recording.hpp"

#include <edflib.h>
#include <fmt/format.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <memory>
#include <mutex>
#include <system_error>
#include <vector>

#include "channel_kind.hpp"
#include "edf_header.hpp"
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
  RepairedCopy(std::string_view bytes, std::int64_t records, const std::string& file)
      : fd_(::memfd_create("edf", MFD_CLOEXEC)) {
    if (fd_ < 0) refuse({file}, "cannot be repaired in memory: " + std::generic_category().message(errno));
    put(bytes.substr(0, edf_records_at), file);
    put(fmt::format("{:<8}", records), file);
    put(bytes.substr(edf_records_at + edf_records_width), file);
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

}  // namespace

Recording read_edf(const std::filesystem::path& path, std::string_view bytes) {
  const std::string file = path.string();
  const EdfHeader facts = parse_edf_header(bytes, file);
  if (facts.discontinuous)
    refuse({file},
           "is discontinuous (EDF+D); the times of its pieces are not supported, so it is refused rather than joined");
  Recording recording;
  const std::int64_t stored = (static_cast<std::int64_t>(bytes.size()) - facts.header_bytes) / facts.record_bytes;
  // A device that was switched off while it recorded leaves -1.
  const std::string promised = facts.records < 0 ? "an unknown number of" : std::to_string(facts.records);
  if (stored == 0)
    refuse({file},
           fmt::format("holds {} bytes of data, not one whole data record of {}; its header promises {} records",
                       static_cast<std::int64_t>(bytes.size()) - facts.header_bytes, facts.record_bytes, promised));
  const std::int64_t used = facts.records > 0 ? std::min(stored, facts.records) : stored;
  check_size({file}, used, facts.record_samples);
  const std::int64_t used_bytes = facts.header_bytes + used * facts.record_bytes;
  std::unique_ptr<RepairedCopy> repaired;
  if (used != facts.records || used_bytes != static_cast<std::int64_t>(bytes.size())) {
    const bool surplus = facts.records > 0 && stored >= facts.records;
    recording.warnings.push_back(
        {surplus ? "data_surplus" : "data_short",
         message_at({file},
                    fmt::format("holds {} whole data records in {} bytes where the header promises {}; {} are used",
                                stored, bytes.size(), promised, used))});
    repaired = std::make_unique<RepairedCopy>(bytes.substr(0, static_cast<std::size_t>(used_bytes)), used, file);
  }

  const std::lock_guard lock{edflib_mutex()};
  const OpenEdf edf{repaired ? repaired->path() : file, file};
  const edf_hdr_struct& header = edf.header();
  recording.provenance.format = facts.is_bdf ? "bdf" : "edf";
  recording.clock_start = clock_start_of(header);
  const double record_s = static_cast<double>(header.datarecord_duration) / static_cast<double>(EDFLIB_TIME_DIMENSION);
  for (int i = 0; i < header.edfsignals; ++i) {
    const edf_param_struct& signal = header.signalparam[i];
    Channel channel;
    channel.name = trimmed(signal.label);
    channel.unit = trimmed(signal.physdimension);
    channel.rate = Hertz{static_cast<double>(signal.smp_in_datarecord) / record_s};
    channel.kind = kind_of_channel(channel.name, channel.unit, channel.rate);
    channel.samples = edf.samples(i, file);
    recording.duration = std::max(
        recording.duration, time_of(SampleIndex{static_cast<std::int64_t>(channel.samples.size())}, channel.rate));
    recording.channels.push_back(std::move(channel));
  }
  if (recording.channels.empty()) refuse({file}, "holds annotations but no signals");
  return recording;
}

}  // namespace pulsewright::reading
