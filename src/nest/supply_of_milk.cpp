#include "nest/supply_of_milk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "measure/text.hpp"
#include "nest/figures.hpp"
#include "nest/plate.hpp"
#include "reference/rules.hpp"

namespace lampside::nest {
namespace {

using reference::NotAssessed;
using reference::Reference;
using std::chrono::days;

constexpr int kWeeks = 4;
/// A pup may double in ten days: an older weight says nothing of what it drinks.
constexpr Span kWeightLasts = days{4};

const reference::FeedingWeek& feeding_week(const Reference& reference, int week) {
  return reference.feeding_weeks[static_cast<std::size_t>(std::clamp(week, 1, kWeeks) - 1)];
}

}  // namespace

double milk_factor(int week, const Reference& reference) { return feeding_week(reference, week).lactation; }

Percent milk_pct(int pups, int week, const Reference& reference) {
  const int full = static_cast<int>(parameter(reference, "plate_full_pups"));
  const double half = parameter(reference, "plate_more_pup_kcal_kg") / parameter(reference, "plate_per_pup_kcal_kg");
  return Percent{(std::clamp(pups, 0, full) + half * std::clamp(pups - full, 0, full)) * milk_factor(week, reference)};
}

Grams drinks(Grams pup, int week, const Reference& reference) {
  return pup * (parameter(reference, fmt::format("milk_drunk_pct_week_{}", std::clamp(week, 1, kWeeks))) / 100);
}

Percent shortage(Grams supply, Grams need) {
  return Percent{need > supply && need > Grams{0} ? (1 - supply / need) * 100 : 0.0};
}

const MilkWeek* MilkSupply::runs_short() const {
  const auto first =
      std::find_if(weeks.begin(), weeks.end(), [](const MilkWeek& w) { return w.short_pct > Percent{0}; });
  return first == weeks.end() ? nullptr : &*first;
}

reference::Assessed<MilkSupply> supply_of_milk(const record::Litter& litter, const Reference& reference, Instant now,
                                               const std::vector<growth::Standing>& standings) {
  const auto born = litter.first_birth();
  if (!born || *born > now) return NotAssessed{"NOT_BORN", "no pup is born yet"};
  const auto& dam = litter.facts.dam;
  if (!dam || !dam->kg) return NotAssessed{"NO_DATA", "her weight is not in the settings"};
  MilkSupply out{*dam->kg, 0, {}};
  const CivilDay birth = litter.zone.day_of(*born), today = litter.zone.day_of(now);
  std::vector<Grams> weights;
  for (const auto& s : standings) {
    const auto* pup = litter.pup(s.label);
    if (!s.in_box || !pup || drinks_nothing(*pup, now)) continue;
    const auto* pace = reference::value_of(s.pace);
    const auto* last = reference::value_of(s.weight);
    if (!pace && !last) return NotAssessed{"NO_DATA", "pup " + s.label + " has no weight"};
    if (last && now - last->at > kWeightLasts)
      return NotAssessed{"STALE", "pup " + s.label + " was last weighed " + say_day(litter.zone.day_of(last->at))};
    weights.push_back(pace ? pace->weight : last->what.grams);
  }
  out.pups = static_cast<int>(weights.size());
  if (weights.empty()) return NotAssessed{"NO_PUPS", "she nurses no pup"};
  const auto age = (today - birth).count();
  if (age >= 7 * kWeeks) return NotAssessed{"NO_REFERENCE", "no published milk yield after four weeks"};
  const double spread = parameter(reference, "milk_spread_pct") / 100;
  double grown = 1;  // since now
  for (auto day = age; day < 7 * kWeeks;) {
    const int week = static_cast<int>(day / 7) + 1;
    const auto last = std::min<decltype(day)>(7 * week, 7 * kWeeks);
    const double a_day = 1 + feeding_week(reference, week).gain_pct.count() / 100;
    const double middle = grown * std::pow(a_day, static_cast<double>(last - day) / 2);
    Grams need{0};
    for (const auto w : weights) need = need + drinks(w * middle, week, reference);
    const Grams supply = to_grams(out.dam) * (milk_pct(out.pups, week, reference).count() / 100);
    const Grams lacking{std::max(0.0, (need - supply).count())};
    out.weeks.push_back({week, birth + days{day}, birth + days{last - 1}, supply, need, shortage(supply, need),
                         shortage(supply * (1 - spread), need * (1 + spread)), lacking,
                         Kilocalories{lacking.count() * parameter(reference, "milk_kcal_g")}});
    grown *= std::pow(a_day, static_cast<double>(last - day));
    day = last;
  }
  return out;
}

std::vector<reference::Finding> findings(const reference::Assessed<MilkSupply>& supply, const record::Litter& litter,
                                         const Reference& reference) {
  std::vector<reference::Finding> out;
  const auto* milk = reference::value_of(supply);
  const auto* rule = reference::rule_of(reference.percent_rules, "MILK_SHORT");
  if (!milk || !rule) return out;
  for (const auto& w : milk->weeks)
    if (reached(*rule, w.short_pct)) {
      out.push_back(
          found(*rule, "dam",
                fmt::format("week {}, {} to {}: about {} g of milk a day, and {} drink about {} g: {} % short "
                            "(it may be {} %)",
                            w.week, say_day(w.from), say_day(w.to), say_number(w.supply.count(), 0),
                            counted(milk->pups, "pup", "pups"), say_number(w.need.count(), 0),
                            say_number(w.short_pct.count(), 0), say_number(w.short_worst.count(), 0)),
                litter.zone.start_of(w.from)));
      break;
    }
  return out;
}

}  // namespace lampside::nest
