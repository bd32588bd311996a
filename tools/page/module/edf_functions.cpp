/// What the library asks of EDFlib, for browsers: Debian has EDFlib's header but not its source. One file at a time, held in memory, after the specifications of EDF and
/// EDF+ (Kemp et al. 1992, Electroencephalogr Clin Neurophysiol 82:391; Kemp & Olivan 2003, Clin Neurophysiol 114:1755). The caller has looked at the header before.
#include <edflib.h>
#include <fcntl.h>
#include <sys/mman.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

namespace {

constexpr std::size_t fixed_bytes = 256;

struct EdfSignal {
  std::size_t first_byte = 0;  ///< inside a data record
  std::size_t samples = 0;     ///< in a data record
  double step = 1, offset = 0;
  long long next = 0;  ///< the sample to be read
};

struct OpenFile {
  std::string bytes;
  std::size_t header_bytes = 0, record_bytes = 0, sample_bytes = 2;
  long long records = 0;
  std::vector<EdfSignal> signals;
};

OpenFile& open_file() {
  static OpenFile file;
  return file;
}

std::string field(const std::string& bytes, std::size_t at, std::size_t width) { return bytes.substr(at, width); }

long long whole(const std::string& bytes, std::size_t at, std::size_t width) {
  return std::atoll(field(bytes, at, width).c_str());
}

void copy_text(char* to, const std::string& text) {
  std::memcpy(to, text.data(), text.size());
  to[text.size()] = '\0';
}

/// `dd.mm.yy` and `hh.mm.ss`; years from 85 on are those of the last century (EDF specification).
void read_clock(const std::string& bytes, edf_hdr_struct& header) {
  header.startdate_day = static_cast<int>(whole(bytes, 168, 2));
  header.startdate_month = static_cast<int>(whole(bytes, 171, 2));
  const int year = static_cast<int>(whole(bytes, 174, 2));
  header.startdate_year = year + (year > 84 ? 1900 : 2000);
  header.starttime_hour = static_cast<int>(whole(bytes, 176, 2));
  header.starttime_minute = static_cast<int>(whole(bytes, 179, 2));
  header.starttime_second = static_cast<int>(whole(bytes, 182, 2));
}

/// EDF+: the year in full stands in the recording field, `Startdate 02-MAR-2002`.
void read_full_year(const std::string& bytes, edf_hdr_struct& header) {
  const std::string recording = field(bytes, 88, 80);
  if (recording.rfind("Startdate ", 0) == 0 && recording[10] != 'X')
    header.startdate_year = std::atoi(recording.c_str() + 17);
}

int refuse(edf_hdr_struct* header, int code) {
  header->filetype = code;
  return -1;
}

}  // namespace

