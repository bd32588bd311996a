#include "input_thread.hpp"

#include <poll.h>

#include <chrono>
#include <utility>

namespace pulsewright::program {
namespace {

/// How long the thread waits for bytes at most; also how often sources without a descriptor are
/// asked.
constexpr int tick_ms = 20;
/// How often a source that went away is looked for.
constexpr std::int64_t retry_us = 250'000;
/// More than this is not kept waiting: then the thread waits for the rest of the program, and the
/// system's buffers fill.
constexpr std::size_t most_waiting = std::size_t{8} << 20;

std::int64_t steady_us() {
  return std::chrono::duration_cast<std::chrono::microseconds>(std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

}  // namespace

InputThread::InputThread(std::vector<std::unique_ptr<LiveSource>> sources)
    : sources_(std::move(sources)), began_us_(steady_us()), thread_([this] { work(); }) {}

InputThread::~InputThread() {
  {
    const std::lock_guard lock{mutex_};
    stop_ = true;
  }
  taken_.notify_all();
  thread_.join();
}

std::int64_t InputThread::now_us() const { return steady_us() - began_us_; }

std::vector<Arrival> InputThread::take(int patience_ms) {
  std::unique_lock lock{mutex_};
  arrived_.wait_for(lock, std::chrono::milliseconds{patience_ms}, [this] { return !waiting_.empty(); });
  waiting_bytes_ = 0;
  taken_.notify_all();
  return std::exchange(waiting_, {});
}

void InputThread::hand_over(std::vector<Arrival> fresh) {
  if (fresh.empty()) return;
  std::unique_lock lock{mutex_};
  taken_.wait(lock, [this] { return stop_ || waiting_bytes_ < most_waiting; });
  for (Arrival& arrival : fresh) {
    waiting_bytes_ += arrival.bytes.size() + sizeof(float) * arrival.samples.size();
    waiting_.push_back(std::move(arrival));
  }
  arrived_.notify_all();
}

void InputThread::work() {
  struct Watch {
    bool over = false, away = false;
    std::int64_t tried_us = 0;
  };
  std::vector<Watch> watches(sources_.size());
  std::vector<pollfd> polled;
  bool any_now = false;
  while (true) {
    {
      const std::lock_guard lock{mutex_};
      if (stop_) return;
    }
    polled.clear();
    for (std::size_t i = 0; i < sources_.size(); ++i) {
      const int descriptor = watches[i].over || watches[i].away ? -1 : sources_[i]->descriptor();
      if (descriptor >= 0) polled.push_back({descriptor, POLLIN, 0});
    }
    // A pipe without a writer is ready at once and has nothing: without a pause the thread would
    // spin.
    const int ready = ::poll(polled.data(), polled.size(), any_now ? 0 : tick_ms);
    if (ready > 0 && !any_now) std::this_thread::sleep_for(std::chrono::milliseconds{2});
    any_now = false;
    std::vector<Arrival> fresh;
    for (std::size_t i = 0; i < sources_.size(); ++i) {
      Watch& watch = watches[i];
      if (watch.over) continue;
      Arrival arrival;
      arrival.source = i;
      arrival.at_us = now_us();
      if (watch.away) {
        if (arrival.at_us - watch.tried_us < retry_us) continue;
        watch.tried_us = arrival.at_us;
        if (!sources_[i]->reopen()) continue;
        watch.away = false;
        arrival.kind = Arrival::Kind::back;
        fresh.push_back(std::move(arrival));
        continue;
      }
      switch (sources_[i]->read(arrival.bytes, arrival.samples)) {
        case SourceState::nothing: continue;
        case SourceState::data: any_now = true; break;
        case SourceState::ended:
          watch.over = true;
          arrival.kind = Arrival::Kind::ended;
          arrival.bytes = sources_[i]->trouble;
          break;
        case SourceState::away:
          watch.away = true;
          watch.tried_us = arrival.at_us;
          arrival.kind = Arrival::Kind::away;
          arrival.bytes = sources_[i]->trouble;
          break;
      }
      fresh.push_back(std::move(arrival));
    }
    hand_over(std::move(fresh));
  }
}

}  // namespace pulsewright::program
