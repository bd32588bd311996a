#include <fmt/format.h>

#include "annotation_bytes.hpp"
#include "annotation_words.hpp"
#include "mapped_file.hpp"
#include "message.hpp"

namespace pulsewright {

namespace reading {

namespace {

/// Small signed fields are kept as one byte.
int signed_byte(unsigned low) { return static_cast<std::int8_t>(low & 0xff); }

/// Words of the file, with their place.
class Words {
 public:
  Words(std::span<const unsigned char> bytes, const std::string& file) : bytes_(bytes), file_(file) {}

  [[nodiscard]] std::size_t at() const { return at_; }
  [[nodiscard]] Place place(std::size_t byte) const { return {file_, std::nullopt, static_cast<std::int64_t>(byte)}; }

  unsigned next() {
    need(2);
    const unsigned word = bytes_[at_] | static_cast<unsigned>(bytes_[at_ + 1]) << 8;
    at_ += 2;
    return word;
  }
  std::string text(std::size_t length) {
    need(length + length % 2);
    std::string text(reinterpret_cast<const char*>(bytes_.data()) + at_, length);
    at_ += length + length % 2;
    return text;
  }

 private:
  void need(std::size_t bytes) const {
    if (bytes_.size() - at_ < bytes)
      refuse(place(bytes_.size()), "the annotation file ends here without its end mark (a zero word); it is cut short");
  }

  std::span<const unsigned char> bytes_;
  const std::string& file_;
  std::size_t at_ = 0;
};

}  // namespace

std::vector<Annotation> parse_annotations(std::span<const unsigned char> bytes, const std::string& file) {
  std::vector<Annotation> annotations;
  if (bytes.empty()) refuse({file}, "is empty; an annotation file ends with a zero word");
  Words words{bytes, file};
  std::int64_t now = 0;
  int number = 0;
  int channel = 0;
  for (;;) {
    const std::size_t at = words.at();
    const unsigned word = words.next();
    if (word == 0) return annotations;
    const int type = static_cast<int>(word >> value_bits);
    const unsigned value = word & largest_value;
    if (type == skip_word) {
      const unsigned high = words.next();
      const unsigned low = words.next();
      now += static_cast<std::int32_t>(high << 16 | low);
      continue;
    }
    if (type <= last_code) {
      now += value;
      if (type == 0) continue;  // only moves the time
      annotations.push_back({SampleIndex{now}, type, 0, channel, number, {}});
      continue;
    }
    if (type < skip_word)
      refuse(words.place(at), std::to_string(type), "an annotation code is 1 to 49; this is no annotation file");
    if (annotations.empty())
      refuse(words.place(at), std::to_string(type), "a modifier follows the annotation it changes");
    Annotation& last = annotations.back();
    switch (type) {
      case number_word: last.number = number = signed_byte(value); break;
      case subtype_word: last.subtype = signed_byte(value); break;
      case channel_word: last.channel = channel = static_cast<int>(value & 0xff); break;
      default: last.text = words.text(value); break;
    }
  }
}

}  // namespace reading

std::vector<Annotation> read_annotations(const std::filesystem::path& path) {
  const reading::MappedFile file{path};
  return reading::parse_annotations(file.bytes(), file.name());
}

}  // namespace pulsewright
