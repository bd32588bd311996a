/// Jobs worked on in child processes, so that one that hangs, eats the memory or crashes costs its own row and nothing else.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <string>

namespace pulsewright::program {

/// What each job may take. Zero: as much as it likes.
struct WorkerLimits {
  std::size_t workers = 1;
  double time_s = 0;
  double memory_mb = 0;  ///< of private memory of a worker; files mapped for reading do not count
};

/// What is done in and about the workers.
struct WorkerTasks {
  std::function<std::string(std::size_t job)> work;  ///< in a child; its result goes to `done` as it is
  std::function<void(std::size_t job, std::string result)> done;
  std::function<void(std::size_t job, const std::string& why)> lost;  ///< the worker ended without a result
};

/// Runs the jobs, each in one of `limits.workers` children; `done` or `lost` is called once for each, here, in the order in which they end.
/// Children end with their parent, whatever ends it. To be called while the process has one thread.
/// Throws Error{unwritable} when no child can be started.
void run_in_workers(std::span<const std::size_t> jobs, const WorkerLimits& limits, const WorkerTasks& tasks);

}  // namespace pulsewright::program
