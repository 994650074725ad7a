// The part of a litter's record that the forecast may use: what is known by now, and of one season.
#pragma once

#include <optional>
#include <vector>

#include "due/forecast.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::due {

struct Known {
  record::Litter litter;            ///< facts, zone and dated evidence only; nothing later than now
  std::vector<Instant> whelpings;   ///< the dates the dated entries point to, each by itself: how wide the axes must be
  std::optional<Conflict> seasons;  ///< when entries of another season were left out
};

/// Entries that point to surges more than 30 days apart cannot be one pregnancy: the latest group is followed, and
/// told.
Known known_by(const record::Litter& litter, const reference::Reference& reference, Instant now);

}  // namespace lampside::due
