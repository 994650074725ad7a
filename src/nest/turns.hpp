// Too many pups, too few teats: groups that take turns with the dam, and when they change.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measure/time.hpp"
#include "nest/shifts.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::nest {

/// What a pup of that age needs of the turns.
struct TurnLimits {
  Minutes gap;   ///< the longest it may be off the teats
  int sessions;  ///< a day, at least
  const reference::Parameter *gap_row, *sessions_row;
};
/// Nothing after four weeks: no source says how long then. Source: reference/turns.toml.
std::optional<TurnLimits> turn_limits(double age_d, bool small, const reference::Reference& reference);

struct TurnGroup {
  std::vector<std::string> pups;  ///< the smallest first: it is set to a teat first
  Minutes gap;                    ///< as its strictest pup asks; those in two groups count in the first
  int sessions;
};
struct TurnShift {
  Instant from, to;
  std::size_t group;
  std::vector<std::string> pups;  ///< of that day's group, the smallest first
  bool wakes;                     ///< the change at its beginning lies in the hours the keeper would sleep
};
struct TurnPlan {
  std::vector<TurnGroup> groups;
  std::vector<std::string> small;   ///< held to stricter limits
  std::vector<std::string> always;  ///< in every group: they stay with her
  std::vector<TurnShift> shifts;    ///< from the one under way to 24 hours from now
  int wakings = 0;                  ///< among those still to come
  bool regrouped_daily = true;      ///< by the weights of each day; else as they were when turns began
  bool in_rounds = false;           ///< all in order with equal shifts: lawful, but fewer wakings may be possible
};

struct Turns {
  bool on = false;
  int pups = 0;  ///< in the box and not fed only by hand
  std::optional<int> teats;
  Minutes session{0};
  int night_from_h = 0, night_to_h = 0;
  /// Not assessed: OFF, NO_TEATS, ENOUGH (a teat for each), NO_REFERENCE (over four weeks), and, naming what binds,
  /// TURNS_GROUPS, TURNS_GAP, TURNS_SESSIONS.
  reference::Assessed<TurnPlan> plan = reference::NotAssessed{"OFF", "no turns are taken"};
  std::string would_do;  ///< when it cannot be done: what would
};

/// Places nobody needs go to the smallest, who then come on with two groups. A day begins in the middle of the
/// keeper's waking hours; each is solved by itself (shifts.hpp), also one of 23 or 25 hours. Slots are quarter
/// hours; half hours for three groups and more whose sessions fit them, or where quarters leave too many days to go
/// through. Where no day of slots is found all come on in rounds with equal shifts, if that is lawful; that a limit
/// forbids every order is said only where all were gone through.
/// Tested: tests/nest/turns_test.cpp (gaps over weeks, by pup, with pups
/// changing groups).
Turns turns(const record::Litter& litter, const reference::Reference& reference, Instant now);

/// More pups than teats and no turns; turns that cannot be taken.
std::vector<reference::Finding> findings(const Turns& turns, const record::Litter& litter,
                                         const reference::Reference& reference, Instant now);

}  // namespace lampside::nest
