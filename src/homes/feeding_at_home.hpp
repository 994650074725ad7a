// What a pup eats in its first weeks with its family, from its own weight.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::homes {

/// "When it weighs so much it needs about so much a day."
struct Ration {
  Kilograms weighs;
  Kilocalories a_day;
  std::optional<Grams> food;  ///< of the food named, where its label is written down
};
struct FeedingSheet {
  std::vector<Ration> rations;  ///< from its weight now to twice that
  Kilograms adult{0.0};
  bool adult_from_dam = false;  ///< nobody wrote down an adult weight: the dam's stands for it
  std::string food;             ///< the food written down last; empty: none with its energy
};

/// National Research Council 2006, growing puppies: 130 x kg^0.75 x 3.2 x (e^(-0.87 p) - 0.1), p = weight / adult
/// weight (from memory). Errors as NotAssessed: NO_DATA (no weight, or no adult weight), OUT_OF_RANGE (heavier than
/// grown).
Kilocalories growing_needs(const reference::Reference& reference, Kilograms weighs, Kilograms adult);
reference::Assessed<FeedingSheet> feeding_sheet(const record::Litter& litter, const reference::Reference& reference,
                                                const record::Pup& pup);

}  // namespace lampside::homes
