// Simulations shared out over the cores.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <functional>
#include <thread>
#include <vector>

namespace lampside::rehearse {

using Progress = std::function<void(std::size_t done, std::size_t total)>;  ///< called from the calling thread

inline std::size_t workers() { return std::clamp(std::thread::hardware_concurrency(), 1U, 16U); }

/// Calls each(i, worker) once for every i below `count`; `worker` is below workers(). Whatever is drawn must hang on i
/// alone, so that a table does not depend on how many share the work.
template <class Each>
void share_out(std::size_t count, const Each& each, const Progress& progress = {}) {
  std::atomic<std::size_t> done{0};
  const auto share = [&](std::size_t worker, const Progress& tell) {
    for (std::size_t i = worker; i < count; i += workers()) {
      each(i, worker);
      const std::size_t so_far = ++done;
      if (tell) tell(so_far, count);
    }
  };
  std::vector<std::jthread> others;
  for (std::size_t w = 1; w < workers(); ++w) others.emplace_back(share, w, Progress{});
  share(0, progress);
}

}  // namespace lampside::rehearse