extern "C" {

/// A file that another name stands for: what the library writes a mended copy into.
int memfd_create(const char* name, unsigned int) {
  return open((std::string("/mended_") + name).c_str(), O_RDWR | O_CREAT | O_TRUNC, 0600);
}

int edfopen_file_readonly(const char* path, edf_hdr_struct* header, int) {
  OpenFile& file = open_file();
  file = {};
  std::memset(header, 0, sizeof *header);
  std::ifstream in(path, std::ios::binary);
  if (!in) return refuse(header, EDFLIB_NO_SUCH_FILE_OR_DIRECTORY);
  file.bytes.assign(std::istreambuf_iterator<char>(in), {});
  const std::string& bytes = file.bytes;
  if (bytes.size() < fixed_bytes) return refuse(header, EDFLIB_FILE_CONTAINS_FORMAT_ERRORS);
  const bool bdf = bytes.front() != '0';
  const bool plus = field(bytes, 193, 3) == "DF+";
  const auto count = static_cast<std::size_t>(whole(bytes, 252, 4));
  if (count < 1 || count > EDFLIB_MAXSIGNALS) return refuse(header, EDFLIB_NUMBER_OF_SIGNALS_INVALID);
  file.header_bytes = (count + 1) * fixed_bytes;
  file.sample_bytes = bdf ? 3 : 2;
  file.records = whole(bytes, 236, 8);
  header->filetype = (bdf ? EDFLIB_FILETYPE_BDF : EDFLIB_FILETYPE_EDF) + (plus ? 1 : 0);
  header->datarecord_duration =
      std::llround(std::strtod(field(bytes, 244, 8).c_str(), nullptr) * EDFLIB_TIME_DIMENSION);
  header->datarecords_in_file = file.records;
  read_clock(bytes, *header);
  if (plus) read_full_year(bytes, *header);
  // Each group of fields holds those of all signals: labels, then transducers, ...
  const auto at = [&](std::size_t before, std::size_t width, std::size_t i) {
    return fixed_bytes + before * count + width * i;
  };
  for (std::size_t i = 0; i < count; ++i) {
    EdfSignal signal;
    signal.first_byte = file.record_bytes;
    signal.samples = static_cast<std::size_t>(whole(bytes, at(216, 8, i), 8));
    file.record_bytes += signal.samples * file.sample_bytes;
    const std::string label = field(bytes, at(0, 16, i), 16);
    if (plus && (label == "EDF Annotations " || label == "BDF Annotations ")) {
      // The first record begins with when it was taken: +0.5, in seconds after the clock.
      if (header->edfsignals == 0 || header->starttime_subsecond == 0) {
        const double onset = std::strtod(bytes.c_str() + file.header_bytes + signal.first_byte, nullptr);
        header->starttime_subsecond = std::llround((onset - std::floor(onset)) * EDFLIB_TIME_DIMENSION);
      }
      continue;
    }
    edf_param_struct& told = header->signalparam[header->edfsignals++];
    copy_text(told.label, label);
    copy_text(told.physdimension, field(bytes, at(96, 8, i), 8));
    told.phys_min = std::strtod(field(bytes, at(104, 8, i), 8).c_str(), nullptr);
    told.phys_max = std::strtod(field(bytes, at(112, 8, i), 8).c_str(), nullptr);
    told.dig_min = static_cast<int>(whole(bytes, at(120, 8, i), 8));
    told.dig_max = static_cast<int>(whole(bytes, at(128, 8, i), 8));
    told.smp_in_datarecord = static_cast<int>(signal.samples);
    told.smp_in_file = static_cast<long long>(signal.samples) * file.records;
    if (told.dig_max <= told.dig_min || told.phys_max == told.phys_min)
      return refuse(header, EDFLIB_FILE_CONTAINS_FORMAT_ERRORS);
    signal.step = (told.phys_max - told.phys_min) / (told.dig_max - told.dig_min);
    signal.offset = told.phys_max / signal.step - told.dig_max;
    file.signals.push_back(signal);
  }
  return 0;
}

int edfread_physical_samples(int, int index, int n, double* out) {
  OpenFile& file = open_file();
  EdfSignal& signal = file.signals[static_cast<std::size_t>(index)];
  const long long end = std::min<long long>(signal.next + n, static_cast<long long>(signal.samples) * file.records);
  int got = 0;
  for (; signal.next < end; ++signal.next) {
    const auto record = static_cast<std::size_t>(signal.next) / signal.samples;
    const std::size_t place = file.header_bytes + record * file.record_bytes + signal.first_byte +
                              static_cast<std::size_t>(signal.next) % signal.samples * file.sample_bytes;
    if (place + file.sample_bytes > file.bytes.size()) break;
    // Two or three bytes, the lowest first, the highest with the sign.
    const auto* byte = reinterpret_cast<const unsigned char*>(file.bytes.data()) + place;
    int value = static_cast<signed char>(byte[file.sample_bytes - 1]);
    for (std::size_t k = file.sample_bytes - 1; k-- > 0;) value = value * 256 + byte[k];
    out[got++] = signal.step * (signal.offset + value);
  }
  return got;
}

int edfclose_file(int) {
  open_file() = {};
  return 0;
}

}  // extern "C"
