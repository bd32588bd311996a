#include <fmt/format.h>

#include "cascade.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

using condition_stage::Cascade;
using condition_stage::Memory;

CausalFilter::CausalFilter(const Sections& sections) : sections_(sections), memory_(2 * sections.size(), 0.0) {}

void CausalFilter::reset() { primed_ = false; }

void CausalFilter::process(std::span<const float> in, std::span<float> out) {
  if (in.size() != out.size()) {
    throw Error{ErrorCode::contract,
                fmt::format("filter: {} samples in but room for {} out; both must be equal", in.size(), out.size())};
  }
  if (in.empty()) return;
  if (!primed_) {
    const auto steady = condition_stage::steady_state(sections_);
    for (std::size_t i = 0; i < steady.size(); ++i) {
      memory_[2 * i] = steady[i].z1 * static_cast<double>(in[0]);
      memory_[2 * i + 1] = steady[i].z2 * static_cast<double>(in[0]);
    }
    primed_ = true;
  }
  condition_stage::with_section_count(sections_.size(), [&]<int N>() {
    Cascade<double, N> cascade{sections_};
    for (std::size_t i = 0; i < sections_.size(); ++i) cascade.memory(i) = {memory_[2 * i], memory_[2 * i + 1]};
    for (std::size_t i = 0; i < in.size(); ++i) out[i] = static_cast<float>(cascade(static_cast<double>(in[i])));
    for (std::size_t i = 0; i < sections_.size(); ++i) {
      memory_[2 * i] = cascade.memory(i).z1;
      memory_[2 * i + 1] = cascade.memory(i).z2;
    }
  });
}

}  // namespace pulsewright
