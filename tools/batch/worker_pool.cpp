#include "worker_pool.hpp"

#include <poll.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <cstring>
#include <optional>
#include <vector>

#include "pulsewright/error.hpp"

namespace pulsewright::program {
namespace {

// It maps terabytes for itself, so that no limit of memory leaves it any.
#ifdef __SANITIZE_ADDRESS__
constexpr bool address_sanitizer = true;
#else
constexpr bool address_sanitizer = false;
#endif

using Clock = std::chrono::steady_clock;

/// Whether all bytes went through; false when the other end has gone.
bool write_all(int file, const void* bytes, std::size_t count) {
  const char* at = static_cast<const char*>(bytes);
  while (count > 0) {
    const ssize_t written = ::write(file, at, count);
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    at += written;
    count -= static_cast<std::size_t>(written);
  }
  return true;
}

bool read_all(int file, void* bytes, std::size_t count) {
  char* at = static_cast<char*>(bytes);
  while (count > 0) {
    const ssize_t got = ::read(file, at, count);
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) return false;
    at += got;
    count -= static_cast<std::size_t>(got);
  }
  return true;
}

/// A child at work, seen from its parent.
struct Worker {
  pid_t process = -1;
  int orders = -1;   ///< a job's number goes in
  int results = -1;  ///< the length of a result and its bytes come out
  std::optional<std::size_t> job;
  Clock::time_point began;
};

/// What a child does until no more orders come.
[[noreturn]] void serve(int orders, int results, const WorkerLimits& limits,
                        const std::function<std::string(std::size_t)>& work) {
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  ::signal(SIGPIPE, SIG_IGN);
  if (limits.memory_mb > 0 && !address_sanitizer) {
    const auto bytes = static_cast<rlim_t>(limits.memory_mb * 1048576.0);
    const rlimit limit{bytes, bytes};
    ::setrlimit(RLIMIT_DATA, &limit);
  }
  std::uint64_t job = 0;
  while (read_all(orders, &job, sizeof job)) {
    const std::string result = work(static_cast<std::size_t>(job));
    const std::uint64_t length = result.size();
    if (!write_all(results, &length, sizeof length) || !write_all(results, result.data(), result.size())) break;
  }
  ::_exit(0);
}

std::string how_it_ended(int status) {
  if (WIFSIGNALED(status)) {
    const int signal = WTERMSIG(status);
    return "the worker was ended by signal " + std::to_string(signal) + " (" + ::strsignal(signal) + ")";
  }
  return "the worker ended with exit code " + std::to_string(WEXITSTATUS(status));
}

class Pool {
 public:
  Pool(std::span<const std::size_t> jobs, const WorkerLimits& limits, const WorkerTasks& tasks)
      : jobs_(jobs), limits_(limits), tasks_(tasks) {}
  Pool(const Pool&) = delete;
  Pool& operator=(const Pool&) = delete;
  ~Pool() {
    for (Worker& worker : workers_) {
      if (worker.process > 0) ::kill(worker.process, SIGKILL);
      end(worker);
    }
  }

  void run() {
    workers_.resize(std::min(std::max<std::size_t>(limits_.workers, 1), jobs_.size()));
    for (Worker& worker : workers_) {
      start(worker);
      order(worker);
    }
    while (std::any_of(workers_.begin(), workers_.end(), [](const Worker& w) { return w.job.has_value(); })) {
      wait_for_results();
      end_late_ones();
    }
  }

 private:
  void start(Worker& worker) {
    int orders[2], results[2];
    if (::pipe(orders) != 0) throw Error(ErrorCode::unwritable, "a worker cannot be started: no pipe");
    if (::pipe(results) != 0) throw Error(ErrorCode::unwritable, "a worker cannot be started: no pipe");
    worker.process = ::fork();
    if (worker.process < 0)
      throw Error(ErrorCode::unwritable, std::string("a worker cannot be started: ") + std::strerror(errno));
    if (worker.process == 0) {
      ::close(orders[1]);
      ::close(results[0]);
      for (const Worker& other : workers_) {  // a sibling whose pipes stayed open here would never see their end
        if (other.orders >= 0) ::close(other.orders);
        if (other.results >= 0) ::close(other.results);
      }
      serve(orders[0], results[1], limits_, tasks_.work);
    }
    ::close(orders[0]);
    ::close(results[1]);
    worker.orders = orders[1];
    worker.results = results[0];
  }

