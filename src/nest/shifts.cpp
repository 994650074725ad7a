#include "nest/shifts.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>

namespace lampside::nest {
namespace {

constexpr std::size_t kMost = 4;  ///< groups
constexpr std::int64_t kWaking = 1'000'000;

struct State {
  std::size_t on = 0;
  int run = 0;                    ///< slots the group has been on
  std::array<int, kMost> left{};  ///< slots each waiting group may still wait; 0 for the one that is on
};

class Search {
 public:
  explicit Search(const ShiftTask& task)
      : task_{task}, groups_{task.groups.size()}, slots_{static_cast<int>(task.asleep.size())} {
    for (const auto& g : task.groups) longest_ = std::max(longest_, g.gap);
    tail_ = slots_ - static_cast<int>(groups_) * task.session;
  }

  std::optional<Shifts> best() {
    State first;
    for (std::size_t g = 1; g < groups_; ++g) {
      // Where the day before left off, and no longer than one session of each group before it.
      const int since = static_cast<int>(groups_ - 1 - g) * task_.session;
      first.left[g] = std::min(earned(g, task_.session) - since, static_cast<int>(g) * task_.session);
      if (first.left[g] < 0) return std::nullopt;
    }
    if (tail_ <= 0) return std::nullopt;
    std::vector<std::int64_t> cost(size(), kNever), next(size());
    std::vector<std::vector<std::uint32_t>> came_from;
    cost[index(first)] = 0;
    for (int slot = 0; slot < slots_; ++slot) {
      std::fill(next.begin(), next.end(), kNever);
      came_from.emplace_back(size());
      for (std::size_t i = 0; i < size(); ++i)
        if (cost[i] != kNever) step(slot, i, cost[i], next, came_from.back());
      cost.swap(next);
    }
    const auto end = std::min_element(cost.begin(), cost.end());
    if (*end == kNever) return std::nullopt;
    Shifts out{std::vector<int>(static_cast<std::size_t>(slots_)), static_cast<int>(*end / kWaking)};
    auto at = static_cast<std::size_t>(end - cost.begin());
    for (auto slot = static_cast<std::size_t>(slots_); slot-- > 0; at = came_from[slot][at])
      out.on[slot] = static_cast<int>(at % groups_);
    return out;
  }

 private:
  static constexpr std::int64_t kNever = std::numeric_limits<std::int64_t>::max();

  /// How long a group may stay away after so long a shift.
  [[nodiscard]] int earned(std::size_t group, int run) const {
    const auto& g = task_.groups[group];
    return std::min(g.gap, run / task_.session * g.every - run);
  }

  /// The states are numbered: the group on, its run, then what each of the others has left.
  [[nodiscard]] std::size_t size() const {
    const auto base = static_cast<std::size_t>(longest_) + 1;
    std::size_t n = groups_;
    for (std::size_t g = 0; g < groups_; ++g) n *= base;
    return n;
  }
  [[nodiscard]] std::size_t index(const State& s) const {
    const auto base = static_cast<std::size_t>(longest_) + 1;
    std::size_t i = 0;
    for (std::size_t g = groups_; g-- > 0;)
      if (g != s.on) i = i * base + static_cast<std::size_t>(s.left[g]);
    return (i * base + static_cast<std::size_t>(s.run)) * groups_ + s.on;
  }
  [[nodiscard]] State state(std::size_t i) const {
    const auto base = static_cast<std::size_t>(longest_) + 1;
    State s;
    s.on = i % groups_, i /= groups_;
    s.run = static_cast<int>(i % base), i /= base;
    for (std::size_t g = 0; g < groups_; ++g)
      if (g != s.on) s.left[g] = static_cast<int>(i % base), i /= base;
    return s;
  }

  void step(int slot, std::size_t from, std::int64_t cost, std::vector<std::int64_t>& next,
            std::vector<std::uint32_t>& came_from) const {
    const State before = state(from);
    for (std::size_t g = 0; g < groups_; ++g) {
      if (slot == 0 && g != 0) continue;
      // The last sessions of the day are one of each group, in order, each begun anew.
      if (slot >= tail_ && g != static_cast<std::size_t>((slot - tail_) / task_.session)) continue;
      if (slot == tail_ && g == before.on) continue;
      State after = before;
      std::int64_t price = 0;
      if (g == before.on) {
        ++after.run;
      } else {
        if (before.run < task_.session) continue;
        after.on = g;
        after.left[g] = 0;
        after.left[before.on] = earned(before.on, before.run);
        after.run = 1;
        const std::int64_t off = before.run - task_.preferred;
        price = off * off + (task_.asleep[static_cast<std::size_t>(slot)] ? kWaking : 0);
      }
      bool possible = after.run <= longest_;  // somebody waits as long as it runs
      for (std::size_t other = 0; other < groups_ && possible; ++other)
        if (other != g) possible = --after.left[other] >= 0;
      if (!possible) continue;
      const auto to = index(after);
      if (cost + price < next[to]) next[to] = cost + price, came_from[to] = static_cast<std::uint32_t>(from);
    }
  }

  const ShiftTask& task_;
  std::size_t groups_;
  int slots_, longest_ = 0, tail_ = 0;
};

}  // namespace

std::optional<Shifts> solve(const ShiftTask& task) {
  if (task.groups.size() < 2 || task.groups.size() > kMost || task.session < 1) return std::nullopt;
  return Search{task}.best();
}

}  // namespace lampside::nest
