#include "record_header.hpp"

#include <fmt/format.h>

#include <cmath>

#include "message.hpp"
#include "number_text.hpp"
#include "sample_coding.hpp"

namespace pulsewright::reading {

namespace {

/// Amplitudes of a signal without a stated gain are taken as 200 steps/mV (header(5), DEFGAIN).
constexpr double default_gain = 200;
/// Bounds that no real header passes; they keep later sums inside 64 bits.
constexpr std::int64_t most_signals = 10'000;
constexpr std::int64_t most_per_frame = 100'000;
constexpr std::int64_t most_frames = std::int64_t{1} << 40;

/// The lines of a header that are not comments, one at a time.
class HeaderLines {
 public:
  HeaderLines(std::string_view text, const std::string& file) : rest_(text), place_{file} {}

  /// The next line with something on it that is no comment; nothing at the end.
  std::optional<std::string_view> next() {
    while (!rest_.empty()) {
      const std::string_view line = trimmed(take_line(rest_));
      place_.line = place_.line.value_or(0) + 1;
      if (!line.empty() && line.front() != '#') return line;
    }
    return std::nullopt;
  }
  [[nodiscard]] const Place& place() const { return place_; }

 private:
  std::string_view rest_;
  Place place_;
};

std::int64_t integer_or_refuse(const Place& place, std::string_view word, std::int64_t least, std::int64_t most,
                               const char* what) {
  const auto value = whole_integer(word);
  if (!value || *value < least || *value > most)
    refuse(place, word, fmt::format("{} is a whole number from {} to {}", what, least, most));
  return *value;
}

/// Two digits of a clock or date.
bool two_digits(std::string_view text, int most, int& value) {
  const auto number = whole_integer(text);
  if (text.empty() || text.size() > 2 || !number || *number < 0 || *number > most) return false;
  value = static_cast<int>(*number);
  return true;
}

/// `h:mm:ss[.fff]`, `mm:ss` or `ss` as `hh:mm:ss[.fff]`; nothing when it is no time of day.
std::optional<std::string> clock_of(std::string_view word) {
  std::string_view fraction;
  if (const auto dot = word.find('.'); dot != std::string_view::npos) {
    fraction = word.substr(dot);
    word = word.substr(0, dot);
    if (fraction.find_first_not_of("0123456789", 1) != std::string_view::npos) return std::nullopt;
  }
  int field[3] = {0, 0, 0};
  std::size_t first = 3;
  while (true) {
    const auto colon = word.rfind(':');
    const std::string_view part = colon == std::string_view::npos ? word : word.substr(colon + 1);
    if (first == 0 || !two_digits(part, first == 1 ? 23 : 59, field[first - 1])) return std::nullopt;
    --first;
    if (colon == std::string_view::npos) break;
    word = word.substr(0, colon);
  }
  while (!fraction.empty() && (fraction.back() == '0' || fraction.back() == '.')) fraction.remove_suffix(1);
  return fmt::format("{:02}:{:02}:{:02}{}", field[0], field[1], field[2], fraction);
}

/// `dd/mm/yyyy` as `yyyy-mm-dd`; nothing when it is no date.
std::optional<std::string> date_of(std::string_view word) {
  const auto first = word.find('/');
  const auto second = word.rfind('/');
  if (first == std::string_view::npos || first == second) return std::nullopt;
  int day = 0;
  int month = 0;
  const auto year = whole_integer(word.substr(second + 1));
  if (!two_digits(word.substr(0, first), 31, day) || !two_digits(word.substr(first + 1, second - first - 1), 12, month))
    return std::nullopt;
  if (!year || *year < 1 || *year > 9999 || day < 1 || month < 1) return std::nullopt;
  return fmt::format("{:04}-{:02}-{:02}", *year, month, day);
}

/// The first line: `name[/segments] signals [rate[/counter[(base)]] [frames [time [date]]]]`.
struct RecordLine {
  std::int64_t signals = 0;
  std::int64_t segments = 0;
};

RecordLine parse_record_line(std::string_view line, const Place& place, RecordHeader& header) {
  const auto words = words_of(line);
  if (words.size() < 2) refuse(place, line, "a header starts with the record's name and its number of signals");
  RecordLine counts;
  std::string_view name = words[0];
  if (const auto slash = name.find('/'); slash != std::string_view::npos) {
    header.segmented = true;
    counts.segments = integer_or_refuse(place, name.substr(slash + 1), 1, most_frames, "the number of segments");
    name = name.substr(0, slash);
  }
  header.name = name;
  counts.signals = integer_or_refuse(place, words[1], 0, most_signals, "the number of signals");
  if (words.size() > 2) {
    const std::string_view rate = words[2].substr(0, words[2].find('/'));
    const auto value = whole_number(rate);
    if (!value || *value <= 0) refuse(place, rate, "the sampling rate is a number above 0 Hz");
    header.frame_rate = *value;
  }
  if (words.size() > 3) {
    const std::int64_t frames =
        integer_or_refuse(place, words[3], 0, most_frames, "the number of samples of each signal");
    if (frames > 0) header.frames = frames;
  }
  if (words.size() > 4) {
    header.clock_start = clock_of(words[4]);
    if (!header.clock_start) refuse(place, words[4], "the base time is hh:mm:ss");
  }
  if (words.size() > 5) {
    const auto date = date_of(words[5]);
    if (!date) refuse(place, words[5], "the base date is dd/mm/yyyy");
    header.clock_start = *date + "T" + *header.clock_start;
  }
  return counts;
}

/// `coding[xN][:skew][+offset]`.
void parse_coding(std::string_view word, const Place& place, SignalSpec& signal) {
  const auto end = word.find_first_of("x:+");
  const auto coding = whole_integer(word.substr(0, end));
  const bool absent = coding == 0 && signal.file == "~";
  if (!coding || (!absent && !is_known_coding(*coding)))
    refuse(place, word.substr(0, end), "the signal's coding is one of " + std::string{known_codings_text});
  signal.coding = static_cast<int>(*coding);
  std::string_view rest = end == std::string_view::npos ? std::string_view{} : word.substr(end);
  while (!rest.empty()) {
    const char mark = rest.front();
    const auto next = rest.find_first_of("x:+", 1);
    const std::string_view number = rest.substr(1, next == std::string_view::npos ? next : next - 1);
    if (mark == 'x')
      signal.samples_per_frame =
          static_cast<int>(integer_or_refuse(place, number, 1, most_per_frame, "the samples per frame"));
    else if (mark == ':')
      signal.skew = integer_or_refuse(place, number, 0, most_frames, "the skew");
    else
      signal.byte_offset = integer_or_refuse(place, number, 0, most_frames, "the byte offset");
    rest = next == std::string_view::npos ? std::string_view{} : rest.substr(next);
  }
}

/// `gain[(baseline)][/unit]`; true when the baseline is stated.
bool parse_gain(std::string_view word, const Place& place, SignalSpec& signal) {
  if (const auto slash = word.find('/'); slash != std::string_view::npos) {
    if (slash + 1 < word.size()) signal.unit = word.substr(slash + 1);
    word = word.substr(0, slash);
  }
  bool has_baseline = false;
  if (const auto open = word.find('('); open != std::string_view::npos) {
    const auto close = word.find(')', open);
    if (close == std::string_view::npos) refuse(place, word, "a baseline stands in brackets after the gain");
    signal.baseline =
        integer_or_refuse(place, word.substr(open + 1, close - open - 1), INT32_MIN, INT32_MAX, "the baseline");
    has_baseline = true;
    word = word.substr(0, open);
  }
  const auto gain = whole_number(word);
  if (!gain || *gain < 0) refuse(place, word, "the gain is a number of steps per unit, 0 when unknown");
  signal.calibrated = *gain > 0;
  signal.gain = signal.calibrated ? *gain : default_gain;
  return has_baseline;
}

/// `file coding [gain [bits [zero [initial [checksum [block [description]]]]]]]`.
SignalSpec parse_signal_line(std::string_view line, const Place& place) {
  SignalSpec signal;
  signal.line = *place.line;
  std::string_view rest = line;
  int field = 0;
  bool has_baseline = false;
  signal.calibrated = false;
  while (!rest.empty()) {
    if (field == 8) {
      signal.description = rest;
      break;
    }
    const auto end = rest.find_first_of(" \t");
    const std::string_view word = rest.substr(0, end);
    rest = end == std::string_view::npos ? std::string_view{} : trimmed(rest.substr(end));
    switch (field++) {
      case 0: signal.file = word; break;
      case 1: parse_coding(word, place, signal); break;
      case 2: has_baseline = parse_gain(word, place, signal); break;
      case 3: integer_or_refuse(place, word, 0, 64, "the ADC resolution in bits"); break;
      case 4: {
        const std::int64_t zero = integer_or_refuse(place, word, INT32_MIN, INT32_MAX, "the ADC zero");
        if (!has_baseline) signal.baseline = zero;
        signal.initial = zero;
        break;
      }
      case 5: signal.initial = integer_or_refuse(place, word, INT32_MIN, INT32_MAX, "the initial value"); break;
      case 6: signal.checksum = integer_or_refuse(place, word, INT32_MIN, INT32_MAX, "the checksum"); break;
      default: integer_or_refuse(place, word, 0, INT32_MAX, "the block size"); break;
    }
  }
  if (field < 2) refuse(place, line, "a signal line names a file and a coding");
  return signal;
}

}  // namespace

RecordHeader parse_record_header(std::string_view text, const std::string& file) {
  HeaderLines lines{text, file};
  RecordHeader header;
  const auto first = lines.next();
  if (!first) refuse({file}, "holds no record line; a header starts with the record's name and its number of signals");
  const RecordLine counts = parse_record_line(*first, lines.place(), header);
  if (header.segmented) {
    for (std::int64_t i = 0; i < counts.segments; ++i) {
      const auto line = lines.next();
      if (!line) refuse(lines.place(), fmt::format("promises {} segments and describes {}", counts.segments, i));
      const auto words = words_of(*line);
      if (words.size() < 2) refuse(lines.place(), *line, "a segment line names a record and its number of samples");
      header.segments.push_back({std::string{words[0]},
                                 integer_or_refuse(lines.place(), words[1], 0, most_frames, "the segment's length"),
                                 *lines.place().line});
    }
    return header;
  }
  for (std::int64_t i = 0; i < counts.signals; ++i) {
    const auto line = lines.next();
    if (!line) refuse(lines.place(), fmt::format("promises {} signals and describes {}", counts.signals, i));
    header.signals.push_back(parse_signal_line(*line, lines.place()));
  }
  return header;
}

bool looks_like_record_header(std::string_view text) {
  constexpr std::size_t enough = 4096;
  HeaderLines lines{text.substr(0, enough), {}};
  const auto record = lines.next();
  const auto below = lines.next();
  if (!record || !below) return false;
  const auto words = words_of(*record);
  const auto signal = words_of(*below);
  if (words.size() < 2 || signal.size() < 2 || !whole_integer(words[1])) return false;
  if (words[0].find('/') != std::string_view::npos) return signal.size() == 2 && whole_integer(signal[1]).has_value();
  if (whole_number(signal[0])) return false;  // a row of numbers
  const auto coding = whole_integer(signal[1].substr(0, signal[1].find_first_of("x:+")));
  return coding && is_known_coding(*coding);
}

}  // namespace pulsewright::reading
