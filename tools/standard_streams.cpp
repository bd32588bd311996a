#include "standard_streams.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <set>
#include <utility>

namespace pulsewright::program {
namespace {

/// Writes to a descriptor until all is written. Returns 0, or the errno that stopped it.
int write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0) {
      if (errno == EINTR) continue;
      return errno;
    }
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return 0;
}

/// Names come from files and folders, and a terminal obeys control characters: those of ASCII and U+0080 to U+009F become U+FFFD.
std::string harmless(std::string_view text) {
  constexpr std::string_view replacement = "\xEF\xBF\xBD";
  std::string shown;
  shown.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0U;
    if ((byte < 0x20 && text[i] != '\n') || byte == 0x7F) {
      shown += replacement;
    } else if (byte == 0xC2 && next >= 0x80 && next <= 0x9F) {
      shown += replacement;
      ++i;
    } else {
      shown += text[i];
    }
  }
  return shown;
}

/// One line on standard error. A closed standard error cannot be told to anybody.
void talk(std::string_view prefix, std::string_view message) {
  std::string line(prefix);
  line.append(harmless(message));
  line.push_back('\n');
  write_all(STDERR_FILENO, line);
}

}  // namespace

void print(std::string_view bytes) {
  const int failure = write_all(STDOUT_FILENO, bytes);
  if (failure == EPIPE) throw ClosedPipe{};
  if (failure != 0)
    throw Error(ErrorCode::unwritable, std::string("standard output: cannot write: ") + std::strerror(failure));
}

void talk_error(std::string_view message) { talk("pulsewright: error: ", message); }
void talk_note(std::string_view message) { talk("pulsewright: ", message); }

void talk_warnings(const Warnings& warnings) {
  std::set<std::pair<std::string, std::string>> said;
  for (const Warning& warning : warnings)
    if (said.emplace(warning.code, warning.message).second)
      talk("pulsewright: warning: ", warning.message + " [" + warning.code + "]");
}

bool drawings_wanted() {
  if (::isatty(STDOUT_FILENO) != 1) return false;
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const char* value = std::getenv(name);
    if (value == nullptr || *value == '\0') continue;
    const std::string_view locale = value;
    return locale.ends_with("UTF-8") || locale.ends_with("utf8");
  }
  return false;
}

bool progress_wanted() { return ::isatty(STDERR_FILENO) == 1; }

void talk_progress(std::string_view line) {
  std::string bytes = "\r\x1b[K";
  bytes.append(harmless(line));
  write_all(STDERR_FILENO, bytes);
}

}  // namespace pulsewright::program
