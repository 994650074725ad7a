// How fast a pup gains: what is usual, what it needs, how far pups stray from it.
#pragma once

#include <vector>

#include "growth/kalman.hpp"
#include "measure/quantity.hpp"
#include "reference/tables.hpp"

namespace lampside::growth {

/// The model's numbers, read by name from reference/parameters.toml, where each has its source.
struct PaceModel {
  struct Knot {
    double day, expected, need;  ///< change of log weight per day
  };
  std::vector<Knot> knots;
  LitterModel wander{};   ///< wide: a pup may stray fast. For paces.
  LitterModel healthy{};  ///< narrow: pups that thrive. For judging readings; a real break is told apart there.
  double young_level = 0, level = 0;       ///< variance of chance steps per day, up to day 2 and after
  double own_noise = 0, common_noise = 0;  ///< variances of a reading's log
  double slip = 0, real_change = 0, ask_at = 0;
  double watch_from = 0, act_from = 0;  ///< chances of being slow
  /// Against the usual, from the keeper's earlier litters. What a pup needs does not change with it: a house where pups
  /// gain badly must not take that for right.
  double house = 1;

  explicit PaceModel(const reference::Reference& reference, double house = 1);
  [[nodiscard]] double expected(Days age) const;
  [[nodiscard]] double need(Days age) const;
  [[nodiscard]] double expected_change(Days from, Days to) const;
};

/// Chance that a normal value lies below a limit.
double normal_below(double limit, double mean, double sd);

}  // namespace lampside::growth
