// How many pups to reckon with: a chance for each number, not one number.
#pragma once

#include <string>
#include <vector>

#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::supplies {

struct LitterSize {
  std::vector<double> chance;  ///< chance[n] of n live pups to provide for; sums to 1
  std::string says;            ///< what it is reckoned from
  reference::Citation source;

  /// The smallest number that this share of such litters does not exceed: at(0.95) is the largest in twenty.
  [[nodiscard]] int at(double share) const;
};

/// Before birth: the breed's litters, leaning a little on her own earlier ones; without a breed those alone, else those
/// of all breeds in the table. An X-ray count is a minimum: below it is impossible, above it the breed's chances stand
/// (unless the keeper says it is exact). An ultrasound count leans on it by how often such counts are right. From a day
/// after the last birth: the pups in the box.
LitterSize litter_size(const record::Litter& litter, const reference::Reference& reference, Instant now);

}  // namespace lampside::supplies
