// When will she whelp? Evidence in, a distribution over time out.
#pragma once

#include <string>
#include <vector>

#include "measure/time.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::due {

struct Chance {
  double h6, h12, h24, h48;  ///< chance that the first pup is born within so many hours of now, 0..1
};
struct Clue {
  std::string kind;    ///< the entry's kind, "dioestrus"
  std::string says;    ///< in plain words
  Hours pull;          ///< how far this clue alone stands from the answer (negative: earlier)
  double weight;       ///< its share in the answer, 0..1
  reference::Citation source;
};
struct Conflict {
  std::string says;
};
struct Forecast {
  Instant p05, p25, p50, p75, p95;  ///< of the first pup
  Chance chance;
  std::vector<Clue> clues;
  std::vector<Conflict> conflicts;
};

/// Errors as NotAssessed: NO_DATA (nothing dated yet), PAST (she has whelped).
reference::Assessed<Forecast> forecast(const record::Litter& litter, const reference::Reference& reference, Instant now);

/// Due date, overdue, temperature drop and its clock.
std::vector<reference::Finding> findings(const record::Litter& litter, const reference::Reference& reference, Instant now);

}  // namespace lampside::due
