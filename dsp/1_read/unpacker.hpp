/// Text that is stored compressed: gzip (RFC 1952) and Zstandard (RFC 8878), unpacked as it is read.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <string>
#include <string_view>

namespace pulsewright::reading {

class Unpacker {
 public:
  /// Gives up to so many bytes of the packed file; 0 at its end.
  using Source = std::function<std::size_t(char* to, std::size_t most)>;

  virtual ~Unpacker() = default;
  /// Up to `most` unpacked bytes, fewer only at the end. Throws Error{unreadable} for packed data that is
  /// damaged or ends in the middle.
  virtual std::size_t read(char* to, std::size_t most) = 0;
};

/// So many bytes tell whether a file is packed.
inline constexpr std::size_t packed_mark_bytes = 4;

/// An unpacker for a file that begins with `mark`; none when it is not packed. `source` gives the file
/// from its beginning on, and `file` is how messages name it.
[[nodiscard]] std::unique_ptr<Unpacker> unpacker_for(std::string_view mark, Unpacker::Source source,
                                                     const std::string& file);

}  // namespace pulsewright::reading
