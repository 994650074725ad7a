// The milk in the tin: what a millilitre holds as mixed, and how to mix it.
#pragma once

#include <optional>
#include <string>

#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::nest {

/// A milk as mixed, fit to reckon with.
struct Milk {
  std::string name;
  KcalPerMl density;
  bool worked_out;  ///< from powder and water; else the tin says it
};

/// Energy of powder stirred into water. The powder takes up room too (milk_powder_ml_g, from memory): left out of the
/// sum, 30 g in 70 ml would come out a third too rich.
KcalPerMl mixed(Grams powder, double kcal_g, Millilitres water, const reference::Reference& reference);

/// Not assessed: NO_ENERGY (the label does not say enough), MILK_ODD (no milk in print holds so much or so little),
/// MILK_DISAGREES (the tin's figure as mixed and its powder and water are more than 30 % apart).
reference::Assessed<Milk> read(const record::Milk& label, const reference::Reference& reference);

/// The label noted last. Not assessed: NO_MILK, and as read().
reference::Assessed<Milk> milk_in_use(const record::Litter& litter, const reference::Reference& reference, Instant now);
/// The same entry, or null.
const record::Noted<record::Milk>* milk_label(const record::Litter& litter, Instant now);

/// What to stir together for so much milk, in the tin's own proportion; nothing where it does not say one.
struct Mix {
  Grams powder;
  Millilitres water;
};
std::optional<Mix> to_mix(const record::Milk& label, Millilitres milk, const reference::Reference& reference);

/// Powder that holds so much energy, to buy by: as the tin says. Without a tin, or one that does not say enough: of a
/// milk like a bitch's, one part powder to two of water.
Grams powder_for(Kilocalories energy, const record::Milk* label, const reference::Reference& reference);

}  // namespace lampside::nest
