/// The connections that a server works on, and those that wait: never more than it can bear.
#pragma once

#include <httplib.h>

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace pulsewright::program {

/// Threads that take connections in turn. Where too many wait, no further one is accepted until one
/// is done, so that the system holds or refuses them.
class BoundedQueue final : public httplib::TaskQueue {
 public:
  BoundedQueue(std::size_t threads, std::size_t most_waiting) : most_waiting_(most_waiting) {
    for (std::size_t i = 0; i < threads; ++i) threads_.emplace_back([this] { work(); });
  }

  void enqueue(std::function<void()> task) override {
    std::unique_lock lock{mutex_};
    taken_.wait(lock, [this] { return stop_ || tasks_.size() < most_waiting_; });
    tasks_.push_back(std::move(task));
    came_.notify_one();
  }

  void shutdown() override {
    {
      const std::lock_guard lock{mutex_};
      stop_ = true;
    }
    came_.notify_all();
    taken_.notify_all();
    for (std::thread& thread : threads_) thread.join();
  }

 private:
  void work() {
    while (true) {
      std::function<void()> task;
      {
        std::unique_lock lock{mutex_};
        came_.wait(lock, [this] { return stop_ || !tasks_.empty(); });
        if (tasks_.empty()) return;
        task = std::move(tasks_.front());
        tasks_.pop_front();
      }
      taken_.notify_one();
      task();
    }
  }

  std::size_t most_waiting_;
  std::mutex mutex_;
  std::condition_variable came_, taken_;
  std::deque<std::function<void()>> tasks_;
  bool stop_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace pulsewright::program
