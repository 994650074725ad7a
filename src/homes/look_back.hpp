// What a litter came to, for the next one: losses, weights, how long she carried, forecast against fact.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "homes/money.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::homes {

struct Loss {
  std::string pup;
  int day;  ///< of its life
  std::string cause;
};
struct Carried {
  record::Anchor from;
  Days days;
};
/// The forecast as it stood so long before the first pup came.
struct Foretold {
  Days before;
  Instant p05, p50, p95;
  Hours late;  ///< the first pup came so much after the middle; negative: before it
  bool within;
};
/// So many weeks old: those weighed within a day of it.
struct WeekOld {
  int week;
  Grams mean;
  int pups;
};
struct LookBack {
  std::string litter, dam;
  std::optional<Instant> first;
  int born = 0, stillborn = 0, born_alive = 0, weaned = 0, living = 0, left = 0;
  bool all_weaned = false;  ///< old enough for `weaned` to be the last word
  std::vector<Loss> losses;
  std::vector<Grams> birth_weights;  ///< by order of birth
  std::optional<Days> doubled;       ///< the middle pup had twice its birth weight
  std::vector<WeekOld> weeks;        ///< weights from the first week to the eighth, where two or more were weighed
  std::optional<Percent> gain;       ///< of the litter from day 2 to day 21, 100 as usual
  std::vector<std::pair<std::string, Cash>> cost;  ///< by currency
  std::vector<Carried> carried;                    ///< from each anchor that is written down
  std::vector<Foretold> foretold;
  /// The fact the next forecast reads, from the best anchor: ovulation, then the LH surge, then the first mating.
  std::optional<record::EarlierLitter> for_the_next;
};

/// As of `now`.
LookBack look_back(const record::Litter& litter, const reference::Reference& reference, Instant now);
/// Whether that litter's fact is written down in this one already.
bool taken_over(const record::Litter& litter, const LookBack& earlier);

}  // namespace lampside::homes
