// How much of a thing a litter needs: the item's own rule, and the courses of feeding and worming.
#pragma once

#include <optional>

#include "measure/quantity.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::supplies {

/// What the amounts hang on besides the number of pups.
struct Basis {
  Grams birth;                         ///< what a pup of this breed weighs at birth
  std::optional<Kilograms> dam;        ///< before mating
  int day = 0;                         ///< age of the litter; 0 before it is born
  double by_hand = 0;                  ///< pups fed by hand now, a top-up for half of one
  std::optional<record::Milk> milk{};  ///< the tin in use: then its energy and its proportion are reckoned with
  /// Treatments against worms still on the list that are as good as done: given a few days early, or today.
  double wormed = 0;
};

/// What a litter of so many needs of an item from `basis.day` on, rounded up to what can be counted or bought. 0 once
/// the item's time is over. NotAssessed NO_DATA: her food without her weight. Never falls when the litter grows.
reference::Assessed<Amount> need(const reference::SupplyItem& item, int pups, const Basis& basis,
                                 const reference::Reference& reference);

/// Of the days of worming that are still to come or today, those that a treatment on that day of the pups' life was
/// for.
int wormings_given(int on_day, int today);

/// Up to the next whole piece, pair or roll, 10 g, or tenth of a kilogram.
Amount rounded_up(Amount amount, std::string_view unit);
/// "12", "3 rolls", "400 g".
std::string say(Amount amount, std::string_view unit);
/// A price times so many, to the thousandth; never over 10^12.
Cash cash_of(Money price, double times = 1);

}  // namespace lampside::supplies
