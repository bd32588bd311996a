#include "hash.hpp"

#include <fcntl.h>
#include <openssl/evp.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>
#include <vector>

#include "message.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright {

namespace reading {

struct Sha256::State {
  EVP_MD_CTX* context = EVP_MD_CTX_new();
  ~State() { EVP_MD_CTX_free(context); }
};

Sha256::Sha256() : state_(std::make_unique<State>()) {
  if (state_->context == nullptr || EVP_DigestInit_ex(state_->context, EVP_sha256(), nullptr) != 1)
    throw Error{ErrorCode::contract, "SHA-256 is not available in the installed OpenSSL"};
}

Sha256::~Sha256() = default;

void Sha256::update(std::span<const unsigned char> bytes) {
  EVP_DigestUpdate(state_->context, bytes.data(), bytes.size());
}

std::string Sha256::finish() {
  unsigned char digest[EVP_MAX_MD_SIZE];
  unsigned int length = 0;
  EVP_DigestFinal_ex(state_->context, digest, &length);
  constexpr char digits[] = "0123456789abcdef";
  std::string text;
  for (unsigned int i = 0; i < length; ++i) {
    text += digits[digest[i] >> 4];
    text += digits[digest[i] & 15];
  }
  return text;
}

std::string sha256_of(std::span<const unsigned char> bytes) {
  Sha256 hash;
  hash.update(bytes);
  return hash.finish();
}

}  // namespace reading

std::string sha256_of_file(const std::filesystem::path& path) {
  constexpr std::size_t block_bytes = std::size_t{1} << 18;
  const std::string name = path.string();
  const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) reading::refuse({name}, "cannot be opened: " + std::generic_category().message(errno));
  struct Closer {
    int fd;
    ~Closer() { ::close(fd); }
  } const closer{fd};
  reading::Sha256 hash;
  std::vector<unsigned char> block(block_bytes);
  for (;;) {
    const ssize_t got = ::read(fd, block.data(), block.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) reading::refuse({name}, "cannot be read: " + std::generic_category().message(errno));
    if (got == 0) return hash.finish();
    hash.update(std::span{block}.first(static_cast<std::size_t>(got)));
  }
}

std::string sha256_of_bytes(std::string_view bytes) {
  return reading::sha256_of({reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size()});
}

}  // namespace pulsewright
