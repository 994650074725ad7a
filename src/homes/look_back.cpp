#include "homes/look_back.hpp"

#include <algorithm>
#include <cmath>

#include "due/forecast.hpp"
#include "growth/standing.hpp"
#include "reference/rules.hpp"

namespace lampside::homes {
namespace {

using record::Anchor;
using record::Litter;

/// A pup counts as weaned from this day on.
constexpr double kWeaned = 49;

/// What was known then, and nothing of what came.
Litter as_of(const Litter& litter, Instant then) {
  auto entries = record::known_at(litter.log, then);
  for (auto& e : entries) e.corrects.reset();  // the log holds only what is live
  std::erase_if(entries, [](const record::Entry& e) { return record::body_as<record::Strike>(e) != nullptr; });
  return record::fold(entries, litter.key, litter.zone);
}

std::optional<Days> middle_doubling(const Litter& litter) {
  std::vector<double> days;
  for (const auto& pup : litter.pups) {
    if (pup.weights.empty() || pup.weights.front().id != pup.birth.id) continue;
    for (const auto& w : pup.weights)
      if (w.what.grams >= pup.weights.front().what.grams * 2.0) {
        days.push_back(reference::days_between(pup.birth.at, w.at));
        break;
      }
  }
  if (days.empty()) return std::nullopt;
  std::sort(days.begin(), days.end());
  return Days{days[(days.size() - 1) / 2]};
}

std::vector<WeekOld> weeks_of(const Litter& litter) {
  std::vector<WeekOld> out;
  for (int week = 1; week <= 8; ++week) {
    Grams sum{0};
    int n = 0;
    for (const auto& pup : litter.pups) {
      const record::Noted<record::Weight>* nearest = nullptr;
      const auto off = [&](const auto& w) { return std::abs(reference::days_between(pup.birth.at, w.at) - 7 * week); };
      for (const auto& w : pup.weights)
        if (off(w) <= 1 && (!nearest || off(w) < off(*nearest))) nearest = &w;
      if (nearest) sum = sum + nearest->what.grams, ++n;
    }
    if (n >= 2) out.push_back({week, sum * (1.0 / n), n});
  }
  return out;
}

}  // namespace

LookBack look_back(const Litter& litter, const reference::Reference& reference, Instant now) {
  LookBack out;
  out.litter = litter.key;
  out.dam = litter.dam_name();
  out.first = litter.first_birth();
  for (const auto& pup : litter.pups) {
    ++out.born;
    if (!pup.born_alive()) {
      ++out.stillborn;
      continue;
    }
    ++out.born_alive;
    if (pup.birth.what.grams) out.birth_weights.push_back(*pup.birth.what.grams);
    const auto end = pup.death ? pup.death->at : now;
    if (reference::days_between(pup.birth.at, end) >= kWeaned) ++out.weaned;
    if (pup.departure && !pup.death) ++out.left;
    if (!pup.death) ++out.living;
    if (pup.death)
      out.losses.push_back(
          {pup.label, static_cast<int>((litter.zone.day_of(pup.death->at) - litter.zone.day_of(pup.birth.at)).count()),
           pup.death->what.cause.value_or("")});
  }
  out.doubled = middle_doubling(litter);
  out.weeks = weeks_of(litter);
  const auto course = growth::follow(litter, reference, now);
  if (const auto* gain = reference::value_of(course.gain)) out.gain = *gain;
  for (const auto& total : ledger(litter, now).totals)
    if (total.cost > Cash{0}) out.cost.emplace_back(total.currency, total.cost);
  if (!out.first) return out;
  out.all_weaned = reference::days_between(*out.first, now) >= kWeaned;

  const auto born = *out.first;
  const auto from = [&](Anchor anchor, Instant at) {
    // Days as calendars count them: the anchor's own hour is seldom known.
    out.carried.push_back(
        {anchor, Days{static_cast<double>((litter.zone.day_of(born) - litter.zone.day_of(at)).count())}});
  };
  if (!litter.ovulations.empty()) from(Anchor::ovulation, litter.ovulations.back().at);
  if (!litter.lh_surges.empty()) from(Anchor::lh_surge, litter.lh_surges.back().at);
  if (!litter.matings.empty())
    from(Anchor::mating, litter.matings.front().at);  // the first, as `earlier_litter` means it
  for (const double before : {7.0, 1.0}) {
    const Instant then = born - reference::to_span(Days{before});
    const auto forecast = due::forecast(as_of(litter, then), reference, then);
    if (const auto* f = reference::value_of(forecast))
      out.foretold.push_back({Days{before}, f->p05, f->p50, f->p95, Hours{24 * reference::days_between(f->p50, born)},
                              f->p05 <= born && born <= f->p95});
  }
  if (!out.carried.empty()) {
    record::EarlierLitter fact{out.carried.front().from, out.carried.front().days, {}, {}, {}, {}};
    fact.born_alive = out.born_alive;
    fact.stillborn = out.stillborn;
    if (out.all_weaned) fact.weaned = out.weaned;
    // What the journal takes: further off is a slip in the weights, not a litter.
    if (out.gain && *out.gain >= Percent{50} && *out.gain <= Percent{150})
      fact.gain_pct = Percent{std::round(out.gain->count())};
    out.for_the_next = fact;
  }
  return out;
}

bool taken_over(const Litter& litter, const LookBack& earlier) {
  return std::any_of(litter.earlier.begin(), litter.earlier.end(), [&](const auto& e) {
    const bool tapped = earlier.first && litter.zone.day_of(e.at) == litter.zone.day_of(*earlier.first);
    const auto& fact = earlier.for_the_next;
    return tapped || (fact && e.what.from == fact->from && e.what.days == fact->days &&
                      e.what.born_alive == fact->born_alive);  // typed by hand, at another time
  });
}

}  // namespace lampside::homes
