// The pieces of the whelping-date model: one time axis in whole hours, and clues as likelihoods over one of three
// events.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/litter.hpp"
#include "reference/rules.hpp"
#include "reference/tables.hpp"

namespace lampside::due {

/// Hours on a line: cell i stands for start + i hours.
struct Axis {
  Instant start;
  std::size_t cells = 0;
  [[nodiscard]] Instant at(std::size_t i) const { return start + std::chrono::hours{static_cast<long>(i)}; }
  /// Days from `t` to cell i (negative before it).
  [[nodiscard]] double days_after(Instant t, std::size_t i) const { return reference::days_between(t, at(i)); }
};

/// The three events of the chain, each on its own axis.
enum class Event { lh_surge, dioestrus, whelping };

/// One clue: for every hour of its event, the log-likelihood of what was recorded if the event fell there.
/// `good` is the clue as it should be, `odd` the same if it is a gross error (flat or wide); a clue that cannot be
/// gross has an empty `odd`. Both are densities of the same data, so that they can be mixed and compared.
struct ClueTerm {
  std::string kind;
  std::string says;
  std::string slip;  ///< what to check when it does not fit
  reference::Citation source;
  Event event;
  std::vector<double> good, odd;
};

struct Axes {
  Axis lh, dioestrus, whelping;
  [[nodiscard]] const Axis& of(Event e) const {
    return e == Event::lh_surge ? lh : e == Event::dioestrus ? dioestrus : whelping;
  }
};

/// What the clues are read with.
struct Reading {
  const record::Litter& litter;
  const reference::Reference& reference;
  Instant now;
  const Axes& axes;
};

/// log density of a normal.
double log_normal(double x, double sd);
/// log(exp(a) + exp(b)), safe for -inf.
double log_add(double a, double b);

/// log density of how far a wrong date goes astray: Student's t with 3 degrees of freedom, so that a date from another
/// year pulls at nothing.
double log_astray(double off_d, double scale_d);
/// Two words alike but for the case of their letters.
bool same_word(std::string_view a, std::string_view b);
/// The dam's weight as recorded, else the adult weight expected of the pups.
std::optional<double> dam_kg(const record::Litter& litter);

/// What was judged to a day stands for that whole day, whatever hour was written beside it: its noon. The published
/// spreads of such dates count whole days, so the day's own width is in them.
Instant middle_of_its_day(const record::Litter& litter, Instant judged);
/// The spread of a whole day, in days: one that is only known to the day.
inline constexpr double kWholeDaySd = 0.2887;

/// A date that stands `mean_d` after its event with that spread, and may be a gross error.
ClueTerm dated_clue(const Reading& r, Event event, Instant seen, double mean_d, double sd_d);

// Each in a file of its own, with its source.
void mating_clue(const Reading& r, std::vector<ClueTerm>& out);  // mating.cpp
void cycle_clues(const Reading& r, std::vector<ClueTerm>& out);  // cycle.cpp: LH surge, ovulation, dioestrus
void progesterone_clues(const Reading& r,
                        std::vector<ClueTerm>& out);              // progesterone.cpp: around ovulation, before whelping
void foetus_clues(const Reading& r, std::vector<ClueTerm>& out);  // foetus.cpp: foetal measures, X-ray
void temperature_clue(const Reading& r, std::vector<ClueTerm>& out);  // temperature.cpp
void sign_clue(const Reading& r, std::vector<ClueTerm>& out);         // signs.cpp

/// How much of the temperature drop shows 0, 1, ... hours before whelping (0 none, 1 the lowest).
std::vector<double> drop_course(const reference::Reference& reference, int to_hour);
/// The pups counted: the last X-ray, else the last scan; nothing without a count.
std::optional<int> pups_counted(const record::Litter& litter);
/// Readings around ovulation and readings before whelping are told apart by the first anchor: a mating, surge,
/// ovulation or dioestrus. Without one, a series that begins under 2 ng/ml or rises is taken as one around ovulation.
bool around_ovulation(const record::Litter& litter, Instant reading);
/// Days from the surge to where the mean course passes this value.
Days days_after_surge(const reference::Reference& reference, NgPerMl reading);
/// Does a reading around ovulation with this value date the surge?
bool dates_the_surge(const reference::Reference& reference, NgPerMl reading);
/// The row followed for a foetal measure: the breed's own, else the dam's weight class, else nothing.
const reference::Foetometry* foetometry_row(const reference::Reference& reference, const record::Litter& litter,
                                            std::string_view measure);
/// Days from the scan to whelping by that row, and its spread.
struct ScanSays {
  double to_go_d, sd_d;
};
ScanSays read_scan(const reference::Foetometry& row, Millimetres mm);

}  // namespace lampside::due
