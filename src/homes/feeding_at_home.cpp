#include "homes/feeding_at_home.hpp"

#include <cmath>

namespace lampside::homes {

Kilocalories growing_needs(const reference::Reference& reference, Kilograms weighs, Kilograms adult) {
  const auto of = [&](std::string_view name) { return reference::parameter(reference, name); };
  const double part = weighs / adult;
  const double factor =
      of("growing_kcal_scale") * (std::exp(-of("growing_kcal_fall") * part) - of("growing_kcal_less"));
  return Kilocalories{of("growing_kcal_base") * std::pow(weighs.count(), 0.75) * factor};
}

reference::Assessed<FeedingSheet> feeding_sheet(const record::Litter& litter, const reference::Reference& reference,
                                                const record::Pup& pup) {
  FeedingSheet out{};
  if (pup.weights.empty()) return reference::NotAssessed{"NO_DATA", "no weight of this pup is written down"};
  const auto& dam = litter.facts.dam;
  if (litter.facts.adult_kg) {
    out.adult = *litter.facts.adult_kg;
  } else if (dam && dam->kg) {
    out.adult = *dam->kg;
    out.adult_from_dam = true;
  } else {
    return reference::NotAssessed{"NO_DATA", "no adult weight is written down, and not the dam's either"};
  }
  const Kilograms now{pup.weights.back().what.grams.count() / 1000};
  if (now >= out.adult)
    return reference::NotAssessed{"OUT_OF_RANGE", "it weighs as much as a grown dog: check both weights"};
  const record::Food* food = nullptr;
  for (const auto& f : litter.foods)
    if (f.what.kcal_100g) food = &f.what;
  if (food) out.food = food->name;
  for (const double times : {1.0, 1.25, 1.5, 1.75, 2.0}) {
    const Kilograms weighs{now.count() * times};
    if (weighs >= out.adult) break;
    Ration ration{weighs, growing_needs(reference, weighs, out.adult), {}};
    if (food) ration.food = Grams{100 * ration.a_day.count() / food->kcal_100g->count()};
    out.rations.push_back(ration);
  }
  return out;
}

}  // namespace lampside::homes
