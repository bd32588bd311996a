// Packed text: damaged gzip and Zstandard data. The first byte says whether the rest is packed here or taken as it is.
#include <zlib.h>
#include <zstd.h>

#include "entry.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/table.hpp"

namespace {

std::string gzip_of(const std::string& text) {
  std::string packed(text.size() + 200, '\0');
  z_stream stream{};
  if (deflateInit2(&stream, 6, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY) != Z_OK) return {};
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));
  stream.avail_in = static_cast<uInt>(text.size());
  stream.next_out = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_out = static_cast<uInt>(packed.size());
  deflate(&stream, Z_FINISH);
  packed.resize(stream.total_out);
  deflateEnd(&stream);
  return packed;
}

std::string zstd_of(const std::string& text) {
  std::string packed(ZSTD_compressBound(text.size()), '\0');
  packed.resize(ZSTD_compress(packed.data(), packed.size(), text.data(), text.size(), 3));
  return packed;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const fuzz::ScratchFile file{"log.csv"};
  if (size == 0) return 0;
  std::string bytes(reinterpret_cast<const char*>(data) + 1, size - 1);
  if (data[0] % 4 == 1) bytes = gzip_of(bytes);
  if (data[0] % 4 == 2) bytes = zstd_of(bytes);
  const auto& path = file.write(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
  fuzz::may_refuse([&] { static_cast<void>(pulsewright::read_recording(path)); });
  fuzz::may_refuse([&] { static_cast<void>(pulsewright::read_table(path)); });
  return 0;
}

std::vector<std::string> seeds() {
  std::string text = "time_s,ecg\n";
  for (int i = 0; i < 40; ++i) text += std::to_string(i) + "," + std::to_string(i % 7) + "\n";
  return {"0" + gzip_of(text), "0" + zstd_of(text), "0" + gzip_of(text) + gzip_of(text), "1" + text, "2" + text};
}
