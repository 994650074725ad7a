// One day of turns at the teats, in slots: who is with the dam when. Exact: no other day wakes the keeper less often.
#pragma once

#include <tl/expected.hpp>

#include <vector>

namespace lampside::nest {

/// All lengths in slots of equal length.
struct ShiftTask {
  struct Group {
    int gap;    ///< the longest it may be off the teats
    int every;  ///< one session is enough for so long, counted from its beginning
  };
  std::vector<Group> groups;  ///< two to eight; the smallest pups first
  int session;                ///< a shift lasts at least so long
  int preferred;              ///< by day a shift lasts best so long
  std::vector<bool> asleep;   ///< one a slot of the day: a change at its beginning wakes the keeper
};
struct Shifts {
  std::vector<int> on;  ///< one a slot: the group with the dam
  int wakings;
};

enum class NoShifts {
  impossible,  ///< there is no such day
  too_many,    ///< too many days to go through: whether one is lawful is not known
};

/// The day begins with the first group and ends with one session of each group in order, so that days can follow each
/// other and pups can change groups between two of them: across that border nobody waits longer than twice the
/// sessions of the other groups. A shift of n whole sessions keeps its group for n times `every` from its beginning,
/// and never longer than `gap` from its end. Among days with the fewest wakings the one whose shifts are most nearly
/// of the preferred length.
/// Method: dynamic programming over (group on, how long, what each waiting group has left), of which only those are
/// kept that no other beats in every respect: exact. Few groups have few such states; where one slot has more than 1500
/// it gives up. Tested against trying every day there is (tests/nest/turns_test.cpp).
tl::expected<Shifts, NoShifts> solve(const ShiftTask& task);

}  // namespace lampside::nest
