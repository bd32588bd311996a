/// Whether a code stands in the bytes of a file, whatever kind of file it is.
#pragma once

#include <filesystem>
#include <set>
#include <string>
#include <string_view>

namespace pulsewright {

/// Whether `code` stands in the text with no letters of a longer word about it, and not as the
/// beginning of one of `longer_codes`.
[[nodiscard]] bool holds_word(std::string_view text, const std::string& code,
                              const std::set<std::string>& longer_codes);

/// What a search of a file found.
enum class CodeFound {
  no,
  in_text,     ///< that can be looked into further: UTF-8 of moderate length
  elsewhere,   ///< in text of UTF-16, packed text, long text, a database, the header of a recording
  unsearched,  ///< an archive, whose content was not seen
};

/// Searches a file: texts, packed ones too, and databases to their end, other files through their
/// first 64 KiB, where headers are. `kind` becomes words for what was searched. Throws
/// Error{unreadable} for a file that cannot be read.
[[nodiscard]] CodeFound search_for_code(const std::filesystem::path& file, const std::string& code,
                                        const std::set<std::string>& longer_codes, std::string& kind);

}  // namespace pulsewright
