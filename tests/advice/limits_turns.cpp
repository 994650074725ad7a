// Too few teats, turns that cannot be taken, milk that runs short, and the dam who loses, eats little or gets calcium.
#include "limits.hpp"

namespace lampside::testing {
namespace {

Story litter_of(int pups, double kg = 60) {
  Story s;
  record::LitterFacts f;
  f.dam = record::Parent{"Juniper", {}, {}, Kilograms{kg}, {}};
  s.facts(f);
  for (int n = 1; n <= pups; ++n) s.born(std::to_string(n), kNight - days(3) + minutes(n), 400);
  return s;
}
advice::Assessment pups_over_eight_teats(double over) {
  Story s = litter_of(8 + static_cast<int>(std::lround(over)));
  s.tell(kNight - hours(1), "", record::TeatTurns{false, 8, {}, {}, {}});
  return s.assess(kNight);
}
/// 16 pups at 4 teats in sessions of an hour cannot be; of half an hour they can.
advice::Assessment impossible(double n) {
  Story s = litter_of(16);
  s.tell(kNight - hours(1), "", record::TeatTurns{true, 4, n < 0.5 ? 30 : 60, {}, {}});
  return s.assess(kNight);
}
advice::Assessment calcium(double n) {
  Story s = litter_of(0);
  s.mated(kNight - days(50));
  for (int i = 0; i < std::lround(n); ++i) {
    record::Dose d{};
    d.product = "Calcium";
    s.tell(kNight - days(2) + hours(i), "dam", d);
  }
  return s.assess(kNight);
}
/// Eight pups in the last three days of week 4, so heavy that so much is lacking on the middle day.
advice::Assessment milk_short(double pct) {
  const double dam = 20, supply = dam * 1000 * 6 * 1.2 / 100, need = supply / (1 - pct / 100);
  const double middle = need / 8 / 0.146;
  Story s;
  record::LitterFacts f;
  f.dam = record::Parent{"Juniper", {}, {}, Kilograms{dam}, {}};
  s.facts(f);
  for (int n = 1; n <= 8; ++n)
    s.born(std::to_string(n), kNight - days(27) + minutes(n))
        .weighed(std::to_string(n), middle / std::pow(1.05, 0.5), kNight - hours(1));
  return s.assess(kNight);
}
advice::Assessment dam_loss(double pct) {
  Story s = litter_of(6, 30);
  s.tell(kNight - hours(2), "dam", record::Weight{Grams{30'000 * (1 + pct / 100)}, {}, {}});
  return s.assess(kNight);
}
advice::Assessment eats(double pct) {
  Story s = litter_of(6, 30);
  const auto yesterday = std::get<nest::Need>(s.assess(kNight).plate.past.front().need);
  const auto least = std::min(yesterday.kcal, *yesterday.book);
  s.tell(kNight - hours(12), "dam", record::DamMeal{least * (1 + pct / 100), {}, {}});
  return s.assess(kNight);
}

const Cases turns{
    {"TEATS_TOO_FEW", Level::watch, kAtOrAbove, 1, pups_over_eight_teats},
    {"TURNS_IMPOSSIBLE", Level::act, kAtOrAbove, 1, impossible},
    {"CALCIUM_BEFORE_WHELPING", Level::act, kAtOrAbove, 1, calcium},
    {"MILK_SHORT", Level::watch, kAtOrAbove, 0.1, milk_short},
    {"DAM_LOSS", Level::watch, kAtOrBelow, kHundredth, dam_loss},
    {"DAM_LOSS", Level::act, kAtOrBelow, kHundredth, dam_loss},
    {"DAM_EATS_LITTLE", Level::watch, kAtOrBelow, kHundredth, eats},
};

}  // namespace
}  // namespace lampside::testing
