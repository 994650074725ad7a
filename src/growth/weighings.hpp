// The readings of one pup as the rules may use them: those that cannot be right set apart, none dropped.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "growth/standing.hpp"

namespace lampside::growth {

struct Weighing {
  const record::Noted<record::Weight>* reading;  ///< points into the litter
  bool in_doubt;  ///< heavier than the best growth ever published allows: likely the tub, or another pup
};

/// Readings up to `now` by time. A jump up beyond the published best growth (Alves 2020) by more than WEIGHT_JUMP's
/// limit is in doubt, unless the keeper said that it is right; a fall never is, since a pup can really lose.
std::vector<Weighing> weighings(const record::Litter& litter, const record::Pup& pup,
                                const reference::Reference& reference, Instant now);

/// The readings of which the keeper said that they are right, sorted. They point into the litter.
std::vector<std::string_view> readings_said_right(const record::Litter& litter);
bool said_right(const std::vector<std::string_view>& those, const record::EntryId& reading);

/// Weight ratio between two ages in days by the best growth published.
/// Source: Alves 2020, Vet Med Sci, doi 10.1002/vms3.322: P = P0 exp(0.13084 x - 0.001616 x^2), day 0-21.
double best_growth(double from_day, double to_day);

/// The last trusted reading at least that long before a moment, or nothing.
const record::Noted<record::Weight>* before(const std::vector<Weighing>& all, Instant than, Span at_least);

std::optional<record::Noted<record::Weight>> birth_weight(const record::Pup& pup);

/// The smallest step the keeper's scale shows: as set, else 1 g, or 1/8 oz when ounces are read.
Grams scale_step(const record::Litter& litter);

}  // namespace lampside::growth
