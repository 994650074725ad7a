#include "nest/milk.hpp"

#include <fmt/format.h>

#include <cmath>

#include "measure/text.hpp"

namespace lampside::nest {

using reference::Assessed;
using reference::NotAssessed;
using reference::parameter;
using reference::Reference;

namespace {

Millilitres volume(Grams powder, Millilitres water, const Reference& reference) {
  return water + Millilitres{powder.count() * parameter(reference, "milk_powder_ml_g")};
}

}  // namespace

KcalPerMl mixed(Grams powder, double kcal_g, Millilitres water, const Reference& reference) {
  return KcalPerMl{powder.count() * kcal_g / volume(powder, water, reference).count()};
}

Assessed<Milk> read(const record::Milk& label, const Reference& reference) {
  std::optional<KcalPerMl> by_powder;
  if (label.powder_g && label.water_ml && label.powder_kcal_g)
    by_powder = mixed(*label.powder_g, *label.powder_kcal_g, *label.water_ml, reference);
  if (!label.kcal_ml && !by_powder)
    return NotAssessed{
        "NO_ENERGY", fmt::format("how many kcal a millilitre of {} holds is not written down: type it from the tin, or "
                                 "powder, water and the powder's kcal",
                                 label.name)};
  Milk milk{label.name, label.kcal_ml.value_or(by_powder.value_or(KcalPerMl{0})), !label.kcal_ml};
  const double low = parameter(reference, "milk_kcal_ml_low"), high = parameter(reference, "milk_kcal_ml_high");
  if (!(milk.density.count() >= low && milk.density.count() <= high))
    return NotAssessed{
        "MILK_ODD",
        fmt::format("{} kcal in a millilitre of {}: milks in print hold 0.74 to 1.83. Read the tin again: kcal and not "
                    "kJ (4.18 kJ are 1 kcal), a millilitre and not 100 ml, as mixed and not as powder",
                    say_number(milk.density.count(), 2), label.name)};
  if (by_powder && std::fabs(*by_powder / milk.density - 1) > 0.3)
    return NotAssessed{
        "MILK_DISAGREES",
        fmt::format("the tin of {} says {} kcal a millilitre, its powder and water make {}: read it again", label.name,
                    say_number(milk.density.count(), 2), say_number(by_powder->count(), 2))};
  return milk;
}

const record::Noted<record::Milk>* milk_label(const record::Litter& litter, Instant now) {
  const record::Noted<record::Milk>* last = nullptr;
  for (const auto& m : litter.milks)
    if (m.at <= now && (!last || last->at <= m.at)) last = &m;
  return last;
}

Assessed<Milk> milk_in_use(const record::Litter& litter, const Reference& reference, Instant now) {
  const auto* label = milk_label(litter, now);
  if (!label) return NotAssessed{"NO_MILK", "no milk is written down: type its name and kcal from the tin"};
  return read(label->what, reference);
}

std::optional<Mix> to_mix(const record::Milk& label, Millilitres milk, const Reference& reference) {
  if (!label.powder_g || !label.water_ml) return std::nullopt;
  const double share = milk / volume(*label.powder_g, *label.water_ml, reference);
  return Mix{*label.powder_g * share, *label.water_ml * share};
}

Grams powder_for(Kilocalories energy, const record::Milk* label, const Reference& reference) {
  const auto milk = label ? read(*label, reference) : Assessed<Milk>{NotAssessed{"NO_MILK", "no tin"}};
  const auto* tin = reference::value_of(milk);
  const Millilitres ml = energy / (tin ? tin->density : KcalPerMl{parameter(reference, "milk_kcal_g")});
  const auto mix = tin ? to_mix(*label, ml, reference) : std::nullopt;
  return mix ? mix->powder : Grams{ml.count() / parameter(reference, "milk_ml_from_powder_g")};
}

}  // namespace lampside::nest
