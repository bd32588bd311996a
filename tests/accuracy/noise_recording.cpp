#include "noise_recording.hpp"

#include <random>

namespace accuracy {

using namespace pulsewright;

Recording noise_recording(unsigned seed) {
  std::mt19937 random{seed};
  std::normal_distribution<float> normal;
  Recording recording;
  Channel channel;
  channel.name = "pulse";
  channel.kind = ChannelKind::pulse;
  channel.rate = Hertz{50.0};
  float level = 0.0F;
  for (int i = 0; i < 50 * 240; ++i) {
    const float v = normal(random);
    switch (seed % 3) {
      case 0: level = v; break;
      case 1: level = 0.98F * level + v; break;
      default: level = i % 5 == 0 ? v : level; break;
    }
    channel.samples.push_back(level);
  }
  recording.duration = Seconds{240.0};
  recording.channels.push_back(channel);
  if (seed % 2 == 0) return recording;
  // Every other one beside the noise of an accelerometer.
  for (const char* axis : {"acc_x", "acc_y", "acc_z"}) {
    channel.name = axis;
    channel.kind = ChannelKind::acceleration;
    for (float& v : channel.samples) v = normal(random);
    recording.channels.push_back(channel);
  }
  return recording;
}

}  // namespace accuracy
