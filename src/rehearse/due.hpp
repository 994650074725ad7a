// How well the forecast of whelping holds on pregnancies drawn from its own numbers, and from worse ones.
#pragma once

#include <string>

#include "record/litter.hpp"
#include "rehearse/pregnancy.hpp"

namespace lampside::rehearse {

/// What a breeder wrote down up to a moment, and what then happened.
struct Story {
  enum class Kind { matings, matings_and_progesterone, ovulation, dioestrus, lh_surge, scan_only };
  Kind kind;
  record::Litter litter;
  Instant now, whelping;
};
/// A breeder's record of one simulated pregnancy: mixed, missing and wrong clues, seen at a random moment from 20 days
/// to one hour before whelping.
Story story(const reference::Reference& reference, World world, Dice& dice);

/// Draws that many pregnancies and prints how the forecast did: coverage of its 50 % and 90 % windows, its mean error
/// and its log score against each single rule on the same pregnancies. The same seed gives the same table. `perturbed`:
/// the simulated spreads are 1.3 times those the forecast believes in, and 5 % of the dated clues are wrong.
std::string rehearse_due(int pregnancies, unsigned seed, bool perturbed);

}  // namespace lampside::rehearse
