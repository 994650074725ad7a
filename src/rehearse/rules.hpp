// The single rules a forecast is held against: one date, one number of days, one spread.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::rehearse {

/// What one rule says: a normal around a date, cut off at now, for each rule knows too that she has not whelped yet.
struct RuleSays {
  std::string_view rule;
  Instant mean;
  double sd_d;
  /// The middle of what is left after now.
  [[nodiscard]] Instant median(Instant now) const;
  /// ln density per day of what is left after now.
  [[nodiscard]] double log_density(Instant at, Instant now) const;
};

/// Every rule that this record allows at now, in the order of kRules.
std::vector<RuleSays> rules_for(const record::Litter& litter, const reference::Reference& reference, Instant now);

}  // namespace lampside::rehearse
