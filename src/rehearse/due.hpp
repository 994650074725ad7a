// How well the forecast of whelping holds on pregnancies drawn from its own numbers, and from worse ones.
#pragma once

#include <string>

#include "record/litter.hpp"
#include "rehearse/pregnancy.hpp"
#include "rehearse/share.hpp"

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

/// How a forecast did over many pregnancies; shares are 0..1, the error in days, the score in ln per day.
struct Tally {
  int n = 0, in50 = 0, in90 = 0, conflicts = 0;
  double width = 0, error = 0, score = 0;
  [[nodiscard]] double per(double sum) const { return n ? sum / n : 0.0; }
};
/// One world's trial: all pregnancies together, and the table to print.
struct Rehearsed {
  Tally all;
  int not_assessed;
  std::string table;
};

/// Draws that many pregnancies and measures the forecast: coverage of its 50 % and 90 % windows, its mean error and its
/// log score against each single rule on the same pregnancies. The same seed gives the same table, on however many
/// threads.
Rehearsed rehearse(int pregnancies, unsigned seed, World world, const Progress& progress = {});

/// Spreads 1.3 times those the forecast believes in, and 5 % of the dated clues wrong.
inline constexpr World kPerturbed{1.3, 0.05};
/// Both tables, as `lampside rehearse due` prints them: a world as the forecast believes it, then the perturbed one.
std::string rehearse_due(int pregnancies, unsigned seed, const Progress& progress = {});

}  // namespace lampside::rehearse
