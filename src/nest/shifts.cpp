#include "nest/shifts.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>

namespace lampside::nest {
namespace {

constexpr std::size_t kMost = 8;           ///< groups
constexpr std::size_t kMostStates = 1500;  ///< that one slot may be left in
constexpr std::int64_t kWaking = 1'000'000;

/// How many slots each group may still wait, a byte each, so that all are looked at at once; 0 for who is on, and for
/// places without a group.
using Left = std::uint64_t;
constexpr Left kEach = 0x0101010101010101, kTop = 0x80 * kEach;
constexpr int kLongest = 127;  ///< slots: the top bit of each byte is kept free
constexpr Left with(Left all, std::size_t group, int left) {
  return (all & ~(Left{0xff} << (8 * group))) | static_cast<Left>(left) << (8 * group);
}
constexpr bool nowhere_less(Left a, Left b) { return (((a | kTop) - b) & kTop) == kTop; }
static_assert(nowhere_less(0x0503, 0x0503) && nowhere_less(0x0603, 0x0503) && !nowhere_less(0x0603, 0x0504));

struct State {
  Left left = 0;
  std::int64_t cost = 0;
  std::uint32_t from = 0;  ///< its place in the slot before
};
bool no_worse(const State& a, const State& b) { return a.cost <= b.cost && nowhere_less(a.left, b.left); }

class Search {
 public:
  explicit Search(const ShiftTask& task)
      : task_{task}, groups_{task.groups.size()}, slots_{static_cast<int>(task.asleep.size())} {
    for (const auto& g : task.groups) longest_ = std::max(longest_, std::min(g.gap, kLongest));
    tail_ = slots_ - static_cast<int>(groups_) * task.session;
    for (std::size_t g = 0; g < groups_; ++g) everybody_ = with(everybody_, g, 1);
  }

  tl::expected<Shifts, NoShifts> best() {
    State first;
    for (std::size_t g = 1; g < groups_; ++g) {
      // Where the day before left off, and no longer than one session of each group before it.
      const int since = static_cast<int>(groups_ - 1 - g) * task_.session;
      const int left = std::min(earned(g, task_.session) - since, static_cast<int>(g) * task_.session);
      if (left < 0) return tl::unexpected{NoShifts::impossible};
      first.left = with(first.left, g, left);
    }
    if (tail_ <= 0) return tl::unexpected{NoShifts::impossible};
    std::vector<Slot> days{Slot{{first}, {0}, {0}}};
    for (int slot = 0; slot < slots_; ++slot) {
      fronts_.assign(groups_ * static_cast<std::size_t>(longest_ + 1), {});
      states_ = 0;
      const Slot& before = days.back();
      for (std::size_t i = 0; i < before.states.size(); ++i) step(slot, before, i);
      if (states_ == 0) return tl::unexpected{NoShifts::impossible};
      if (states_ > kMostStates) return tl::unexpected{NoShifts::too_many};
      Slot& now = days.emplace_back();
      for (std::size_t f = 0; f < fronts_.size(); ++f)
        for (const State& state : fronts_[f]) {
          now.states.push_back(state);
          now.on.push_back(static_cast<std::uint8_t>(f % groups_));
          now.run.push_back(static_cast<std::uint8_t>(f / groups_));
        }
    }
    const auto& last = days.back().states;
    const auto end =
        std::min_element(last.begin(), last.end(), [](const State& a, const State& b) { return a.cost < b.cost; });
    Shifts out{std::vector<int>(static_cast<std::size_t>(slots_)), static_cast<int>(end->cost / kWaking)};
    auto at = static_cast<std::size_t>(end - last.begin());
    for (std::size_t slot = out.on.size(); slot > 0; at = days[slot--].states[at].from)
      out.on[slot - 1] = days[slot].on[at];
    return out;
  }

 private:
  struct Slot {
    std::vector<State> states;
    std::vector<std::uint8_t> on, run;  ///< of each state: the group with the dam, and for how many slots
  };

  /// How long a group may stay away after so long a shift.
  [[nodiscard]] int earned(std::size_t group, int run) const {
    const auto& g = task_.groups[group];
    return std::min({g.gap, kLongest, run / task_.session * g.every - run});
  }

  void step(int slot, const Slot& before, std::size_t i) {
    const State& state = before.states[i];
    const std::size_t on = before.on[i];
    const int run = before.run[i];
    for (std::size_t g = 0; g < groups_; ++g) {
      if (slot == 0 && g != 0) continue;
      // The last sessions of the day are one of each group, in order, each begun anew.
      if (slot >= tail_ && g != static_cast<std::size_t>((slot - tail_) / task_.session)) continue;
      if (slot == tail_ && g == on) continue;
      if (g != on && run < task_.session) continue;
      State after = state;
      after.from = static_cast<std::uint32_t>(i);
      if (g != on) {
        const int waits = earned(on, run);
        if (waits <= 0) continue;
        const std::int64_t off = run - task_.preferred;
        after.cost += off * off + (task_.asleep[static_cast<std::size_t>(slot)] ? kWaking : 0);
        after.left = with(with(after.left, g, 0), on, waits);
      }
      const int now_on = g == on ? run + 1 : 1;
      if (now_on > longest_) continue;  // somebody waits as long as it runs
      const Left one_each = with(everybody_, g, 0);
      if (!nowhere_less(after.left, one_each)) continue;
      after.left -= one_each;
      keep(after, static_cast<std::size_t>(now_on) * groups_ + g);
    }
  }

  /// Of two states with the same group on for as long, the one that is cheaper and lets everybody wait longer is all
  /// that is needed: whatever can follow the other can follow it.
  void keep(const State& state, std::size_t place) {
    auto& front = fronts_[place];
    if (std::any_of(front.begin(), front.end(), [&](const State& other) { return no_worse(other, state); })) return;
    states_ += 1 - std::erase_if(front, [&](const State& other) { return no_worse(state, other); });
    front.push_back(state);
  }

  const ShiftTask& task_;
  std::size_t groups_;
  int slots_, longest_ = 0, tail_ = 0;
  Left everybody_ = 0;                      ///< a slot for each group
  std::vector<std::vector<State>> fronts_;  ///< of the slot being reached, by how long who is on
  std::size_t states_ = 0;
};

}  // namespace

tl::expected<Shifts, NoShifts> solve(const ShiftTask& task) {
  if (task.groups.size() < 2 || task.session < 1) return tl::unexpected{NoShifts::impossible};
  if (task.groups.size() > kMost) return tl::unexpected{NoShifts::too_many};
  return Search{task}.best();
}

}  // namespace lampside::nest
