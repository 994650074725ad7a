// How much of a product for a dog of that weight, by the product's own label. Down to a mark, never up.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "care/label.hpp"
#include "growth/standing.hpp"
#include "reference/finding.hpp"

namespace lampside::care {

using reference::Assessed;
using reference::NotAssessed;

struct Dosage {
  Kilograms dog;
  Portion exact;               ///< what the label calls for
  Portion give;                ///< rounded down to a mark that can be measured
  std::vector<MgPerKg> gives;  ///< of each active, by what is given
  /// The label says "at least" and `give` falls short of it: the next mark up, for the keeper and the vet to choose
  /// from.
  std::optional<Portion> above;
  std::vector<MgPerKg> above_gives;
};

/// Not assessed: UNDER_WEIGHT (below the label's least), BAND_GAP (no line of the label holds this weight: ask your
/// vet, never interpolated), OVER_MOST (more than the label allows at once), TOO_SMALL (less than one mark),
/// CANNOT_CUT. Rounding down is ours: no source gives a rule for syringes (docs/decisions/0013-round-down.md). Tested:
/// tests/care/dose_published_test.cpp, tests/care/dose_property_test.cpp.
Assessed<Dosage> dosage(const Label& label, Kilograms dog);

/// The published way an old weight misleads, in percent of the dose needed now, at the slow and the fast usual gain:
/// three days make 9.8 to 16.0. Source: Small Animal Clinical Nutrition, 5th ed., Table 16-1 (weeks 2-4), compounded.
struct TooLittle {
  Percent least, most;
};
TooLittle too_little(Span age_of_weight, const reference::Reference& reference);

/// What a dog will weigh at a treatment to come: likely, and at the heavy end (95 of 100 weigh less).
struct WeightThen {
  Kilograms likely, heavy;
};
/// From the pup's own pace: its forecast for a week, then straight on, by no less than the usual daily gain for the
/// weight of a grown dog of its kind when that is known. Trap: weeks ahead it is a figure to buy by, not to dose by.
/// Source: Dog Owner's Home Veterinary Handbook, 4th ed.: 1-1.5 g a day for each pound of adult weight (2.2-3.3 g/kg).
/// Not assessed as its pace.
Assessed<WeightThen> weight_then(const growth::Standing& standing, Instant when, std::optional<Kilograms> adult,
                                 const reference::Reference& reference);

/// What to have in the house for treatments at these weights (one row a dog, one weight a treatment), each on the
/// label's days in a row. A weight between two lines of the label counts as the line above: buying is not dosing.
struct Need {
  int doses = 0;
  Portion likely, heavy;  ///< `heavy`: every dog at its heavy end at once
};
Need to_buy(const Label& label, std::span<const std::vector<WeightThen>> dogs);

/// Days from the first to the last, both counted: day 40 to day 65 of a pregnancy are 26 daily doses.
int daily_doses(CivilDay first, CivilDay last);

}  // namespace lampside::care
