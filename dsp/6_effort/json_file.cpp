#include "json_file.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "pulsewright/error.hpp"

namespace pulsewright {

std::optional<Json> json_in(const std::string& text, const std::string& file) {
  const std::size_t first = text.find_first_not_of(" \n\r\t");
  if (first == std::string::npos || (text[first] != '{' && text[first] != '[')) return std::nullopt;
  try {
    return Json::parse(text);
  } catch (const JsonError& error) {
    const auto end = text.begin() + static_cast<std::ptrdiff_t>(std::min(error.byte, text.size()));
    throw Error{
        ErrorCode::unreadable,
        fmt::format("{}:{}: begins as JSON and is none here, or its lists and objects stand more than {} deep in "
                    "each other",
                    file, 1 + std::count(text.begin(), end, '\n'), Json::deepest)};
  }
}

}  // namespace pulsewright
