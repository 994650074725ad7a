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

constexpr int kWormedOn[] = {14, 28, 42, 56};
constexpr int kGap = 7;  ///< days: one given so shortly before a day of the list is that day's

/// Powder for one pup fed only by hand up to that day: the energy of the nest's own high line, as milk of the tin in
/// use.
Grams powder(const Basis& basis, int to, const Reference& reference) {
  const auto energy = nest::full_feeding(basis.birth, basis.day, to, reference);
  return nest::powder_for(energy, basis.milk ? &*basis.milk : nullptr, reference);
}

double course(const SupplyItem& item, int pups, const Basis& basis, const Reference& reference) {
  if (item.course == "worming")
    return std::max(0.0, (pups + 1.0) * static_cast<double>(std::count_if(std::begin(kWormedOn), std::end(kWormedOn),
                                                                          [&](int d) { return d >= basis.day; })) -
                             basis.wormed);
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

int wormings_given(int on_day, int today) {
  return static_cast<int>(std::count_if(std::begin(kWormedOn), std::end(kWormedOn),
                                        [&](int d) { return d >= today && on_day <= d && d - on_day < kGap; }));
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

Cash cash_of(Money price, double times) { return Cash{std::llround(std::min(price.count() * times, 1e12) * 1000)}; }

}  // namespace lampside::supplies
