#include "hash.hpp"

#include <openssl/evp.h>

#include <vector>

#include "input_file.hpp"
#include "pulsewright/error.hpp"
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
  reading::InputFile file{path, reading::Opening::stored};
  reading::Sha256 hash;
  std::vector<unsigned char> block(block_bytes);
  while (const std::size_t got = file.read(reinterpret_cast<char*>(block.data()), block.size()))
    hash.update(std::span{block}.first(got));
  return hash.finish();
}

std::string sha256_of_bytes(std::string_view bytes) {
  return reading::sha256_of({reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size()});
}

}  // namespace pulsewright
