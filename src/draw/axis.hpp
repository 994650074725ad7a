// Round ticks and labels that do not overlap: the sums behind the charts.
#pragma once

#include <string>
#include <vector>

#include "measure/text.hpp"

namespace lampside::draw {

/// A stretch of values with ticks every `step` from `low` on.
struct Axis {
  double low, high, step;
  [[nodiscard]] std::vector<double> ticks() const;
  /// 0 at `low`, 1 at `high`.
  [[nodiscard]] double share(double value) const { return (value - low) / (high - low); }
};

/// Ends and ticks at 1, 2, 5 x 10^n that hold `low`..`high` with about `wanted` steps.
Axis round_axis(double low, double high, int wanted);

/// The same for a weight, in that unit: ounces step by 1, 2, 4, 8 or 16, so that pounds are round too. Values in grams.
Axis weight_axis(double low_g, double high_g, WeightUnit unit, int wanted);

/// Moves heights apart until each is `gap` from the next, as near to where they were as that allows, inside
/// `top`..`bottom` (when they cannot fit, spread evenly over it). The order of equal heights is kept.
std::vector<double> spread(const std::vector<double>& wanted, double gap, double top, double bottom);

}  // namespace lampside::draw
