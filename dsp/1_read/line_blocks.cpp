#include "line_blocks.hpp"

#include <algorithm>
#include <cstring>

namespace pulsewright::reading {

LineBlocks::LineBlocks(std::string_view held, InputFile* file) : held_(held), file_(file) {}

std::string_view LineBlocks::next() {
  if (ended_) return {};
  if (file_ == nullptr) {
    ended_ = true;
    return held_;
  }
  if (room_.empty()) {
    room_.resize(std::max(block_bytes, held_.size()));
    std::memcpy(room_.data(), held_.data(), held_.size());
    filled_ = held_.size();
  } else {
    std::memmove(room_.data(), room_.data() + given_, filled_ - given_);
    filled_ -= given_;
  }
  filled_ += file_->read(room_.data() + filled_, room_.size() - filled_);
  ended_ = filled_ < room_.size();
  const std::string_view all{room_.data(), filled_};
  const std::size_t feed = ended_ ? std::string_view::npos : all.rfind('\n');
  given_ = feed == std::string_view::npos ? filled_ : feed + 1;
  return all.substr(0, given_);
}

}  // namespace pulsewright::reading
