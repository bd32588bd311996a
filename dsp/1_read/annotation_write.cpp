#include <fmt/format.h>

#include "annotation_words.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright {

namespace {

using namespace reading;

void put_word(std::string& bytes, int type, unsigned value) {
  // negative values keep their sign in the ten bits, as the published files have it
  const unsigned word = static_cast<unsigned>(type) << value_bits | (value & largest_value);
  bytes += static_cast<char>(word & 0xff);
  bytes += static_cast<char>(word >> 8);
}

void put_half(std::string& bytes, std::uint32_t half) {
  bytes += static_cast<char>(half & 0xff);
  bytes += static_cast<char>(half >> 8 & 0xff);
}

void demand(bool holds, std::size_t position, const char* rule, std::int64_t value) {
  if (!holds) throw Error{ErrorCode::contract, fmt::format("annotation {}: value '{}': {}", position + 1, value, rule)};
}

}  // namespace

std::string annotation_bytes(const std::vector<Annotation>& annotations) {
  constexpr std::int64_t longest_skip = INT32_MAX;
  std::string bytes;
  std::int64_t now = 0;
  int number = 0;
  int channel = 0;
  for (std::size_t i = 0; i < annotations.size(); ++i) {
    const Annotation& a = annotations[i];
    demand(a.code >= 1 && a.code <= last_code, i, "a code is 1 to 49", a.code);
    demand(a.subtype >= -128 && a.subtype <= 127, i, "a subtype is -128 to 127", a.subtype);
    demand(a.number >= -128 && a.number <= 127, i, "a number is -128 to 127", a.number);
    demand(a.channel >= 0 && a.channel <= 255, i, "a channel is 0 to 255", a.channel);
    demand(a.text.size() <= longest_text, i, "a text has at most 255 bytes", static_cast<std::int64_t>(a.text.size()));
    std::int64_t ahead = a.sample.value() - now;
    demand(ahead >= 0, i, "samples must not decrease", a.sample.value());
    now = a.sample.value();
    while (ahead > static_cast<std::int64_t>(largest_value)) {
      const std::int64_t skip = ahead < longest_skip ? ahead : longest_skip;
      put_word(bytes, skip_word, 0);
      put_half(bytes, static_cast<std::uint32_t>(skip) >> 16);
      put_half(bytes, static_cast<std::uint32_t>(skip));
      ahead -= skip;
    }
    put_word(bytes, a.code, static_cast<unsigned>(ahead));
    if (a.subtype != 0) put_word(bytes, subtype_word, static_cast<unsigned>(a.subtype));
    if (a.channel != channel) put_word(bytes, channel_word, static_cast<unsigned>(channel = a.channel));
    if (a.number != number) put_word(bytes, number_word, static_cast<unsigned>(number = a.number));
    if (!a.text.empty()) {
      put_word(bytes, text_word, static_cast<unsigned>(a.text.size()));
      bytes += a.text;
      if (a.text.size() % 2 == 1) bytes += '\0';
    }
  }
  bytes.append(2, '\0');
  return bytes;
}

}  // namespace pulsewright
