// The published lines past which a vet is rung, each counted from one dated clue. Rules: no forecast moves them.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::due {

struct OverdueLine {
  std::string_view code;  ///< of a day rule
  Instant from;           ///< its days are counted from here
  std::string_view what;  ///< what was then, for the reason: "the first mating"
};

/// Every line this record allows. Where one thing has two dates, by the earlier: the stricter reading. Progesterone and
/// scans count where no surge, ovulation or dioestrus is recorded.
std::vector<OverdueLine> overdue_lines(const record::Litter& litter, const reference::Reference& reference);

/// The first moment at which one of them rings the vet.
std::optional<Instant> ring_line(const record::Litter& litter, const reference::Reference& reference);

}  // namespace lampside::due
