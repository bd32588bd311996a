#include "policy_hash.hpp"

#include <openssl/evp.h>

#include <array>

#include "pulsewright/error.hpp"

namespace pulsewright {

std::string policy_hash(std::string_view script) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned int size = 0;
  if (EVP_Digest(script.data(), script.size(), digest.data(), &size, EVP_sha256(), nullptr) != 1)
    throw Error(ErrorCode::contract, "SHA-256 is not available in this OpenSSL");
  std::array<unsigned char, 2 * EVP_MAX_MD_SIZE> base64{};
  const int length = EVP_EncodeBlock(base64.data(), digest.data(), static_cast<int>(size));
  return "sha256-" + std::string(base64.begin(), base64.begin() + length);
}

}  // namespace pulsewright
