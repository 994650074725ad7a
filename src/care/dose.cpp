#include "care/dose.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "measure/text.hpp"
#include "reference/rules.hpp"

namespace lampside::care {
namespace {

constexpr double kDust = 1e-9;

/// Of the product, unrounded. Where several actives differ by a rounding of the label, the least.
Portion exact_for(const Label& label, const Direction& d, Kilograms dog) {
  if (d.each) return *d.each;
  if (d.per_kg) return {label.strength.per, d.per_kg->count * dog.count()};
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < d.mg_per_kg.size(); ++i)
    least = std::min(least, (d.mg_per_kg[i] * dog) / label.strength.mg[i]);
  return {label.strength.per, least};
}

std::vector<MgPerKg> gives(const Label& label, Portion p, Kilograms dog) {
  std::vector<MgPerKg> out;
  out.reserve(label.strength.mg.size());
  for (const auto mg : label.strength.mg) out.push_back(mg * p.count / dog);
  return out;
}

const Direction* direction_for(const Label& label, Kilograms dog) {
  for (const auto& d : label.directions)
    if (d.holds(dog)) return &d;
  return nullptr;
}

}  // namespace

Assessed<Dosage> dosage(const Label& label, Kilograms dog) {
  if (!(dog > Kilograms{0})) return NotAssessed{"NO_WEIGHT", "no weight"};
  if (label.min_weight && dog < *label.min_weight - Kilograms{kDust})
    return NotAssessed{"UNDER_WEIGHT",
                       fmt::format("{} kg, and the label begins at {} kg: ask your vet", say_number(dog.count(), 3),
                                   say_number(label.min_weight->count(), 3))};
  const auto* d = direction_for(label, dog);
  if (!d)
    return NotAssessed{"BAND_GAP",
                       fmt::format("the label says nothing for {} kg: it lies between or outside its lines; "
                                   "ask your vet",
                                   say_number(dog.count(), 3))};
  const Portion exact = exact_for(label, *d, dog);
  if (label.at_most && exact.count > label.at_most->count + kDust)
    return NotAssessed{"OVER_MOST",
                       fmt::format("{} would be needed, and the label allows at most {} at once: ask your vet",
                                   say(exact), say(*label.at_most))};
  const double mark = label.mark.value_or(1);
  const double marks = std::floor(exact.count / mark + kDust);
  if (d->each && exact.in == Measured::tablets && std::fabs(marks * mark - exact.count) > kDust)
    return NotAssessed{"CANNOT_CUT",
                       fmt::format("the label calls for {}, and its tablets are not cut so small", say(exact))};
  if (marks < 1)
    return NotAssessed{"TOO_SMALL", fmt::format("{} is less than the smallest part that can be measured, {}: ask your "
                                                "vet for a weaker product or a finer syringe",
                                                say(exact), say({exact.in, mark}))};
  Portion give{exact.in, marks * mark};
  if (std::fabs(give.count - exact.count) < kDust) give.count = exact.count;
  Dosage out{dog, exact, give, gives(label, give, dog), {}, {}};
  const Portion next{exact.in, (marks + 1) * mark};
  const bool allowed = !label.at_most || next.count <= label.at_most->count + kDust;
  if (label.at_least && give.count < exact.count - kDust && allowed) {
    out.above = next;
    out.above_gives = gives(label, next, dog);
  }
  return out;
}

TooLittle too_little(Span age, const reference::Reference& reference) {
  const double days = static_cast<double>(age.count()) / 86'400'000.0;
  const auto short_by = [&](const char* name) {
    return Percent{100 * (1 - std::pow(1 + reference::parameter(reference, name) / 100, -days))};
  };
  return {short_by("dose_gain_low_pct"), short_by("dose_gain_high_pct")};
}

Assessed<WeightThen> weight_then(const growth::Standing& standing, Instant when, std::optional<Kilograms> adult,
                                 const reference::Reference& reference) {
  const auto* pace = reference::value_of(standing.pace);
  if (!pace) return std::get<NotAssessed>(standing.pace);
  const double days = std::max(0.0, reference::days_between(pace->as_of, when));
  const auto known = static_cast<double>(pace->ahead.size());
  const auto usual = [&](const char* name) {
    return adult ? reference::parameter(reference, name) * adult->count() : 0.0;
  };
  double grams = pace->weight.count(), ahead = 0;
  if (days < known) {
    const auto whole = static_cast<std::size_t>(days);
    const double from = whole == 0 ? grams : pace->ahead[whole - 1].count();
    grams = from + (pace->ahead[whole].count() - from) * (days - static_cast<double>(whole));
  } else if (known > 0) {
    ahead = days - known;
    grams = pace->ahead.back().count() + ahead * std::max(pace->g_per_day, usual("dose_gain_adult_low_g_kg"));
  }
  const double spread =
      std::hypot(pace->weight_sd.count(), grams * pace->per_day_sd.count() / 100 * std::min(days, known));
  const double faster = ahead * std::max(0.0, usual("dose_gain_adult_high_g_kg") - usual("dose_gain_adult_low_g_kg"));
  constexpr double kHeavy = 1.645;  // 95 of 100 under it, normal
  return WeightThen{Kilograms{grams / 1000}, Kilograms{(grams + kHeavy * spread + faster) / 1000}};
}

Need to_buy(const Label& label, std::span<const std::vector<WeightThen>> dogs) {
  const auto amount = [&](Kilograms dog) {
    const Direction* best = direction_for(label, dog);
    for (const auto& d : label.directions)
      if (!best || (!best->holds(dog) && d.from >= dog && (best->from < dog || d.from < best->from))) best = &d;
    return exact_for(label, *best, dog).count;
  };
  Need out{0, {label.strength.per, 0}, {label.strength.per, 0}};
  for (const auto& treatments : dogs)
    for (const auto& w : treatments) {
      out.doses += label.days_in_row;
      out.likely.count += label.days_in_row * amount(w.likely);
      out.heavy.count += label.days_in_row * amount(w.heavy);
    }
  return out;
}

int daily_doses(CivilDay first, CivilDay last) {
  return last < first ? 0 : static_cast<int>((last - first).count()) + 1;
}

}  // namespace lampside::care
