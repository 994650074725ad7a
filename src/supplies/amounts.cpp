#include "supplies/amounts.hpp"

#include <algorithm>
#include <cmath>

#include "measure/text.hpp"
#include "nest/feeding.hpp"
#include "nest/plate.hpp"

namespace lampside::supplies {
namespace {

using reference::Reference;
using reference::SupplyItem;

/// One part powder to two of water, by parts (German breeders' page on hand feeding): 3 ml of milk from a gram.
constexpr double kMilkFromPowder = 3;
constexpr int kWormedOn[] = {14, 28, 42, 56};

const reference::FeedingWeek& week_of(const Reference& reference, int day) {
  const auto last = reference.feeding_weeks.size() - 1;
  return reference.feeding_weeks[std::min(static_cast<std::size_t>(day / 7), last)];
}

/// Powder for one hand-fed pup up to that day: by the tin in use, on the high line of energy; else by the volumes.
Grams powder(const Basis& basis, int to, const Reference& reference) {
  const auto volumes = replacer(basis.birth, basis.day, to, reference);
  const auto milk = basis.milk ? nest::read(*basis.milk, reference)
                               : reference::Assessed<nest::Milk>{reference::NotAssessed{"NO_MILK", ""}};
  const auto* tin = reference::value_of(milk);
  if (!tin) return Grams{volumes.count() / kMilkFromPowder};
  const Millilitres ml = nest::full_feeding(basis.birth, basis.day, to, reference) / tin->density;
  const auto mix = nest::to_mix(*basis.milk, ml, reference);
  return mix ? mix->powder : Grams{ml.count() / kMilkFromPowder};
}

double course(const SupplyItem& item, int pups, const Basis& basis, const Reference& reference) {
  if (item.course == "worming")
    return (pups + 1.0) * static_cast<double>(std::count_if(std::begin(kWormedOn), std::end(kWormedOn),
                                                            [&](int d) { return d >= basis.day; }));
  if (item.course == "replacer") {
    const int days = static_cast<int>(parameter(reference, "replacer_days"));
    const double fed =
        pups == 0 ? 0
                  : parameter(reference, "replacer_pups") + std::max(0.0, pups - parameter(reference, "unaided_pups"));
    // A pup may fall behind on any day of the first weeks: the week to cover begins anew each day, for a heavier pup.
    return std::max(fed, basis.by_hand) * powder(basis, std::min(basis.day + days, item.until_d), reference).count();
  }
  if (item.course == "dam_food") {
    double kcal = 0;
    for (int day = basis.day; day < item.until_d; ++day)
      kcal += nest::nursing(*basis.dam, pups, std::min(day / 7 + 1, 4), reference).count();
    return kcal / parameter(reference, "dam_food_kcal_kg");
  }
  return 0;
}

}  // namespace

Millilitres replacer(Grams birth, int from, int to, const Reference& reference) {
  double grams = birth.count(), ml = 0;
  for (int day = 0; day < to; ++day) {
    const auto& week = week_of(reference, day);
    if (day >= from) ml += grams / 100 * week.ml_100g;
    grams *= 1 + week.gain_pct.count() / 100;
  }
  return Millilitres{ml};
}

reference::Assessed<Amount> need(const SupplyItem& item, int pups, const Basis& basis, const Reference& reference) {
  if (basis.day > item.until_d || item.is("vet_only")) return Amount{0};
  if (item.course == "dam_food" && !basis.dam)
    return reference::NotAssessed{"NO_DATA", "her weight is not in the settings"};
  const double days = item.until_d - basis.day;
  return rounded_up(
      Amount{item.fixed + item.per_pup * pups + item.per_day * days + course(item, pups, basis, reference)}, item.unit);
}

Amount rounded_up(Amount amount, std::string_view unit) {
  const double step = unit == "kg" ? 0.1 : unit == "g" || unit == "ml" ? 10 : 1;
  return Amount{std::ceil(amount.count() / step - 1e-6) * step};
}

std::string say(Amount amount, std::string_view unit) {
  if (unit.empty()) return say_number(amount.count(), 2);
  const bool one = amount.count() == 1 && unit.size() > 2 && unit.ends_with('s');
  return say_number(amount.count(), 2) + " " +
         std::string(one ? unit.substr(0, unit.ends_with("shes") ? unit.size() - 2 : unit.size() - 1) : unit);
}

}  // namespace lampside::supplies
