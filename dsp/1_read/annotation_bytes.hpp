/// Annotation files of the open record format from memory: annot(5) of the physionet.org manual.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/read.hpp"

namespace pulsewright::reading {

/// Reads the bytes of an annotation file; `file` is named in messages. Throws Error{unreadable} with the byte offset when the bytes end
/// before the end mark or inside an entry, or when a modifier stands before the first annotation.
[[nodiscard]] std::vector<Annotation> parse_annotations(std::span<const unsigned char> bytes, const std::string& file);

/// The one- or two-letter symbol by which listings show a code; empty when the code has none.
[[nodiscard]] std::string_view symbol_of_code(int code);
/// The code of a symbol; 0 when there is none.
[[nodiscard]] int code_of_symbol(std::string_view symbol);

}  // namespace pulsewright::reading
