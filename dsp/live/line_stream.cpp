#include <algorithm>

#include "wire_stream.hpp"

namespace pulsewright::live_stage {
namespace {

/// A longer line is no sample of a sensor.
constexpr std::size_t longest_line = 1024;
/// So much of a spoiled line is shown.
constexpr std::size_t most_shown = 60;

std::string shown(std::string_view line) {
  std::string text;
  for (const char c : line.substr(0, most_shown)) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0x20 && byte < 0x7F) {
      text += c;
    } else {
      constexpr const char* digits = "0123456789abcdef";
      text += {'\\', 'x', digits[byte / 16], digits[byte % 16]};
    }
  }
  return line.size() > most_shown ? text + "..." : text;
}

}  // namespace

void LineStream::spoil(std::string_view line, const std::string& rule) {
  // The end of a line that was cut off by the beginning is nobody's fault.
  if (!first_) {
    ++counts.spoiled;
    counts.last_spoiled = "'" + shown(line) + "' " + rule;
  }
}

void LineStream::take(std::string_view line, std::vector<WireSample>& samples) {
  if (packets_) {
    const std::size_t text = line.find_first_not_of(" \t\r");
    if (text != std::string_view::npos && line[text] != '#') {
      if (auto packet = heart_rate_packet(line)) {
        read_.push_back(std::move(*packet));
        ++counts.samples;
      } else {
        spoil(line, "is no heart-rate packet in hexadecimal digits");
      }
    }
  } else {
    WireLine read = read_wire_line(line, columns_, column_);
    switch (read.kind) {
      case WireLine::Kind::nothing: break;
      case WireLine::Kind::header: columns_ = read.columns; break;
      case WireLine::Kind::spoiled: spoil(line, read.rule); break;
      case WireLine::Kind::sample:
        samples.push_back(read.sample);
        ++counts.samples;
        break;
    }
  }
  first_ = false;
}

void LineStream::push(std::span<const char> bytes, std::vector<WireSample>& samples) {
  counts.bytes += bytes.size();
  std::string_view rest{bytes.data(), bytes.size()};
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    if (half_.size() + end > longest_line) {
      if (!too_long_)
        spoil(half_.empty() ? rest.substr(0, end) : std::string_view{half_}, "is no line of a sensor: it does not end");
      too_long_ = true;
      half_.clear();
    } else if (!too_long_) {
      half_.append(rest.substr(0, end));
    }
    if (end == rest.size()) return;
    if (!too_long_) take(half_, samples);
    too_long_ = false;
    first_ = false;
    half_.clear();
    rest.remove_prefix(end + 1);
  }
}

void LineStream::finish(std::vector<WireSample>& samples) {
  if (!half_.empty() && !too_long_) take(half_, samples);
  half_.clear();
}

void LineStream::interrupt() {
  half_.clear();
  too_long_ = false;
  first_ = true;
}

}  // namespace pulsewright::live_stage
