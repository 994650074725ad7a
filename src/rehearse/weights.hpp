// How early a falling-behind pup is found, at how many false alarms, and which slips of writing down are seen.
#pragma once

#include <string>

#include "rehearse/share.hpp"

namespace lampside::rehearse {

struct WeightsWorld {
  int litters = 2000;
  unsigned seed = 1;
  int pups = 10;
  double birth_g = 400;  ///< the breed's mean
  double step_g = 5;     ///< the scale's resolution
  int rounds_a_day = 1;
  bool slips = true;  ///< readings are now and then written down wrong
};

/// Simulates litters for three weeks and prints, rule by rule, the delay from the onset of faltering, the share found
/// before a tenth is lost, and the false alarms. The same world gives the same table.
std::string rehearse_weights(const WeightsWorld& world, const Progress& progress = {});

}  // namespace lampside::rehearse
