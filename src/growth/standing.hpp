// Weights: where each pup stands.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "measure/time.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::growth {

enum class BirthClass { normal, low, very_low };
std::string_view name_of(BirthClass c);  ///< "normal", "low", "very_low"

/// Last two weighings compared. Spreads come from the scale's resolution alone (d / sqrt(12) a reading).
struct Gain {
  Instant from, to;
  Grams difference;
  Grams sd;
  double g_per_day;
  Percent per_day;
};

/// What the litter's model believes of one pup. Source: docs/weights.md.
struct Pace {
  Grams weight, weight_sd;  ///< now, seen through the noise of weighing
  Percent per_day, per_day_sd;
  double g_per_day;
  double chance_slow;        ///< that the true pace is below what its age needs
  Instant as_of;             ///< the last round taken in
  std::vector<Grams> ahead;  ///< the weights foreseen 1, 2, ... 7 days after it
};

/// A pup's weight at one round of weighing, as all readings before and after say it was.
struct CurvePoint {
  Instant at;
  Grams weight, sd;
  std::optional<double> g_per_day;  ///< since the point before
};

/// When a pup weighs, or is foreseen to weigh, twice its birth weight.
struct Doubling {
  Instant at;
  bool foreseen;
};
/// Among the pups in the box by their weight behind the readings: 1 is the heaviest.
struct Place {
  int place, of;
};

/// Readings of one round that are likelier a slip than true. The keeper decides; the entries stay as they are.
struct Doubt {
  std::vector<record::EntryId> entries;
  std::vector<std::string> labels;
  std::string_view likelier;                   ///< "tub_left_on", "zero_error", "swapped", ...
  double factor;                               ///< so many times likelier than as written, at most 1e9
  std::vector<std::optional<Grams>> would_be;  ///< one an entry; none: weigh again
  Instant at;
  std::vector<std::string> open;  ///< those of the pups that were not weighed since: their last weight is in doubt
  bool asked;  ///< the keeper is asked: some are open, or only the round after it brought it to light
  [[nodiscard]] bool open_for(std::string_view label) const;
};

/// The one plain question a doubt comes down to, without figures: "Was the tub left on the scale?"
std::string question(const Doubt& doubt);

struct Standing {
  std::string label;
  std::string collar;
  bool in_box = true;
  reference::Assessed<record::Noted<record::Weight>> weight;  ///< the last one
  Grams weight_sd{0};
  reference::Assessed<Gain> gain;  ///< since the weighing before
  reference::Assessed<Percent> since_birth;
  reference::Assessed<BirthClass> birth_class;
  reference::Level level = reference::Level::note;  ///< worst of its findings; set by assess()
  reference::Assessed<Pace> pace = reference::NotAssessed{"NO_DATA", "needs two weighings"};
  reference::Assessed<Doubling> doubled = reference::NotAssessed{"NO_DATA", "needs a birth weight and two weighings"};
  std::optional<Place> place{};
  std::vector<CurvePoint> curve{};      ///< by time
  std::optional<Instant> weigh_next{};  ///< by age and by need; none for pups that are gone
};

/// When a pup wants to be weighed again: by its age at the last weighing, within 12 hours when something about it is to
/// be acted upon, and at once when its last weight is in doubt.
std::optional<Instant> next_weighing(const record::Pup& pup, reference::Level level, bool doubted,
                                     const reference::Reference& reference);

/// Follows all weights through the litter's model: paces and curves by label, and every doubt of the last seven days.
struct Course {
  std::map<std::string, reference::Assessed<Pace>> paces;
  std::map<std::string, std::vector<CurvePoint>> curves;
  std::vector<Doubt> doubts;
  /// The litter's gain against the usual, from day 2 to day 21: what a later litter may lean on.
  reference::Assessed<Percent> gain = reference::NotAssessed{"NO_DATA", "needs weights over a week"};
  /// The same litter has this course at every moment from `from` until before `until`: nothing is born, weighed or let
  /// go of between them.
  Instant from = Instant::min(), until = Instant::max();
  [[nodiscard]] bool holds(Instant at) const { return from <= at && at < until; }
};
/// What earlier litters say of this one's gain, 1 as usual. The published figures count as two litters beside them:
/// they are of many dogs, the house of few.
double house_factor(const record::Litter& litter, Instant now);
Course follow(const record::Litter& litter, const reference::Reference& reference, Instant now);

/// A pup's weight to reckon an amount by: by all its weighings, else the one reading there is.
struct SoundWeight {
  Grams grams;
  Instant weighed;
  bool smoothed;
};
/// Not assessed: NO_WEIGHT, DOUBTED_WEIGHT (a question stands open), WEIGHTS_APART (the reading and all weighings
/// together disagree), POUNDS_AS_KG (too heavy for its dam and age), TOO_HEAVY (heavier than the heaviest newborn can
/// have become). How old it may be is for who asks to say.
reference::Assessed<SoundWeight> sound_weight(const record::Litter& litter, const record::Pup& pup,
                                              const Standing& standing, std::span<const Doubt> doubts,
                                              const reference::Reference& reference, Instant now);

std::vector<Standing> standings(const record::Litter& litter, const reference::Reference& reference, Instant now,
                                const Course& course);

/// Loss, no gain, late doubling, birth-weight class, weighing overdue, a pace too slow, readings in doubt.
std::vector<reference::Finding> findings(const record::Litter& litter, const reference::Reference& reference,
                                         Instant now, const Course& course);

/// What a pup weighs at birth: by the breed's table, else as these pups did, else the mean of the breeds in the table.
Grams usual_birth_weight(const record::Litter& litter, const reference::Reference& reference);

/// The round of weights under way, or the next one. A round ends when every pup in the box has been weighed in it;
/// one left half-done stays open for six hours after its last weighing, so that an interruption loses nothing.
struct Round {
  std::optional<Instant> started;    ///< none: not begun
  std::vector<std::string> weighed;  ///< labels, in the order they were weighed
  std::vector<std::string> left;     ///< labels still to weigh, in birth order
};
Round current_round(const record::Litter& litter, Instant now);

}  // namespace lampside::growth
