// The nest: warmth of the box, and whether a pup is warm enough to be fed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/time.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::nest {

struct BoxTarget {
  Celsius low, high;
  reference::Citation source;
  std::string_view line{};   ///< of reference/box_temperatures.toml
  std::string_view asked{};  ///< the line the keeper chose; at ages it says nothing of, another one is followed
};
/// The box by every source that speaks of that age, the one followed by default first; laws only where they hold.
std::vector<const reference::BoxTemperature*> box_rows(const record::Litter& litter,
                                                       const reference::Reference& reference, double age_d);
struct NestState {
  reference::Assessed<BoxTarget> target = reference::NotAssessed{"NO_DATA", "no pup is born yet"};
  reference::Assessed<record::Noted<record::Air>> under_lamp =
      reference::NotAssessed{"NO_DATA", "no reading under the lamp yet"};
  std::optional<record::Noted<record::Air>> basket;  ///< where pups wait between births; the last, for two hours
};

/// A pup's own temperature says nothing of it any more after this long.
inline constexpr Span kPupReadingLasts = std::chrono::hours{6};

/// Under which a pup of that age is too cold to be fed; null from day 30 on.
const reference::TemperatureRule* cold_limit(const reference::Reference& reference, double age_d);

NestState state(const record::Litter& litter, const reference::Reference& reference, Instant now);

/// Box too cold or too hot, pup too cold to feed, pup too hot, reading too old.
std::vector<reference::Finding> findings(const record::Litter& litter, const reference::Reference& reference,
                                         Instant now);

}  // namespace lampside::nest
