#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "advice/assessment.hpp"
#include "homes/findings.hpp"
#include "homes/handover.hpp"
#include "nest/sensor.hpp"
#include "reference/rules.hpp"

namespace lampside::advice {
namespace {

using record::Litter;
using reference::Reference;

/// A phone's clock may run this much ahead: what it wrote is taken as of now, not set aside.
constexpr Span kFastClock = Minutes{2};

/// The litter as far as `now`: readings of the future are set aside, and told of. They are usually a wrong date.
std::optional<Litter> without_future(const Litter& litter, Instant now, std::vector<const record::Entry*>& later) {
  bool any = false;
  for (const auto& e : litter.log) {
    if (e.at.instant > now) any = true;
    if (e.at.instant > now + kFastClock) later.push_back(&e);
  }
  if (!any) return std::nullopt;
  std::vector<record::Entry> known;
  for (const auto& e : litter.log)
    if (e.at.instant <= now + kFastClock) {
      known.push_back(e);
      known.back().at.instant = std::min(e.at.instant, now);
      known.back().about = litter.about(e);
      known.back().corrects.reset();  // the log holds only what is live: there is nothing left to correct
    }
  std::erase_if(known, [](const record::Entry& e) { return record::body_as<record::Strike>(e) != nullptr; });
  Litter out = record::fold(known, litter.key, litter.zone);
  out.misfits = litter.misfits;
  std::erase_if(out.misfits, [&](const record::Misfit& m) {
    return std::any_of(later.begin(), later.end(), [&](const record::Entry* e) { return e->id == m.id; });
  });
  return out;
}

void add(std::vector<Finding>& all, std::vector<Finding> more) {
  all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

/// From the first sign of labour to a day after the first pup nothing is reminded of that belongs to the plan or to the
/// shops: that night has its own list.
bool whelping_now(const whelping::Watch& watch, const Litter& litter, Instant now) {
  const auto first = litter.first_birth();
  if (first) return now - *first < std::chrono::hours{24};
  return watch.stage != whelping::Stage::before;
}

/// Worst first.
void put_in_order(std::vector<Finding>& findings) {
  const auto rank = [](const Finding& f) {
    // Within a level what must be done before anything else comes first: a cold pup is warmed before it is fed.
    return std::tuple{f.level,
                      !f.code.starts_with("PUP_COLD"),
                      f.since.value_or(Instant::max()),
                      std::string_view(f.code),
                      std::string_view(f.about),
                      std::string_view(f.because)};
  };
  std::sort(findings.begin(), findings.end(), [&](const Finding& a, const Finding& b) { return rank(a) < rank(b); });
}

}  // namespace

std::optional<Litter> known_by(const Litter& whole, Instant now) {
  std::vector<const record::Entry*> later;
  auto out = without_future(whole, now, later);
  if (!out) return out;
  out->log = whole.log, out->struck = whole.struck, out->former_labels = whole.former_labels;
  for (const auto& pup : whole.pups)  // born at a wrong date: it can be looked up and put right
    if (!out->pup(pup.label)) out->pups.push_back(pup);
  return out;
}

Instant ring_by(const Assessment& assessment, const due::Forecast& forecast, const Reference& reference) {
  for (const Finding& f : assessment.findings)
    if (f.about == "dam" && f.level <= reference::Level::call_vet) return assessment.at;
  Instant out = forecast.ring_by;
  for (const auto& clock : assessment.whelping.clocks)
    if (clock.kind == "temperature_drop")
      for (const auto* rule : reference::rules_of(reference.span_rules, "DROP_CLOCK"))
        if (rule->level <= reference::Level::call_vet) out = std::min(out, clock.since + rule->limit);
  return out;
}

std::string say_ring_by(const Assessment& assessment, const due::Forecast& forecast, const Reference& reference,
                        const Zone& zone) {
  const Instant at = ring_by(assessment, forecast, reference);
  if (at <= assessment.at) return "now";
  return at == forecast.ring_by ? say_day(zone.day_of(at)) : say_day_time(zone, at);
}

void add_live(Assessment& assessment, std::vector<Finding> findings) {
  add(assessment.findings, std::move(findings));
  put_in_order(assessment.findings);
}

Assessment assess(const Litter& litter, const Reference& reference, Instant now) {
  Kept nothing;
  return assess(litter, reference, now, nothing);
}

Assessment assess(const Litter& whole, const Reference& reference, Instant now, Kept& kept) {
  std::vector<const record::Entry*> later;
  const auto trimmed = without_future(whole, now, later);
  const Litter& litter = trimmed ? *trimmed : whole;

  // Without what is yet to come it is another litter, and no longer the same one when that has come.
  Kept of_trimmed;
  auto& followed = (trimmed ? of_trimmed : kept).course;
  if (!followed || !followed->holds(now)) followed = growth::follow(litter, reference, now);
  const auto& course = *followed;
  Assessment out{now,
                 litter.key,
                 due::forecast(litter, reference, now),
                 whelping::watch(litter, reference, now),
                 {litter.dam_name(), NotAssessed{"NO_DATA", "no temperature is recorded yet"}},
                 course.doubts,
                 course.gain,
                 growth::standings(litter, reference, now, course),
                 nest::state(litter, reference, now)};
  out.homes = homes::order(litter, now);
  out.supplies = supplies::plan(litter, reference, now, out.due);
  const auto* expected = reference::value_of(out.due);
  out.care = care::plan(litter, reference, now, expected ? std::optional{expected->p50} : std::nullopt);
  out.turns = nest::turns(litter, reference, now);
  out.plate = nest::plate(litter, reference, now, expected ? std::optional{expected->p50} : std::nullopt);
  out.milk = nest::supply_of_milk(litter, reference, now, out.pups);
  if (!litter.dam_temperatures.empty()) out.dam.temperature = litter.dam_temperatures.back();

  if (const auto since = due::temperature_dropped(litter, reference, now, out.due))
    out.whelping.clocks.push_back({"temperature_drop", *since});

  add(out.findings, due::findings(litter, reference, now, out.due));
  add(out.findings, whelping::findings(litter, reference, now));
  add(out.findings, growth::findings(litter, reference, now, course));
  add(out.findings, nest::findings(litter, reference, now));
  add(out.findings, nest::lamp_findings(litter, reference, now));
  out.lamp = nest::lamp_advice(litter, reference, now);
  out.warmth = nest::warmth_day(litter, reference, record::AirPlace::under_lamp, now);
  out.rewarming = nest::rewarming(litter, reference, now);
  out.feeding = nest::feeding(litter, reference, now, out.pups, out.doubts, out.findings);
  add(out.findings, nest::findings(out.feeding, litter, reference, now));
  add(out.findings, nest::sensor_findings(litter, reference, now));
  const bool busy = whelping_now(out.whelping, litter, now);
  add(out.findings, nest::findings(out.plate, litter, reference, now));
  if (!busy) add(out.findings, nest::findings(out.turns, litter, reference, now));
  if (!busy) add(out.findings, nest::findings(out.milk, litter, reference));
  if (!busy) add(out.findings, supplies::findings(litter, reference, now, out.due, out.supplies));
  add(out.findings, care::findings(out.care, litter, reference, now, busy));
  if (!busy) add(out.findings, homes::folder_findings(litter, reference, out.care, now));
  add(out.findings, care::dose_findings(litter, reference, now));
  if (!busy) add(out.findings, homes::findings(litter, out.homes, reference));
  if (const auto* rule = reference::rule_of(reference.count_rules, "MISFIT"))
    for (const auto& m : litter.misfits) {
      const auto entry =
          std::find_if(whole.log.begin(), whole.log.end(), [&](const record::Entry& e) { return e.id == m.id; });
      const std::string what = entry == whole.log.end()
                                   ? std::string("an entry")
                                   : fmt::format("{} of {}", entry->kind, say_day_time(litter.zone, entry->at.instant));
      out.findings.push_back(
          reference::found(*rule, entry == whole.log.end() || entry->about.empty() ? "litter" : entry->about,
                           what + ": " + m.why, std::nullopt));
    }
  if (const auto* rule = reference::rule_of(reference.count_rules, "FUTURE_ENTRY"))
    for (const auto* e : later)
      out.findings.push_back(reference::found(
          *rule, e->about.empty() ? "litter" : e->about,
          fmt::format("{} dated {}, which is still to come", e->kind, say_day_time(litter.zone, e->at.instant)),
          e->at.instant));

  // A forecast never stands beside a red flag: it would be read as a reason to wait.
  const bool flagged = std::any_of(out.findings.begin(), out.findings.end(), [](const Finding& f) {
    return f.about == "dam" && f.level <= reference::Level::call_vet;
  });
  if (flagged) {
    const NotAssessed silent{"SILENCED", "a warning stands: no forecast beside it"};
    out.whelping.next_pup = silent;
    out.whelping.last_pup = silent;
    out.whelping.one_left = silent;
  }

  for (auto& pup : out.pups)
    for (const auto& f : out.findings)
      if (f.about == pup.label && f.level < pup.level) pup.level = f.level;
  for (auto& pup : out.pups) {
    const bool doubted = std::any_of(out.doubts.begin(), out.doubts.end(),
                                     [&](const growth::Doubt& d) { return d.open_for(pup.label); });
    if (const auto* known = litter.pup(pup.label))
      pup.weigh_next = growth::next_weighing(*known, pup.level, doubted, reference);
  }
  out.dosing = care::dosing_rounds(litter, reference, now, out.pups, out.doubts, out.findings);
  put_in_order(out.findings);
  return out;
}

}  // namespace lampside::advice
