#include "nest/nest.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "nest/sensor.hpp"
#include "reference/rules.hpp"

namespace lampside::nest {
namespace {

using record::AirPlace;
using record::Litter;
using record::Pup;
using reference::days_between;
using reference::Finding;
using reference::found;
using reference::Reference;
using reference::rule_of;
using std::chrono::hours;

bool holds_here(const reference::BoxTemperature& row, const Litter& litter) {
  return row.places.empty() || litter.facts.place.value_or("") == row.places;
}

/// The line of the keeper's last word on it that holds where they live; else none.
std::string_view line_asked(const Litter& litter, const Reference& reference, Instant now) {
  std::string_view out;
  for (const auto& said : litter.care_choices)
    if (said.at <= now && said.what.topic == "box_target") {
      out = {};
      for (const auto& row : reference.box_temperatures)
        if (row.line == said.what.set && !row.line.empty() && holds_here(row, litter)) out = row.line;
    }
  return out;
}

/// A pup waits in the basket for minutes, not hours: an older reading says nothing.
constexpr Span kBasketReadingLasts = hours{2};

const record::Noted<record::Air>* last_in(AirPlace place, const Litter& litter, Instant now) {
  const record::Noted<record::Air>* last = nullptr;
  for (const auto& a : litter.air)
    if (a.what.where == place && a.at <= now) last = &a;
  return last;
}
const record::Noted<record::Air>* last_under_lamp(const Litter& litter, Instant now) {
  return last_in(AirPlace::under_lamp, litter, now);
}

/// Where the last reading stands. A sensor's is judged after those before it; one by hand by itself.
BandSide side_now(const record::Noted<record::Air>& last, const BoxTarget& band, const Litter& litter,
                  const Reference& reference) {
  BandSide side = BandSide::within;
  for (const auto& a : litter.air)
    if (last.what.sensor && a.what.sensor == last.what.sensor && a.what.where == last.what.where && a.at < last.at &&
        last.at - a.at < hours{12})
      side = side_of(a.what.celsius, band, side, reference);
  return side_of(last.what.celsius, band, side, reference);
}

}  // namespace

const reference::TemperatureRule* cold_limit(const Reference& reference, double age_d) {
  if (age_d >= 30) return nullptr;
  return rule_of(reference.temperature_rules, age_d < 7    ? "PUP_COLD_TO_7D"
                                              : age_d < 21 ? "PUP_COLD_TO_21D"
                                                           : "PUP_COLD_TO_30D");
}

std::vector<const reference::BoxTemperature*> box_rows(const Litter& litter, const Reference& reference, double age_d) {
  std::vector<const reference::BoxTemperature*> out;
  for (const auto& row : reference.box_temperatures)
    if (age_d >= row.from_d.count() && age_d < row.to_d.count() && holds_here(row, litter)) out.push_back(&row);
  std::stable_partition(out.begin(), out.end(), [](const auto* row) { return row->chosen; });
  return out;
}

NestState state(const Litter& litter, const Reference& reference, Instant now) {
  NestState out;
  const auto first = litter.first_birth();
  if (!first || *first > now) return out;
  const auto asked = line_asked(litter, reference, now);
  const reference::BoxTemperature* followed = nullptr;
  for (const auto* row : box_rows(litter, reference, days_between(*first, now)))
    if ((row->line == asked && !asked.empty()) || (row->chosen && !followed)) followed = row;
  if (followed)
    out.target = BoxTarget{followed->low_c, followed->high_c, followed->source, followed->line, asked};
  else
    out.target = reference::NotAssessed{"NO_REFERENCE", "no published box temperature at this age"};
  if (const auto* last = last_under_lamp(litter, now)) {
    if (now - last->at >= hours{12})
      out.under_lamp = reference::NotAssessed{
          "STALE", fmt::format("the last reading is from {}", say_day_time(litter.zone, last->at))};
    else
      out.under_lamp = *last;
  }
  if (const auto* last = last_in(AirPlace::basket, litter, now); last && now - last->at < kBasketReadingLasts)
    out.basket = *last;
  return out;
}

std::vector<Finding> findings(const Litter& litter, const Reference& reference, Instant now) {
  std::vector<Finding> out;
  const auto first = litter.first_birth();
  if (!first || *first > now) return out;
  const double age = days_between(*first, now);
  const auto unit = litter.units().temperature;
  const auto when = [&](Instant t) { return say_day_time(litter.zone, t); };
  const bool any_here = std::any_of(litter.pups.begin(), litter.pups.end(), [](const Pup& p) { return p.in_box(); });
  if (any_here) {
    const NestState nest = state(litter, reference, now);
    const auto* target = reference::value_of(nest.target);
    const auto* reading = reference::value_of(nest.under_lamp);
    if (target && nest.basket) {
      const Celsius t = nest.basket->what.celsius;
      const auto* rule = t < target->low    ? rule_of(reference.count_rules, "BASKET_COLD")
                         : t > target->high ? rule_of(reference.count_rules, "BASKET_HOT")
                                            : nullptr;
      if (rule) {
        out.push_back(found(*rule, "box",
                            fmt::format("{} in the basket on {}; as in the box, {} to {}", say(t, unit),
                                        when(nest.basket->at), say(target->low, unit), say(target->high, unit)),
                            nest.basket->at));
        out.back().source = target->source;
      }
    }
    if (target && reading) {
      const auto side = side_now(*reading, *target, litter, reference);
      const auto* rule = side == BandSide::below   ? rule_of(reference.count_rules, "BOX_COLD")
                         : side == BandSide::above ? rule_of(reference.count_rules, "BOX_HOT")
                                                   : nullptr;
      if (rule) {
        out.push_back(
            found(*rule, "box",
                  fmt::format("{} under the lamp on {}; at this age {} to {}", say(reading->what.celsius, unit),
                              when(reading->at), say(target->low, unit), say(target->high, unit)),
                  reading->at));
        out.back().source = target->source;
      }
    } else if (const auto* old = rule_of(reference.span_rules, "BOX_READING_OLD"); old && age < 14) {
      const auto* last = last_under_lamp(litter, now);
      if (!last || reached(*old, std::chrono::floor<Minutes>(now - last->at)))
        out.push_back(found(*old, "box",
                            last ? fmt::format("the last reading under the lamp is from {}", when(last->at))
                                 : std::string("no reading under the lamp is recorded yet"),
                            std::nullopt));
    }
  }
  for (const Pup& pup : litter.pups) {
    if (!pup.in_box()) continue;
    const record::Noted<record::Temperature>* last = nullptr;
    for (const auto& t : pup.temperatures)
      if (t.at <= now) last = &t;
    if (!last || now - last->at >= kPupReadingLasts) continue;
    const double days = days_between(pup.birth.at, last->at);
    const Celsius t = last->what.celsius;
    const auto told = [&](Celsius limit) {
      return fmt::format("{} on {}, day {}; the limit at this age is {}", say(t, unit), when(last->at),
                         say_number(std::floor(days), 0), say(limit, unit));
    };
    if (const auto* very = reference::worst_reached(reference.temperature_rules, "PUP_VERY_COLD", t)) {
      out.push_back(found(*very, pup.label, told(very->limit), last->at));
      continue;
    }
    const auto* cold = cold_limit(reference, days);
    const auto* hot = rule_of(reference.temperature_rules, days < 14 ? "PUP_HOT_TO_14D" : "PUP_HOT_TO_28D");
    const auto* fever = rule_of(reference.temperature_rules, "PUP_FEVER");
    if (fever && reached(*fever, t))
      out.push_back(found(*fever, pup.label, told(fever->limit), last->at));
    else if (cold && reached(*cold, t))
      out.push_back(found(*cold, pup.label, told(cold->limit), last->at));
    // On its first day a pup still has its dam's warmth: the printed range begins after it.
    else if (hot && days >= 1 && days < 28 && reached(*hot, t))
      out.push_back(found(*hot, pup.label, told(hot->limit), last->at));
  }
  return out;
}

}  // namespace lampside::nest
