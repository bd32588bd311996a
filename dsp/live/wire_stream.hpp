/// The two ways in which a stream of bytes is cut into samples.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "pulsewright/wire.hpp"
#include "wire_line.hpp"

namespace pulsewright::live_stage {

/// Bytes in, samples out, whatever the pieces.
class WireStream {
 public:
  virtual ~WireStream() = default;
  virtual void push(std::span<const char> bytes, std::vector<WireSample>& samples) = 0;
  virtual void finish(std::vector<WireSample>& samples) = 0;
  virtual std::vector<HeartRatePacket> take_packets() { return {}; }
  /// Forgets what is incomplete.
  virtual void interrupt() = 0;
  WireCounts counts;
};

/// Lines of text; of heart-rate packets where `packets`.
class LineStream final : public WireStream {
 public:
  LineStream(bool packets, std::string column) : packets_(packets), column_(std::move(column)) {}
  void push(std::span<const char> bytes, std::vector<WireSample>& samples) override;
  void finish(std::vector<WireSample>& samples) override;
  std::vector<HeartRatePacket> take_packets() override { return std::exchange(read_, {}); }
  void interrupt() override;

 private:
  void take(std::string_view line, std::vector<WireSample>& samples);
  void spoil(std::string_view line, const std::string& rule);

  bool packets_;
  std::string column_;
  std::string half_;
  bool too_long_ = false;  // the line that is being passed over
  bool first_ = true;      // a first line may have lost its beginning
  std::optional<WireColumns> columns_;
  std::vector<HeartRatePacket> read_;
};

/// Frames.
class FrameStream final : public WireStream {
 public:
  void push(std::span<const char> bytes, std::vector<WireSample>& samples) override;
  void finish(std::vector<WireSample>& samples) override;
  void interrupt() override { held_.clear(); }

 private:
  std::vector<unsigned char> held_;
};

}  // namespace pulsewright::live_stage
