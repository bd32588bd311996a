/// SHA-256 (FIPS 180-4) of bytes given in pieces.
#pragma once

#include <memory>
#include <span>
#include <string>

namespace pulsewright::reading {

class Sha256 {
 public:
  Sha256();
  ~Sha256();
  Sha256(const Sha256&) = delete;
  Sha256& operator=(const Sha256&) = delete;

  void update(std::span<const unsigned char> bytes);
  /// The hash in lower-case hexadecimal. Nothing may be added afterwards.
  [[nodiscard]] std::string finish();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// Hash of bytes in memory.
[[nodiscard]] std::string sha256_of(std::span<const unsigned char> bytes);

}  // namespace pulsewright::reading
