// When will she whelp? Evidence in, a distribution over time out.
#pragma once

#include <optional>
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
  std::string kind;  ///< the entry's kind, "dioestrus"; progesterone before whelping is "progesterone_fall"
  std::string says;  ///< in plain words
  Hours pull;        ///< how far this clue moves the median (negative: earlier), by leaving it out
  double weight;     ///< how much of the spread it takes away, by leaving it out: 0 nothing, 1 all
  double odd;        ///< chance that it is a gross error, 0 where that is not asked
  reference::Citation source;
};
/// What moves the usual 65 days for this dam and litter, told with its source.
struct Adjustment {
  std::string says;
  Days shift;  ///< later; negative: earlier
  reference::Citation source;
};
struct Conflict {
  std::string says;
  std::string culprit;  ///< the kind of the likeliest slip
};

/// The distribution of the first pup's birth, hour by hour.
struct Forecast {
  Instant p05, p25, p50, p75, p95;
  Chance chance;
  std::vector<Clue> clues;
  std::vector<Conflict> conflicts;
  std::vector<Adjustment> adjustments;
  Instant opens;      ///< the earliest one in twenty by her dates alone: thermometer, signs and waiting do not move it
  Instant home_from;  ///< from then on somebody should be at home: 18 hours before p05
  Instant box_by;     ///< the whelping box should stand
  Instant ring_by;    ///< if nothing has happened: p95, or the published line of a dated clue where that comes first
  Instant from;       ///< the first hour of `density`
  std::vector<double> density;          ///< chance of each hour [from + i - 30 min, from + i + 30 min); sums to 1
  std::optional<Instant> next_reading;  ///< when, in the next 24 hours, a thermometer reading tells most
  double log_evidence = 0;              ///< of all clues together, for checks

  [[nodiscard]] Instant quantile(double p) const;
  /// Chance that the first pup comes in [a, b).
  [[nodiscard]] double between(Instant a, Instant b) const;
};

/// All dated evidence weighed by Bayes' rule (src/due/model.hpp says how): a chain from the LH surge over dioestrus to
/// whelping on an hourly grid, each clue a likelihood, gross errors allowed for, and the fact that she has not whelped
/// yet. Errors as NotAssessed: NO_DATA (nothing that dates anything yet), PAST (she has whelped), NO_REFERENCE (later
/// than any published figure reaches).
reference::Assessed<Forecast> forecast(const record::Litter& litter, const reference::Reference& reference,
                                       Instant now);

/// When her temperature first fell to the limit, while that fall stands: not back to normal, and no pup born since.
std::optional<Instant> temperature_dropped(const record::Litter& litter, const reference::Reference& reference,
                                           Instant now, const reference::Assessed<Forecast>& forecast);

/// Due date, overdue, temperature drop and its clock.
std::vector<reference::Finding> findings(const record::Litter& litter, const reference::Reference& reference,
                                         Instant now, const reference::Assessed<Forecast>& forecast);

}  // namespace lampside::due
