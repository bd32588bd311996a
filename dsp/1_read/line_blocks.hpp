/// A text file some whole lines at a time, so that its length does not matter.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "input_file.hpp"

namespace pulsewright::reading {

/// Takes the bytes that were read, in reading order, for the provenance hash.
using ByteSink = std::function<void(std::span<const unsigned char>)>;

/// The text in `held` (which must outlive it), or that of `file` behind what is in `held` already.
class LineBlocks {
 public:
  explicit LineBlocks(std::string_view held, InputFile* file = nullptr);

  /// The next whole lines. The last block of all may end without a line feed, and so does a block
  /// of `block_bytes` that holds none. Empty at the end. Valid until the next call.
  [[nodiscard]] std::string_view next();
  /// Whether the block of the last call was the last one.
  [[nodiscard]] bool at_end() const { return ended_; }

  static constexpr std::size_t block_bytes = std::size_t{4} << 20;

 private:
  std::string_view held_;
  InputFile* file_;
  std::vector<char> room_;
  std::size_t given_ = 0, filled_ = 0;
  bool ended_ = false;
};

}  // namespace pulsewright::reading
