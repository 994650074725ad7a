// Every rule at its limit, just below and just above it. The limit comes from the table by code and level, so that a
// changed row moves the test; level and side are stated in the case, so that a change of either fails it.
#pragma once

#include <functional>
#include <ostream>
#include <string>
#include <vector>

#include "story.hpp"

namespace lampside::testing {

struct LimitCase {
  std::string code;
  reference::Level level;
  reference::Side side;
  double step;                                         ///< how far "just" is, in the unit of the limit
  std::function<advice::Assessment(double value)> at;  ///< the story with the measured thing at `value`
};

inline void PrintTo(const LimitCase& c, std::ostream* out) { *out << c.code << " at " << name_of(c.level); }

/// Cases add themselves at start: `const Cases here{{...}, {...}};`
std::vector<LimitCase>& all_cases();
struct Cases {
  Cases(std::initializer_list<LimitCase> cases) { all_cases().insert(all_cases().end(), cases); }
};

inline constexpr auto kAtOrAbove = reference::Side::at_or_above;
inline constexpr auto kAbove = reference::Side::above;
inline constexpr auto kAtOrBelow = reference::Side::at_or_below;
inline constexpr auto kBelow = reference::Side::below;
inline constexpr double kOneMs = 1.0 / 60'000;  ///< in minutes
/// In minutes, for what is told as soon as it is noted: a phone's clock may run two minutes fast.
inline constexpr double kPastGrace = 2 + kOneMs;
inline constexpr double kOneMinute = 1.0 / 1440;  ///< in days
inline constexpr double kHundredth = 0.01;

}  // namespace lampside::testing
