// The milk she can give against what the litter drinks, week by week, each with its spread.
#pragma once

#include <string>
#include <vector>

#include "growth/standing.hpp"
#include "measure/time.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::nest {

/// The factor by which her milk rises from week 1 to week 4 of it. Source: reference/feeding_weeks.toml.
double milk_factor(int week, const reference::Reference& reference);
/// Milk a day in percent of her weight: (n + m/2) L, n the pups to the fourth, m those from the fifth to the eighth.
/// Source: NRC 2006 as quoted. Checked against a German page's 3.3 / 4.3 / 5.5 / 6 % (litters of 5 and 6: 10 %).
/// Trap: beagles were measured at 1.4 times this; giants are overestimated.
Percent milk_pct(int pups, int week, const reference::Reference& reference);
/// What a pup of that weight drinks in a day.
Grams drinks(Grams pup, int week, const reference::Reference& reference);
/// By how much it falls short, in percent of the need; 0 when it does not.
Percent shortage(Grams supply, Grams need);

struct MilkWeek {
  int week;
  CivilDay from, to;
  Grams supply, need;   ///< a day, in the middle of the week (or of what is left of it)
  Percent short_pct;    ///< by the figures as they stand
  Percent short_worst;  ///< with little milk and thirsty pups
  Grams lacking;        ///< need - supply, never negative
  Kilocalories lacking_kcal;
};
struct MilkSupply {
  Kilograms dam;
  int pups;
  std::vector<MilkWeek> weeks;  ///< from this one to the fourth
  /// The first week in which it falls short, or null.
  [[nodiscard]] const MilkWeek* runs_short() const;
};

/// Not assessed: NOT_BORN, NO_DATA (her weight, a pup's weight), STALE, NO_PUPS, NO_REFERENCE (after four weeks).
reference::Assessed<MilkSupply> supply_of_milk(const record::Litter& litter, const reference::Reference& reference,
                                               Instant now, const std::vector<growth::Standing>& standings);

std::vector<reference::Finding> findings(const reference::Assessed<MilkSupply>& supply, const record::Litter& litter,
                                         const reference::Reference& reference);

}  // namespace lampside::nest
