// One day of turns at the teats, in slots: who is with the dam when. Exact: no other day wakes the keeper less often.
#pragma once

#include <optional>
#include <vector>

namespace lampside::nest {

/// All lengths in slots of equal length.
struct ShiftTask {
  struct Group {
    int gap;    ///< the longest it may be off the teats
    int every;  ///< one session is enough for so long, counted from its beginning
  };
  std::vector<Group> groups;  ///< two to four; the smallest pups first
  int session;                ///< a shift lasts at least so long
  int preferred;              ///< by day a shift lasts best so long
  std::vector<bool> asleep;   ///< one a slot of the day: a change at its beginning wakes the keeper
};
struct Shifts {
  std::vector<int> on;  ///< one a slot: the group with the dam
  int wakings;
};

/// The day begins with the first group and ends with one session of each group in order, so that days can follow each
/// other and pups can change groups between two of them: across that border nobody waits longer than twice the
/// sessions of the other groups. A shift of n whole sessions keeps its group for n times `every` from its beginning,
/// and never longer than `gap` from its end. Among days with the fewest wakings the one whose shifts are most nearly
/// of the preferred length. Nothing: there is no such day.
/// Method: dynamic programming over (group on, how long, what each waiting group has left): exact, and small because
/// nobody may wait long. Tested against trying every day there is (tests/nest/turns_test.cpp).
std::optional<Shifts> solve(const ShiftTask& task);

}  // namespace lampside::nest