  /// Gives a worker its next job, or sends it home.
  void order(Worker& worker) {
    if (next_ == jobs_.size()) {
      end(worker);
      return;
    }
    worker.job = jobs_[next_++];
    worker.began = Clock::now();
    const std::uint64_t job = *worker.job;
    write_all(worker.orders, &job, sizeof job);  // a worker that is gone shows when its result is waited for
  }

  /// Waits until a result comes, a worker dies, or the next one is late.
  void wait_for_results() {
    std::vector<pollfd> waiting;
    std::vector<Worker*> owners;
    int patience_ms = -1;
    for (Worker& worker : workers_) {
      if (!worker.job) continue;
      waiting.push_back({worker.results, POLLIN, 0});
      owners.push_back(&worker);
      if (limits_.time_s <= 0) continue;
      const double left_ms = std::clamp(1000 * (limits_.time_s - seconds_at_work(worker)), 0.0, 3.6e6);
      patience_ms =
          patience_ms < 0 ? static_cast<int>(left_ms) + 1 : std::min(patience_ms, static_cast<int>(left_ms) + 1);
    }
    if (::poll(waiting.data(), waiting.size(), patience_ms) <= 0) return;
    for (std::size_t i = 0; i < waiting.size(); ++i)
      if (waiting[i].revents != 0) take_result(*owners[i]);
  }

  void take_result(Worker& worker) {
    const std::size_t job = *worker.job;
    std::uint64_t length = 0;
    std::string result;
    bool complete = read_all(worker.results, &length, sizeof length);
    if (complete) {
      result.resize(length);
      complete = read_all(worker.results, result.data(), result.size());
    }
    worker.job.reset();
    if (complete) {
      tasks_.done(job, std::move(result));
      order(worker);
    } else {
      tasks_.lost(job, how_it_ended(end(worker)));
      replace(worker);
    }
  }

  void end_late_ones() {
    if (limits_.time_s <= 0) return;
    for (Worker& worker : workers_) {
      if (!worker.job || seconds_at_work(worker) < limits_.time_s) continue;
      const std::size_t job = *worker.job;
      worker.job.reset();
      ::kill(worker.process, SIGKILL);
      end(worker);
      tasks_.lost(job, "took longer than the " + whole_or_decimal(limits_.time_s) + " s that one record may take");
      replace(worker);
    }
  }

  void replace(Worker& worker) {
    if (next_ == jobs_.size()) return;
    start(worker);
    order(worker);
  }

  static std::string whole_or_decimal(double value) {
    std::string text = std::to_string(value);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
  }

  static double seconds_at_work(const Worker& worker) {
    return std::chrono::duration<double>(Clock::now() - worker.began).count();
  }

  /// Closes its pipes, upon which it ends, and says how it did.
  static int end(Worker& worker) {
    int status = 0;
    if (worker.orders >= 0) ::close(worker.orders);
    if (worker.results >= 0) ::close(worker.results);
    if (worker.process > 0)
      while (::waitpid(worker.process, &status, 0) < 0 && errno == EINTR) {
      }
    worker.orders = worker.results = -1;
    worker.process = -1;
    return status;
  }

  std::span<const std::size_t> jobs_;
  const WorkerLimits& limits_;
  const WorkerTasks& tasks_;
  std::vector<Worker> workers_;
  std::size_t next_ = 0;
};

}  // namespace

void run_in_workers(std::span<const std::size_t> jobs, const WorkerLimits& limits, const WorkerTasks& tasks) {
  if (!jobs.empty()) Pool(jobs, limits, tasks).run();
}

}  // namespace pulsewright::program
