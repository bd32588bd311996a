#include "edf_timeline.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>

#include "message.hpp"
#include "number_text.hpp"

namespace pulsewright::reading {

namespace {

/// Marks that end parts of a list.
constexpr char after_onset_with_length = '\x15';
constexpr char after_text = '\x14';
/// Records may begin this much before the one above ends: their times are written with few decimals.
constexpr double overlap_s = 0.001;

/// A time-stamped annotation list.
struct StampedList {
  double onset_s = 0;
  std::vector<std::string_view> texts;  ///< an empty first one in the list that times a record
};

/// `+12.5`, `-0.25`; nothing for anything else.
std::optional<double> onset_in(std::string_view text) {
  if (!text.starts_with('+') && !text.starts_with('-')) return std::nullopt;
  return whole_number(text);
}

std::optional<StampedList> list_in(std::string_view bytes) {
  StampedList list;
  const std::size_t end = bytes.find(after_text);
  if (end == std::string_view::npos) return std::nullopt;
  std::string_view stamp = bytes.substr(0, end);
  if (const std::size_t mark = stamp.find(after_onset_with_length); mark != std::string_view::npos) {
    const auto length_s = whole_number(stamp.substr(mark + 1));
    if (!length_s || *length_s < 0) return std::nullopt;
    stamp = stamp.substr(0, mark);
  }
  const auto onset = onset_in(stamp);
  if (!onset) return std::nullopt;
  list.onset_s = *onset;
  for (std::string_view rest = bytes.substr(end + 1); !rest.empty();) {
    const std::size_t text_end = rest.find(after_text);
    if (text_end == std::string_view::npos) return std::nullopt;
    list.texts.push_back(rest.substr(0, text_end));
    rest.remove_prefix(text_end + 1);
  }
  return list;
}

class TimelineReader {
 public:
  TimelineReader(InputFile& file, const EdfHeader& header) : file_(file), header_(header) {}

  EdfTimeline read(std::int64_t records) {
    std::string bytes(static_cast<std::size_t>(header_.header_bytes), '\0');
    file_.read(bytes.data(), bytes.size());
    bytes.resize(static_cast<std::size_t>(header_.record_bytes));
    for (std::int64_t record = 0; record < records; ++record) {
      record_byte_ = header_.header_bytes + record * header_.record_bytes;
      file_.read(bytes.data(), bytes.size());
      std::optional<double> start;
      for (const EdfSpan& span : header_.annotations) {
        const std::string_view lists =
            std::string_view{bytes}.substr(static_cast<std::size_t>(span.byte), static_cast<std::size_t>(span.bytes));
        take_lists(lists, span.byte, start);
      }
      add_start(start, record);
    }
    if (damaged_ > 0)
      timeline_.warnings.push_back(
          {"annotations_damaged", message_at({file_.name(), std::nullopt, first_damaged_},
                                             fmt::format("{} annotation list{} cannot be read, the first here",
                                                         damaged_, damaged_ == 1 ? "" : "s"))});
    return std::move(timeline_);
  }

 private:
  void take_lists(std::string_view bytes, std::int64_t at, std::optional<double>& start) {
    bool first = true;
    while (!bytes.empty() && bytes.front() != '\0') {
      const std::size_t end = std::min(bytes.find('\0'), bytes.size());
      const auto list = list_in(bytes.substr(0, end));
      if (!list) {
        if (damaged_++ == 0) first_damaged_ = record_byte_ + at;
      } else {
        const bool times_record = first && !start && !list->texts.empty() && list->texts.front().empty();
        if (times_record) start = list->onset_s;
      }
      first = false;
      at += static_cast<std::int64_t>(end) + 1;
      bytes.remove_prefix(std::min(end + 1, bytes.size()));
    }
  }

  void add_start(std::optional<double> start, std::int64_t record) {
    std::vector<double>& starts = timeline_.record_starts;
    const double expected = starts.empty() ? 0 : starts.back() + header_.record_s;
    const Place place{file_.name(), std::nullopt, record_byte_};
    if (header_.discontinuous && !start)
      refuse(place, fmt::format("data record {} does not say when it begins, as every one of a discontinuous file does",
                                record + 1));
    if (header_.discontinuous && *start < expected - overlap_s && !starts.empty())
      refuse(place, fmt::format("{:g} s", *start),
             fmt::format("data record {} begins before the one above ends, at {:g} s", record + 1, expected));
    starts.push_back(header_.discontinuous || starts.empty() ? start.value_or(expected) : expected);
  }

  InputFile& file_;
  const EdfHeader& header_;
  EdfTimeline timeline_;
  std::int64_t record_byte_ = 0;
  std::int64_t damaged_ = 0, first_damaged_ = 0;
};

}  // namespace

EdfTimeline read_edf_timeline(InputFile& file, const EdfHeader& header, std::int64_t records) {
  return TimelineReader{file, header}.read(records);
}

}  // namespace pulsewright::reading
