// What the two forms of weights filled in share: the curves, and a day's weight with its gain.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "draw/charts.hpp"
#include "paper/sheet.hpp"

namespace lampside::paper {

/// The pups born alive, in birth order.
std::vector<const record::Pup*> weighed(const record::Litter& litter);

/// The litter's curves; with `highlight` that pup's drawn strong among its litter mates.
draw::WeightChart chart_of(const Made& made, std::string_view highlight = {});

/// One pup's curve among its litter mates and every weight, on one page.
void growth_page(Canvas& canvas, Area body, const Made& made, const record::Pup& pup);

/// "+14", "−3", "0", without the unit.
std::string signed_bare(Grams grams, WeightUnit unit);

/// One day of a table. A gain is this figure less the last one before it, so a pencil can check it.
struct DayWeight {
  Grams weight;
  std::optional<Grams> gain;
  int over_days = 1;
};
std::optional<DayWeight> day_weight(const record::Litter& litter, const record::Pup& pup, CivilDay day);

}  // namespace lampside::paper
