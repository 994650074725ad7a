// What holds for every label and every dog.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "labels.hpp"

namespace lampside::testing {
namespace {

using care::Dosage;
using care::Measured;

/// A whole number in a range as a part of `parts`: readable when a case fails.
rc::Gen<double> part(int low, int high, double parts) {
  return rc::gen::map(rc::gen::inRange(low, high + 1), [=](int n) { return n / parts; });
}

/// A label of any form: by weight of the dog in mg, or of the product; for every weight or for bands with gaps.
record::Product any_product() {
  record::Product p;
  p.name = "any";
  const int form = *rc::gen::inRange(0, 3);
  const std::string unit = form == 0 ? "ml" : form == 1 ? "tablet" : "g";
  const double strength = *part(1, 50'000, 100);
  p.strength = fmt::format("{} mg/{}", say_number(strength, 2), unit);
  const int kind = *rc::gen::inRange(0, 3);
  const std::string weight = *rc::gen::element<std::string>("kg", "lb");
  if (kind == 0) {
    p.dose = fmt::format("{} mg/{}", say_number(*part(1, 20'000, 100), 2), weight);
  } else if (kind == 1) {
    p.dose = fmt::format("{} {}/{}", say_number(*part(1, 300, 100), 2), unit, weight);
  } else {
    p.dose = "";
    double from = *part(1, 20, 10);
    for (int i = *rc::gen::inRange(1, 5); i > 0; --i) {
      const double to = from + *part(1, 30, 10);
      *p.dose += fmt::format("{}-{} {}: {} {}\n", say_number(from, 1), say_number(to, 1), weight,
                             say_number(*part(1, 24, 4), 2), unit);
      from = to + *part(1, 10, 10);
    }
  }
  p.mark_ml = Millilitres{*rc::gen::element(0.01, 0.02, 0.05, 0.1, 0.2, 1.0)};
  p.mark_g = Grams{*rc::gen::element(0.001, 0.01, 0.1, 1.0)};
  p.parts = *rc::gen::element(1, 2, 4);
  p.at_least = *rc::gen::arbitrary<bool>();
  if (*rc::gen::arbitrary<bool>()) p.min_kg = Kilograms{*part(2, 20, 10)};
  if (*rc::gen::arbitrary<bool>()) p.at_most = *part(1, 200, 10);
  return p;
}

RC_GTEST_PROP(DoseProperty, NeverAboveTheLabelNeverAMarkShortNeverUnderTheFloor, ()) {
  const auto p = any_product();
  const auto label = care::read_label(p, reference::built_in());
  RC_ASSERT(label.has_value());
  const Kilograms dog{*part(100, 40'000, 1000)};
  const auto worked = care::dosage(*label, dog);
  const auto* dose = reference::value_of(worked);
  if (label->min_weight && dog < *label->min_weight) RC_ASSERT(!static_cast<bool>(dose));
  const bool spoken_for =
      std::any_of(label->directions.begin(), label->directions.end(), [&](const auto& d) { return d.holds(dog); });
  if (!spoken_for) RC_ASSERT(!static_cast<bool>(dose));  // never interpolated
  RC_CLASSIFY(dose != nullptr, "dosed");
  if (!dose) return;
  const double mark = *label->mark, dust = 1e-6;
  RC_ASSERT(dose->give.count <= dose->exact.count + dust);
  RC_ASSERT(dose->give.count > dose->exact.count - mark - dust);
  RC_ASSERT(dose->give.count > 0);
  const double marks = dose->give.count / mark;
  RC_ASSERT(std::fabs(marks - std::round(marks)) < dust);
  if (label->at_most) RC_ASSERT(dose->give.count <= label->at_most->count + dust);
  if (dose->above) {
    RC_ASSERT(label->at_least);
    RC_ASSERT(dose->above->count >= dose->exact.count - dust);
    RC_ASSERT(dose->above->count <= dose->exact.count + mark + dust);
    if (label->at_most) RC_ASSERT(dose->above->count <= label->at_most->count + dust);
  }
  // Units conserve: milligrams drawn up are the milligrams a kilogram gets, times the kilograms.
  const double drawn = label->strength.mg.front().count() * dose->give.count;
  RC_ASSERT(std::fabs(dose->gives.front().count() * dog.count() - drawn) < 1e-6 * drawn);
}

RC_GTEST_PROP(DoseProperty, ARuleForEachKilogramGrowsWithTheDog, ()) {
  auto p = any_product();
  p.dose = "5 mg/kg";
  p.min_kg.reset(), p.at_most.reset();
  const auto label = label_of(p);
  const double kg = *part(100, 40'000, 1000), more = *part(1, 1000, 1000);
  const auto small = care::dosage(label, Kilograms{kg}), large = care::dosage(label, Kilograms{kg + more});
  const auto* a = reference::value_of(small);
  const auto* b = reference::value_of(large);
  RC_PRE(static_cast<bool>(a));
  RC_ASSERT(static_cast<bool>(b));
  RC_ASSERT(b->give.count >= a->give.count);
}

// Pounds or kilograms, of the active or of the product, salt or base: the same label, the same dose.
RC_GTEST_PROP(DoseProperty, TheSameLabelInOtherUnits, ()) {
  const double strength = *part(10, 10'000, 100), per_kg = *part(10, 5000, 100), kg = *part(100, 40'000, 1000);
  RC_PRE(per_kg * kg / strength >= 0.011);  // less than a mark is refused, and another test's matter
  const auto with = [&](std::string dose) {
    return exact(label_of("x", fmt::format("{} mg/ml", say_number(strength, 4)), std::move(dose)), Kilograms{kg});
  };
  const double once = with(fmt::format("{:.10f} mg/kg", per_kg));
  const auto near = [&](double other) { return std::fabs(other - once) < 1e-5 * once; };
  RC_ASSERT(near(with(fmt::format("{:.10f} mg/lb", per_kg * kKilogramsPerPound))));
  RC_ASSERT(near(with(fmt::format("{:.10f} ml/kg", per_kg / strength))));
  RC_ASSERT(near(with(fmt::format("{:.8f} ml per 10 lb", per_kg / strength * 10 * kKilogramsPerPound))));
  auto p = product("x", fmt::format("{:.10f} mg/ml", strength * 2.5), fmt::format("{:.10f} mg/kg", per_kg));
  p.strength_as = record::Basis::salt;
  p.salt_per_base = 2.5;
  RC_ASSERT(near(exact(label_of(p), Kilograms{kg})));
}

// What is typed never throws and never gives a label with a strength or a dose that is not above zero.
RC_GTEST_PROP(DoseProperty, AnythingTypedIsReadOrRefused, ()) {
  static const std::string kSigns = "0123456789.,/+:;-<>%  mglkbtahpersuo\n½";
  const auto text = *rc::gen::container<std::string>(rc::gen::elementOf(kSigns));
  if (const auto strength = care::parse_strength(text))
    for (const auto mg : strength->mg) RC_ASSERT(mg.count() > 0 && std::isfinite(mg.count()));
  for (const auto in : {Measured::ml, Measured::tablets, Measured::grams})
    if (const auto directions = care::parse_directions(text, in))
      for (const auto& d : *directions) {
        RC_ASSERT(static_cast<int>(!d.mg_per_kg.empty()) + d.per_kg.has_value() + d.each.has_value() == 1);
        for (const auto mg : d.mg_per_kg) RC_ASSERT(mg.count() > 0 && std::isfinite(mg.count()));
        if (d.per_kg) RC_ASSERT(d.per_kg->count > 0 && std::isfinite(d.per_kg->count));
        if (d.each) RC_ASSERT(d.each->count > 0);
        RC_ASSERT(d.from < d.to);
      }
}

// Buying: never less than the doses drawn up for the same weights, and the heavy end never below the likely one.
RC_GTEST_PROP(DoseProperty, WhatIsBoughtSuffices, ()) {
  const auto p = any_product();
  const auto label = label_of(p);
  std::vector<std::vector<care::WeightThen>> dogs(1);
  double drawn = 0;
  for (int i = *rc::gen::inRange(1, 6); i > 0; --i) {
    const double kg = *part(100, 10'000, 1000), heavy = kg + *part(0, 1000, 1000);
    dogs.front().push_back({Kilograms{kg}, Kilograms{heavy}});
    if (const auto worked = care::dosage(label, Kilograms{kg}); reference::value_of(worked))
      drawn += std::get<Dosage>(worked).give.count;
  }
  const auto need = care::to_buy(label, dogs);
  RC_ASSERT(need.likely.count >= drawn - 1e-6);
}

}  // namespace
}  // namespace lampside::testing
