#include <cstddef>
#include <vector>

#include "pulsewright/wire.hpp"

namespace pulsewright {
namespace {

// Flags of the first byte.
constexpr unsigned wide_rate = 0x01, in_contact = 0x02, tells_contact = 0x04, has_energy = 0x08, has_rr = 0x10;
constexpr double rr_ticks_per_s = 1024.0;

int digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

bool parts_pairs(char c) { return c == ' ' || c == '\t' || c == ':' || c == '-' || c == '\r'; }

std::optional<std::vector<unsigned>> bytes_of(std::string_view hex) {
  while (!hex.empty() && parts_pairs(hex.front())) hex.remove_prefix(1);
  if (hex.starts_with("0x") || hex.starts_with("0X")) hex.remove_prefix(2);
  std::vector<unsigned> bytes;
  for (std::size_t i = 0; i < hex.size();) {
    if (parts_pairs(hex[i])) {
      ++i;
      continue;
    }
    if (i + 1 >= hex.size() || digit(hex[i]) < 0 || digit(hex[i + 1]) < 0) return std::nullopt;
    bytes.push_back(static_cast<unsigned>(16 * digit(hex[i]) + digit(hex[i + 1])));
    i += 2;
  }
  return bytes;
}

}  // namespace

std::optional<HeartRatePacket> heart_rate_packet(std::string_view hex) {
  const auto bytes = bytes_of(hex);
  if (!bytes || bytes->size() < 2) return std::nullopt;
  std::size_t at = 1;
  const auto left = [&] { return bytes->size() - at; };
  const auto take_two = [&] {
    const unsigned value = (*bytes)[at] + 256 * (*bytes)[at + 1];
    at += 2;
    return static_cast<int>(value);
  };
  const unsigned flags = bytes->front();
  HeartRatePacket packet;
  if ((flags & wide_rate) == 0) {
    packet.bpm = static_cast<int>((*bytes)[at++]);
  } else {
    if (left() < 2) return std::nullopt;
    packet.bpm = take_two();
  }
  if ((flags & tells_contact) != 0) packet.contact = (flags & in_contact) != 0;
  if ((flags & has_energy) != 0) {
    if (left() < 2) return std::nullopt;
    packet.energy_kj = take_two();
  }
  if ((flags & has_rr) != 0) {
    if (left() < 2 || left() % 2 != 0) return std::nullopt;
    while (left() > 0) packet.rr.emplace_back(take_two() / rr_ticks_per_s);
  }
  return left() == 0 ? std::optional{packet} : std::nullopt;
}

}  // namespace pulsewright
