#include "lost_contact.hpp"

#include <algorithm>
#include <limits>

#include "random.hpp"

namespace pulsewright::simulation {

namespace {
constexpr double shortest_loss = 0.2;
}

std::vector<DropOut> drop_outs(const Contact& contact, Seconds duration, std::uint64_t seed) {
  std::vector<DropOut> all;
  for (DropOut planned : contact.planned) {
    planned.span.start = std::max(planned.span.start, Seconds{0.0});
    planned.span.end = std::min(planned.span.end, duration);
    if (planned.span.start < planned.span.end) all.push_back(planned);
  }
  if (contact.losses_per_minute > 0.0) {
    Random random(seed, Stream::contact);
    double t = 0.0;
    while (true) {
      t += random.exponential_with_mean(60.0 / contact.losses_per_minute);
      if (t >= duration.value()) break;
      const double length = std::max(shortest_loss, random.exponential_with_mean(contact.mean_loss.value()));
      const double end = std::min(t + length, duration.value());
      all.push_back({{Seconds{t}, Seconds{end}}, contact.form, contact.kind});
      t = end;
    }
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const DropOut& a, const DropOut& b) { return a.span.start < b.span.start; });
  return all;
}

namespace {

/// Does `change` to every sample of the channel inside a drop-out of its kind and of this form; `held` is the sample before it.
template <class Change>
void change_inside(Channel& channel, const std::vector<DropOut>& drop_outs, DropOutForm form, Change change) {
  for (const DropOut& lost : drop_outs) {
    if (lost.kind != channel.kind || lost.form != form || channel.samples.empty()) continue;
    float held = channel.samples.front();
    for (std::size_t i = 0; i < channel.samples.size(); ++i) {
      const Seconds t = channel.time_of_sample(SampleIndex{static_cast<std::int64_t>(i)});
      if (t >= lost.span.end) break;
      if (t < lost.span.start) {
        held = channel.samples[i];
      } else {
        change(channel.samples[i], held);
      }
    }
  }
}

}  // namespace

void lose_contact(Channel& channel, const std::vector<DropOut>& drop_outs) {
  change_inside(channel, drop_outs, DropOutForm::flat, [](float& sample, float held) { sample = held; });
  change_inside(channel, drop_outs, DropOutForm::gap,
                [](float& sample, float) { sample = std::numeric_limits<float>::quiet_NaN(); });
}

}  // namespace pulsewright::simulation
