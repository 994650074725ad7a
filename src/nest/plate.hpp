// The dam's plate: her energy day by day from mating to the end of week 4, in grams of her food, against what she got
// and what she weighs; and the pups' first solid food.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measure/time.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::nest {

/// Pregnant: 132 kg^0.75 kcal a day, and 26 kg more in the last five weeks. Source: from memory of the guidelines.
Kilocalories pregnant(Kilograms dam, bool last_weeks, const reference::Reference& reference);
/// Nursing, week 1 to 4: 145 kg^0.75 + kg (24 n + 12 m) L, n the first four pups, m those from the fifth to the eighth;
/// a ninth adds nothing. Source: NRC 2006 as quoted; L from reference/feeding_weeks.toml.
/// Trap: it overshoots in giants (65 kg, 11 pups: 13,600-14,600 against 11,250 in print).
Kilocalories nursing(Kilograms dam, int pups, int week, const reference::Reference& reference);
/// At the peak by the other sum in print: 1.9 x 70 kg^0.75, and a quarter of it more for each pup.
Kilocalories nursing_by_book(Kilograms dam, int pups, const reference::Reference& reference);

enum class Stage { pregnant, late, nursing };
std::string_view name_of(Stage stage);  ///< "pregnant", "late_pregnant", "nursing"

struct Need {
  Stage stage;
  int week = 0;  ///< of nursing, 1 to 4
  int pups = 0;  ///< alive that day and not fed only by hand
  Kilocalories kcal;
  std::optional<Kilocalories> book;  ///< nursing: the other sum in print
};
/// Equal days in a row.
struct PlateDays {
  CivilDay from, to;
  Need need;
};
/// A day that is over: what she needed and what is written down.
struct PlateDay {
  CivilDay day;
  reference::Assessed<Need> need;
  Kilocalories given{0};
  int meals = 0, unknown = 0;  ///< of how many the energy is not known: then `given` is too little
};
struct BodyPoint {
  Instant at;
  Kilograms weight;
  Percent change;  ///< from her weight at mating
};
struct WeaningStep {
  int week;
  CivilDay from, to;
  const reference::Parameter* row;  ///< its value is the share of energy from solid food, percent
};

struct Plate {
  reference::Assessed<Kilograms> weight = reference::NotAssessed{"NO_DATA", "her weight is not in the settings"};
  reference::Assessed<Need> today = reference::NotAssessed{"NO_DATA", "nothing dates this litter yet"};
  std::vector<PlateDays> ahead;  ///< from today to the end of week 4
  std::vector<PlateDay> past;    ///< the last seven days, the latest first
  PlateDay eaten{};              ///< today so far
  std::optional<record::Noted<record::Food>> food;
  reference::Assessed<Grams> grams = reference::NotAssessed{"NO_FOOD", "no food of hers is written down"};  ///< today
  std::vector<BodyPoint> curve;                                                                             ///< by time
  bool giant = false;     ///< the formula is known to overshoot at her weight
  bool pregnant = false;  ///< nothing born yet: no calcium
  std::vector<WeaningStep> weaning;

  [[nodiscard]] reference::Assessed<Grams> in_food(Kilocalories kcal) const;
};

/// `expected`: when the first pup is likeliest, where it is known.
Plate plate(const record::Litter& litter, const reference::Reference& reference, Instant now,
            std::optional<Instant> expected);

/// She lost too much, she got too little, calcium before whelping.
std::vector<reference::Finding> findings(const Plate& plate, const record::Litter& litter,
                                         const reference::Reference& reference, Instant now);

}  // namespace lampside::nest
