// A pup's weight to reckon an amount by, and every reason why there is none.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "growth/weighings.hpp"
#include "reference/rules.hpp"

namespace lampside::growth {

using record::Litter;
using record::Pup;
using reference::days_between;
using reference::NotAssessed;

reference::Assessed<SoundWeight> sound_weight(const Litter& litter, const Pup& pup, const Standing& standing,
                                              std::span<const Doubt> doubts, const reference::Reference& reference,
                                              Instant now) {
  const auto* last = pup.last_weight();
  if (!last || last->at > now) return NotAssessed{"NO_WEIGHT", "not weighed yet"};
  for (const auto& d : doubts)
    if (d.open_for(pup.label))
      return NotAssessed{"DOUBTED_WEIGHT", "its last weight is in doubt (" + question(d) + ") weigh again"};
  const auto* trusted = reference::value_of(standing.weight);
  if (!trusted || trusted->id != last->id)
    return NotAssessed{"DOUBTED_WEIGHT", "its last weight cannot be right: weigh again"};
  const auto unit = litter.units().weight;
  SoundWeight out{last->what.grams, last->at, false};
  if (const auto* pace = reference::value_of(standing.pace)) {
    out.grams = pace->weight;
    out.smoothed = true;
    if (std::fabs(pace->weight / last->what.grams - 1) * 100 > parameter(reference, "dose_weights_apart_pct"))
      return NotAssessed{"WEIGHTS_APART", fmt::format("the scale said {}, all its weights together {}: weigh again",
                                                      say(last->what.grams, unit), say(out.grams, unit))};
  }
  const auto age = (litter.zone.day_of(now) - litter.zone.day_of(pup.birth.at)).count();
  const auto& dam = litter.facts.dam;
  if (dam && dam->kg && age <= 14 && to_kilograms(out.grams) / *dam->kg > parameter(reference, "dose_heavy_pup_share"))
    return NotAssessed{"POUNDS_AS_KG", fmt::format("{} is too heavy for {} days with a dam of {}: pounds written as "
                                                   "kilograms?",
                                                   say(to_kilograms(out.grams)), age, say(*dam->kg))};
  const Grams most =
      Grams{parameter(reference, "newborn_most_g")} * best_growth(0, days_between(pup.birth.at, last->at));
  if (out.grams > most)
    return NotAssessed{"TOO_HEAVY", fmt::format("{} on day {} is more than any pup weighs (at most about {}): look at "
                                                "the unit and weigh again",
                                                say(out.grams, unit), age, say(most, unit))};
  return out;
}

}  // namespace lampside::growth
