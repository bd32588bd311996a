#include "unpacker.hpp"

#include <fmt/format.h>

#include <utility>
#include <vector>

#include "message.hpp"

#ifndef __EMSCRIPTEN__
#include <zlib.h>
#include <zstd.h>
#endif

namespace pulsewright::reading {

#ifdef __EMSCRIPTEN__  // a browser hands over what it has unpacked itself
std::unique_ptr<Unpacker> unpacker_for(std::string_view, Unpacker::Source, const std::string&) { return nullptr; }
#else

namespace {

constexpr std::size_t packed_block = std::size_t{1} << 16;

/// What both forms share: packed bytes at hand, and how a fault is told.
class PackedInput {
 public:
  PackedInput(Unpacker::Source source, std::string file)
      : source_(std::move(source)), file_(std::move(file)), block_(packed_block) {}

  /// Makes sure that packed bytes are at hand; false at the end of the file.
  bool fill() {
    if (used_ < held_) return true;
    held_ = source_(block_.data(), block_.size());
    used_ = 0;
    return held_ > 0;
  }
  [[nodiscard]] char* data() { return block_.data() + used_; }
  [[nodiscard]] std::size_t size() const { return held_ - used_; }
  void use(std::size_t bytes) { used_ += bytes; }

  [[noreturn]] void refuse_damaged(const char* form, const char* why) const {
    refuse({file_}, fmt::format("is packed with {} and cannot be unpacked: {}", form, why));
  }
  [[noreturn]] void refuse_cut(const char* form) const {
    refuse({file_}, fmt::format("is packed with {} and ends in the middle of its data", form));
  }

 private:
  Unpacker::Source source_;
  std::string file_;
  std::vector<char> block_;
  std::size_t used_ = 0, held_ = 0;
};

class GzipUnpacker : public Unpacker {
 public:
  GzipUnpacker(Source source, const std::string& file) : input_(std::move(source), file) {
    constexpr int of_gzip = 15 + 16;  // the largest window, with a gzip header
    if (inflateInit2(&stream_, of_gzip) != Z_OK) input_.refuse_damaged("gzip", "there is not enough memory");
  }
  ~GzipUnpacker() override { inflateEnd(&stream_); }
  GzipUnpacker(const GzipUnpacker&) = delete;
  GzipUnpacker& operator=(const GzipUnpacker&) = delete;

  std::size_t read(char* to, std::size_t most) override {
    std::size_t all = 0;
    while (all < most) {
      if (!input_.fill()) {
        if (!between_members_) input_.refuse_cut("gzip");
        break;
      }
      if (between_members_ && started_) inflateReset(&stream_);
      started_ = true;
      between_members_ = false;
      const auto room = static_cast<uInt>(std::min<std::size_t>(most - all, 1U << 30));
      stream_.next_in = reinterpret_cast<Bytef*>(input_.data());
      stream_.avail_in = static_cast<uInt>(input_.size());
      stream_.next_out = reinterpret_cast<Bytef*>(to + all);
      stream_.avail_out = room;
      const int state = inflate(&stream_, Z_NO_FLUSH);
      input_.use(input_.size() - stream_.avail_in);
      all += room - stream_.avail_out;
      if (state == Z_STREAM_END)
        between_members_ = true;  // another may follow
      else if (state != Z_OK && state != Z_BUF_ERROR)
        input_.refuse_damaged("gzip", "its data is damaged");
    }
    return all;
  }

 private:
  PackedInput input_;
  z_stream stream_{};
  bool started_ = false, between_members_ = true;
};

class ZstdUnpacker : public Unpacker {
 public:
  ZstdUnpacker(Source source, const std::string& file) : input_(std::move(source), file) {
    if (stream_ == nullptr) input_.refuse_damaged("Zstandard", "there is not enough memory");
  }
  ~ZstdUnpacker() override { ZSTD_freeDStream(stream_); }
  ZstdUnpacker(const ZstdUnpacker&) = delete;
  ZstdUnpacker& operator=(const ZstdUnpacker&) = delete;

  std::size_t read(char* to, std::size_t most) override {
    ZSTD_outBuffer out{to, most, 0};
    while (out.pos < most) {
      const std::size_t before = out.pos;
      if (!input_.fill() && left_ == 0) break;
      ZSTD_inBuffer in{input_.data(), input_.size(), 0};
      left_ = ZSTD_decompressStream(stream_, &out, &in);
      if (ZSTD_isError(left_) != 0U) input_.refuse_damaged("Zstandard", "its data is damaged");
      input_.use(in.pos);
      if (in.size == 0 && out.pos == before) input_.refuse_cut("Zstandard");
    }
    return out.pos;
  }

 private:
  PackedInput input_;
  ZSTD_DStream* stream_ = ZSTD_createDStream();
  std::size_t left_ = 0;  ///< more than 0 inside a frame
};

}  // namespace

std::unique_ptr<Unpacker> unpacker_for(std::string_view mark, Unpacker::Source source, const std::string& file) {
  if (mark.starts_with("\x1f\x8b")) return std::make_unique<GzipUnpacker>(std::move(source), file);
  if (mark.starts_with("\x28\xb5\x2f\xfd")) return std::make_unique<ZstdUnpacker>(std::move(source), file);
  return nullptr;
}

#endif

}  // namespace pulsewright::reading
