#include <algorithm>
#include <cmath>

#include "pulsewright/error.hpp"
#include "pulsewright/wire.hpp"

namespace pulsewright {
namespace {

constexpr std::int64_t second_us = 1'000'000;
/// What a sensor's clock and that of this machine may differ by in one step without either having
/// jumped: bytes wait in buffers.
constexpr std::int64_t slack_us = 2 * second_us;
/// A longer silence than this leaves a gap where the sensor tells no time.
constexpr std::int64_t silence_us = second_us;
constexpr std::uint64_t wrap_of_clock = std::uint64_t{1} << 32;
constexpr std::int64_t wrap_of_frames = std::int64_t{1} << 16, wrap_of_lines = std::int64_t{1} << 32;
/// A sequence number that steps by more than this has begun anew.
constexpr std::int64_t longest_loss = 10'000;

/// Steps from one sequence number to the next; 0 and less: not after it.
std::int64_t sequence_step(std::uint32_t from, std::uint32_t to) {
  const std::int64_t step = std::int64_t{to} - std::int64_t{from};
  if (step > 0) return step;
  for (const std::int64_t wrap : {wrap_of_frames, wrap_of_lines}) {
    if (from < wrap && step + wrap > 0 && step + wrap <= longest_loss) return step + wrap;
  }
  return step;
}

/// What a jump may still be wrong by to be confirmed by the sample after it.
constexpr std::int64_t confirmed_within_us = second_us / 2;

}  // namespace

const char* to_string(WireBreak cause) {
  switch (cause) {
    case WireBreak::none: return "none";
    case WireBreak::lost: return "lost";
    case WireBreak::silent: return "silent";
    case WireBreak::restarted: return "restarted";
  }
  return "";
}

/// From the last sample to one that came.
struct WireClock::Step {
  enum class Kind { on, backwards, jump };
  Kind kind = Kind::on;
  std::int64_t us = 0;
  std::int64_t lost = 0;  ///< samples between, by the sequence number
  bool silent = false;
};

WireClock::WireClock(std::optional<Hertz> rate) : rate_(rate) {
  if (rate_ && !(rate_->value() > 0)) throw Error{ErrorCode::contract, "WireClock: the sampling rate must be positive"};
}

void WireClock::interrupt() {
  interrupted_ = true;
  suspect_.reset();
}

std::int64_t WireClock::elapsed_us(std::optional<std::int64_t> arrived_us) const {
  if (!arrived_us || !last_arrived_us_) return 0;
  return std::max<std::int64_t>(0, *arrived_us - *last_arrived_us_);
}

WireClock::Step WireClock::step_to(const WireSample& sample, std::optional<std::int64_t> arrived_us) {
  Step step;
  const bool counted = sample.sequence && last_->sequence;
  const std::int64_t counts = counted ? sequence_step(*last_->sequence, *sample.sequence) : 1;
  if (counted && counts > 0 && counts <= longest_loss) step.lost = counts - 1;

  if (sample.ticks && last_->ticks && sample.ticks->unit == last_->ticks->unit) {
    const std::int64_t unit_us = sample.ticks->unit == TickUnit::microseconds ? 1 : 1000;
    const std::uint64_t from = last_->ticks->count, to = sample.ticks->count;
    const std::int64_t wrap_us = static_cast<std::int64_t>(wrap_of_clock) * unit_us;
    step.us = (static_cast<std::int64_t>(to) - static_cast<std::int64_t>(from)) * unit_us;
    const bool may_wrap = from < wrap_of_clock && to < wrap_of_clock;
    // Of the times that a wrapped clock may mean, the one nearest to what passed here.
    if (may_wrap) {
      const double passed = static_cast<double>(elapsed_us(arrived_us) - step.us);
      const auto rounds = static_cast<std::int64_t>(std::llround(passed / static_cast<double>(wrap_us)));
      if (rounds > 0) step.us += rounds * wrap_us;
      if (step.us < -wrap_us / 2) step.us += wrap_us;
    }
    const std::int64_t most = arrived_us ? elapsed_us(arrived_us) + elapsed_us(arrived_us) / 50 + slack_us : slack_us;
    if (step.us <= 0) {
      step.kind = step.us > -slack_us && (!counted || counts <= 0) ? Step::Kind::backwards : Step::Kind::jump;
    } else if (step.us > most) {
      step.kind = Step::Kind::jump;
    }
    return step;
  }

  // No clock: the period at the stated rate, fractions kept.
  const double period_us = 1e6 / rate_->value();
  if (counted && counts <= 0) {
    step.kind =
        counts > -longest_loss && !interrupted_ && *sample.sequence != 0 ? Step::Kind::backwards : Step::Kind::jump;
    return step;
  }
  if (counted && counts > longest_loss) {
    step.kind = Step::Kind::jump;
    return step;
  }
  const double exact = period_us * static_cast<double>(counts) + fraction_us_;
  step.us = std::max<std::int64_t>(1, std::llround(exact));
  if (const std::int64_t passed = elapsed_us(arrived_us); passed > step.us + silence_us && step.lost == 0) {
    step.us = passed;
    step.silent = true;
  }
  return step;
}

void WireClock::accept(const WireSample& sample, std::optional<std::int64_t> arrived_us, const Step& step,
                       std::vector<TimedSample>& out) {
  WireBreak cause = WireBreak::none;
  const bool clocked = sample.ticks && last_->ticks;
  if (!clocked && !step.silent && step.kind == Step::Kind::on) {
    const double counts = static_cast<double>(step.lost + 1);
    fraction_us_ += 1e6 / rate_->value() * counts - static_cast<double>(step.us);
  } else {
    fraction_us_ = 0;
  }
  if (step.silent) {
    cause = WireBreak::silent;
  } else if (step.lost > 0 || (usual_step_us_ > 0 && step.us > 2 * usual_step_us_)) {
    cause = WireBreak::lost;
  } else {
    usual_step_us_ = step.us;
  }
  counts_.lost += static_cast<std::uint64_t>(step.lost);
  time_us_ += step.us;
  out.push_back({time_us_, sample.value, cause});
  last_ = sample;
  last_arrived_us_ = arrived_us;
}

void WireClock::place(const WireSample& sample, std::optional<std::int64_t> arrived_us, std::vector<TimedSample>& out) {
  if (!sample.ticks && !rate_) {
    throw Error{ErrorCode::usage,
                "the sensor sends no clock (t_us or t_ms), so that only a stated sampling rate can place its samples: "
                "give --rate"};
  }
  if (!last_) {
    out.push_back({0, sample.value, WireBreak::none});
    last_ = sample;
    last_arrived_us_ = arrived_us;
    return;
  }
  const bool same_clock = sample.ticks.has_value() == last_->ticks.has_value();
  Step step;
  if (same_clock)
    step = step_to(sample, arrived_us);
  else
    step.kind = Step::Kind::jump;

  if (step.kind == Step::Kind::backwards && !interrupted_) {
    ++counts_.out_of_order;
    return;
  }
  if (step.kind == Step::Kind::on) {
    if (interrupted_ && elapsed_us(arrived_us) == 0) step.us = std::max(step.us, usual_step_us_);
    interrupted_ = false;
    if (suspect_) {
      ++counts_.implausible;
      suspect_.reset();
    }
    accept(sample, arrived_us, step, out);
    return;
  }

  // A jump. One sample alone may be a damaged line; two that belong together are a sensor that
  // began anew.
  const bool confirmed = [&] {
    if (interrupted_) return true;
    if (!suspect_) return false;
    if (sample.ticks && suspect_->ticks && sample.ticks->unit == suspect_->ticks->unit) {
      const std::int64_t unit_us = sample.ticks->unit == TickUnit::microseconds ? 1 : 1000;
      const std::int64_t apart =
          (static_cast<std::int64_t>(sample.ticks->count) - static_cast<std::int64_t>(suspect_->ticks->count)) *
          unit_us;
      return apart > 0 && apart < confirmed_within_us;
    }
    if (!sample.sequence || !suspect_->sequence) return true;
    const std::int64_t counts = sequence_step(*suspect_->sequence, *sample.sequence);
    return counts > 0 && counts < longest_loss;
  }();
  if (!confirmed) {
    if (suspect_) ++counts_.implausible;
    suspect_ = sample;
    suspect_arrived_us_ = arrived_us;
    return;
  }
  const WireSample began = suspect_.value_or(sample);
  const auto came = suspect_ ? suspect_arrived_us_ : arrived_us;
  // Where this machine's clock means nothing, a clock that runs on is believed, and one that began
  // anew goes on at once.
  Step anew;
  anew.us = std::max<std::int64_t>({usual_step_us_, elapsed_us(came), 1});
  if (!came && same_clock && step.us > 0) anew.us = (suspect_ ? step_to(began, came) : step).us;
  time_us_ += anew.us;
  fraction_us_ = 0;
  const bool ran_on = !came && same_clock && step.us > 0;
  if (!ran_on) ++counts_.restarts;
  out.push_back({time_us_, began.value, ran_on ? WireBreak::lost : WireBreak::restarted});
  last_ = began;
  last_arrived_us_ = came;
  const bool had_suspect = suspect_.has_value();
  suspect_.reset();
  interrupted_ = false;
  if (had_suspect) {
    const Step next = step_to(sample, arrived_us);
    if (next.kind == Step::Kind::on) accept(sample, arrived_us, next, out);
  }
}

}  // namespace pulsewright
