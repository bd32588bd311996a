#include "code_search.hpp"

#include <algorithm>
#include <cstdint>

#include "pulsewright/read.hpp"

namespace pulsewright {

namespace {

/// Longer texts are searched, and not taken apart: no roster, sheet or log is so long.
constexpr std::uintmax_t longest_table = std::uintmax_t{64} << 20;
/// Of a file that is no text, so much is searched.
constexpr std::size_t header_bytes = std::size_t{1} << 16;
/// By so many bytes a file's kind is told.
constexpr std::size_t mark_bytes = 4096;

bool is_word_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
         (static_cast<unsigned char>(c) & 0x80) != 0;
}

/// The characters of UTF-16 that are ASCII, others as a byte that is part of words.
std::string narrowed(std::string_view text, bool low_byte_first) {
  std::string narrow;
  for (std::size_t i = 0; i + 1 < text.size(); i += 2) {
    const char low = text[low_byte_first ? i : i + 1], high = text[low_byte_first ? i + 1 : i];
    narrow += high == '\0' ? low : '\xff';
  }
  return narrow;
}

/// Whether every other byte of the beginning is zero, as in UTF-16 of European languages.
bool is_every_other_zero(std::string_view bytes, std::size_t first) {
  if (bytes.size() < 4) return false;
  std::size_t zeros = 0, looked_at = 0;
  for (std::size_t i = first; i < bytes.size(); i += 2, ++looked_at) zeros += bytes[i] == '\0';
  return 10 * zeros > 9 * looked_at;
}

/// Searches a file as its blocks come in.
class BlockSearch {
 public:
  BlockSearch(const std::string& code, const std::set<std::string>& longer) : code_(code), longer_(longer) {
    for (const std::string& other : longer) overlap_ = std::max(overlap_, other.size() + 2);
    overlap_ = std::max(overlap_, code.size() + 2);
  }

  void take(std::string_view block) {
    if (found_) return;
    text_.append(block);
    // What is cut by the end of the block may go on as a longer word, and what is kept of it, in front of which a letter
    // stands for what was before, is looked at again with the next block.
    text_ += 'x';
    found_ = holds_word(text_, code_, longer_);
    text_.pop_back();
    if (text_.size() > 2 * overlap_) text_.replace(0, text_.size() - 2 * overlap_, "x");
  }
  /// Whether the code was in what was taken, after the last block.
  [[nodiscard]] bool found() const { return found_ || holds_word(text_, code_, longer_); }

 private:
  const std::string& code_;
  const std::set<std::string>& longer_;
  std::size_t overlap_ = 0;
  std::string text_;
  bool found_ = false;
};

}  // namespace

bool holds_word(std::string_view text, const std::string& code, const std::set<std::string>& longer_codes) {
  for (std::size_t at = text.find(code); at != std::string_view::npos; at = text.find(code, at + 1)) {
    const std::size_t end = at + code.size();
    const bool longer = std::any_of(longer_codes.begin(), longer_codes.end(),
                                    [&](const std::string& other) { return text.substr(at).starts_with(other); });
    const bool starts = at == 0 || !is_word_letter(text[at - 1]);
    if (starts && !longer && (end == text.size() || !is_word_letter(text[end]))) return true;
  }
  return false;
}

CodeFound search_for_code(const std::filesystem::path& file, const std::string& code,
                          const std::set<std::string>& longer_codes, std::string& kind) {
  const std::string beginning = beginning_of_file(file, mark_bytes);
  const std::string_view mark{beginning};
  if (mark.starts_with("PK\x03\x04") || mark.starts_with("7z\xbc\xaf") ||
      mark.starts_with("\xfd"
                       "7zXZ") ||
      mark.starts_with("BZh")) {
    kind = "an archive";
    return CodeFound::unsearched;
  }
  const bool little = mark.starts_with("\xff\xfe") || is_every_other_zero(mark, 1);
  const bool big = mark.starts_with("\xfe\xff") || is_every_other_zero(mark, 0);
  const bool database = mark.starts_with("SQLite format 3");
  const bool text = !little && !big && !database && mark.find('\0') == std::string_view::npos;
  if (little || big) {
    const std::string bytes = bytes_of_file(file);
    kind = "a text in UTF-16";
    return holds_word(narrowed(bytes, little), code, longer_codes) ? CodeFound::elsewhere : CodeFound::no;
  }
  BlockSearch search{code, longer_codes};
  std::size_t seen = 0;
  std::uintmax_t length = 0;
  each_block_of_file(file, [&](std::string_view block) {
    length += block.size();
    if (!text && !database) block = block.substr(0, header_bytes - std::min(seen, header_bytes));
    seen += block.size();
    search.take(block);
    return text || database || seen < header_bytes;
  });
  if (!search.found()) return CodeFound::no;
  std::error_code ignored;
  const bool packed = text && std::filesystem::file_size(file, ignored) != length;
  kind = database ? "a database" : packed ? "a packed text" : text ? "a long text" : "no text";
  return text && !packed && length <= longest_table ? CodeFound::in_text : CodeFound::elsewhere;
}

}  // namespace pulsewright
