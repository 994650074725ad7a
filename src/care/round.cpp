#include "care/round.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "care/given.hpp"
#include "measure/text.hpp"
#include "reference/rules.hpp"

namespace lampside::care {
namespace {

using record::Litter;
using record::Pup;
using reference::Finding;
using reference::parameter;
using reference::Reference;

constexpr Span kHour = std::chrono::hours{1};
Span hours_of(const Reference& reference, const char* name) {
  return Span{std::llround(parameter(reference, name) * static_cast<double>(kHour.count()))};
}

std::string say_days(double days) {
  const auto whole = static_cast<int>(std::lround(days));
  return whole == 1 ? "1 day" : std::to_string(whole) + " days";
}

/// Findings that are about the weighing and not about the pup (the weight has refusals of its own), or about its size.
bool about_the_weighing(const std::string& code) {
  static constexpr std::array<std::string_view, 7> kCodes{"LIGHT_IN_LITTER", "WEIGH_LATE",  "FIRST_WEIGHT_LATE",
                                                          "READING_DOUBTED", "WEIGHT_JUMP", "SCALE_TOO_COARSE",
                                                          "MISFIT"};
  return std::find(kCodes.begin(), kCodes.end(), code) != kCodes.end() || code.starts_with("DOSE_") ||
         code == "FUTURE_ENTRY";
}

/// What stands between a label and any dog: said for each, since each is looked at alone.
void refuse_label(const DosingRound& round, const Litter& litter, Instant now, std::vector<NotAssessed>& out) {
  if (!round.label) {
    out.push_back({"LABEL", round.label.error().what});
    return;
  }
  const Label& label = *round.label;
  if (label.strength_doubt && !label.confirmed) out.push_back({"STRENGTH_DOUBT", *label.strength_doubt});
  if (label.use_by && litter.zone.day_of(now) > *label.use_by)
    out.push_back({"EXPIRED", "not to be used after " + say_day(*label.use_by)});
  if (label.opened_unknown)
    out.push_back({"OPENED_WHEN", "it keeps only so long once opened, and since when it is open is not written down"});
}

void refuse_course(const Label& label, const Doses& doses, const Litter& litter, const Reference& reference,
                   Instant now, DogDose& dog) {
  const auto today = litter.zone.day_of(now);
  for (const auto& d : doses) {
    if (d.at > now) continue;
    const auto other = actives_given(d.what, litter);
    const bool same = same_medicine(d.what, other, label);
    const auto day = litter.zone.day_of(d.at);
    if (d.what.product == label.name && day == today)
      dog.given.push_back(d);
    else if (day == today && label.wormer && is_wormer(d.what, litter))
      dog.refused.push_back({"TWO_WORMERS", fmt::format("given {} today at {}: one wormer a day", d.what.product,
                                                        say_time(litter.zone, d.at))});
    const bool opposed = (names_active(label.actives, "piperazine") && names_active(other, "pyrantel")) ||
                         (names_active(label.actives, "pyrantel") && names_active(other, "piperazine"));
    if (opposed && !same && now - d.at < hours_of(reference, "dose_antagonist_h"))
      dog.refused.push_back(
          {"ANTAGONISTS", fmt::format("given {} on {}: piperazine and pyrantel work against each other", d.what.product,
                                      say_day(day))});
  }
  const Course course = course_of(doses, label, litter, now);
  if (!course.last || !dog.given.empty()) return;
  const auto since_last = (today - *course.last).count(), since_first = (today - *course.first).count();
  if (course.days < label.days_in_row && since_last == 1) {
    dog.day = course.days + 1;
  } else if (!label.repeat) {
    dog.refused.push_back({"NO_INTERVAL", fmt::format("given on {}, and the label's interval is not written down",
                                                      say_day(*course.last))});
  } else if (static_cast<double>(since_first) < label.repeat->count()) {
    const auto again = *course.first + std::chrono::days{static_cast<int>(std::ceil(label.repeat->count()))};
    if (course.days < label.days_in_row)
      dog.refused.push_back({"COURSE_BROKEN", fmt::format("day {} of {} was on {} and a day was missed: ask your vet "
                                                          "whether to begin again",
                                                          course.days, label.days_in_row, say_day(*course.last))});
    else
      dog.refused.push_back(
          {"TOO_SOON", fmt::format("given on {}; the label says every {}, so not before {}", say_day(*course.last),
                                   say_days(label.repeat->count()), say_day(again))});
  }
}

void work_out(const Label& label, DogDose& dog) {
  const auto* weight = reference::value_of(dog.weight);
  if (!weight) {
    dog.refused.push_back(std::get<NotAssessed>(dog.weight));
    return;
  }
  auto dose = dosage(label, to_kilograms(weight->grams));
  if (const auto* no = std::get_if<NotAssessed>(&dose))
    dog.refused.push_back(*no);
  else if (dog.refused.empty() && dog.given.empty())
    dog.dose = std::move(std::get<Dosage>(dose));
}

template <class T>
std::optional<record::Noted<record::DoseSkipped>> skipped_today(const T& all, const std::string& product,
                                                                const Litter& litter, Instant now) {
  std::optional<record::Noted<record::DoseSkipped>> out;
  for (const auto& s : all)
    if (s.what.product == product && s.at <= now && litter.zone.day_of(s.at) == litter.zone.day_of(now)) out = s;
  return out;
}

DogDose for_pup(const DosingRound& round, const Litter& litter, const Reference& reference, Instant now, const Pup& pup,
                const growth::Standing& standing, std::span<const growth::Doubt> doubts,
                std::span<const Finding> findings) {
  DogDose dog{pup.label, dose_weight(litter, pup, standing, doubts, reference, now), {}, {}, 1, {}, {}};
  refuse_label(round, litter, now, dog.refused);
  dog.skipped = skipped_today(pup.doses_skipped, round.product, litter, now);
  for (const auto& f : findings)
    if (f.about == pup.label && f.level <= reference::Level::act && !about_the_weighing(f.code)) {
      dog.refused.push_back({"UNWELL", std::string(f.headline) + ": a chilled or ill pup is not wormed; ask your vet"});
      break;
    }
  if (!round.label) return dog;
  const Label& label = *round.label;
  const auto age = (litter.zone.day_of(now) - litter.zone.day_of(pup.birth.at)).count();
  const double least = label.min_age ? label.min_age->count() : parameter(reference, "dose_min_age_d");
  if (static_cast<double>(age) < least)
    dog.refused.push_back({"UNDER_AGE", fmt::format("{} old; {} {}", say_days(static_cast<double>(age)),
                                                    label.min_age ? "the label begins at"
                                                                  : "the label names no least age, and none is "
                                                                    "worked out before",
                                                    say_days(least))});
  refuse_course(label, pup.doses, litter, reference, now, dog);
  work_out(label, dog);
  return dog;
}

Assessed<DoseWeight> dam_weight(const Litter& litter, const Reference& reference, Instant now) {
  if (litter.dam_weights.empty()) return NotAssessed{"NO_WEIGHT", "she has not been weighed"};
  const auto& last = litter.dam_weights.back();
  const double days = reference::days_between(last.at, now);
  if (days > parameter(reference, "dose_dam_weight_max_d"))
    return NotAssessed{"STALE_WEIGHT", fmt::format("her weight is {} old: weigh her again", say_days(days))};
  if (last.what.grams < record::kLeastDam)
    return NotAssessed{"TOO_LIGHT", fmt::format("no grown dog weighs {}: weigh her again, and write the unit with it",
                                                say(last.what.grams, WeightUnit::grams))};
  // Against what she weighed before, or is said to weigh: a slip of the point is a dose of ten dogs.
  std::optional<Grams> other;
  if (litter.dam_weights.size() > 1)
    other = litter.dam_weights[litter.dam_weights.size() - 2].what.grams;
  else if (litter.facts.dam && litter.facts.dam->kg)
    other = to_grams(*litter.facts.dam->kg);
  if (other && std::fabs(last.what.grams / *other - 1) * 100 > parameter(reference, "dose_dam_apart_pct"))
    return NotAssessed{"WEIGHTS_APART", fmt::format("the scale said {}, before it was {}: weigh her again",
                                                    say(to_kilograms(last.what.grams)), say(to_kilograms(*other)))};
  return DoseWeight{last.what.grams, last.at, false};
}

DogDose for_dam(const DosingRound& round, const Litter& litter, const Reference& reference, Instant now) {
  DogDose dog{"dam", dam_weight(litter, reference, now), {}, {}, 1, {}, {}};
  refuse_label(round, litter, now, dog.refused);
  dog.skipped = skipped_today(litter.dam_doses_skipped, round.product, litter, now);
  refuse_course(*round.label, litter.dam_doses, litter, reference, now, dog);
  work_out(*round.label, dog);
  return dog;
}

/// From today on at the label's interval, to the end of the usual course.
void reckon_course(DosingRound& round, const Litter& litter, const Reference& reference, Instant now,
                   std::span<const growth::Standing> standings) {
  if (!round.label || !round.label->repeat) return;
  std::vector<std::vector<WeightThen>> dogs;
  const auto& facts = litter.facts;
  const auto adult = facts.adult_kg ? facts.adult_kg : facts.dam ? facts.dam->kg : std::optional<Kilograms>{};
  for (const auto& s : standings) {
    const auto* pup = litter.pup(s.label);
    if (!pup || !pup->in_box()) continue;
    const Instant until = pup->birth.at + reference::to_span(Days{parameter(reference, "dose_course_until_d")});
    auto& weights = dogs.emplace_back();
    const auto before = course_of(pup->doses, *round.label, litter, now);
    Instant begins = now;
    if (before.first)  // not before the interval is over
      begins = std::max(now, litter.zone.start_of(*before.first) + reference::to_span(*round.label->repeat));
    for (Instant at = begins; at <= until + kHour; at += reference::to_span(*round.label->repeat)) {
      const auto then = weight_then(s, at, adult, reference);
      const auto* known = reference::value_of(then);
      if (!known) return;
      weights.push_back(*known);
    }
    round.treatments = std::max(round.treatments, static_cast<int>(weights.size()));
  }
  if (round.treatments > 0) round.course = to_buy(*round.label, dogs);
}

}  // namespace

Assessed<DoseWeight> dose_weight(const Litter& litter, const Pup& pup, const growth::Standing& standing,
                                 std::span<const growth::Doubt> doubts, const Reference& reference, Instant now) {
  const auto* last = pup.last_weight();
  if (last && last->at <= now)
    if (const Span old = now - last->at; old > hours_of(reference, "dose_weight_max_h")) {
      const auto wrong = too_little(old, reference);
      return NotAssessed{
          "STALE_WEIGHT",
          fmt::format("its weight is {} old: in weeks 2 to 4 a dose by it would be {} to {} % too little; "
                      "weigh again",
                      say_span(old), say_number(wrong.least.count(), 0), say_number(wrong.most.count(), 0))};
    }
  return growth::sound_weight(litter, pup, standing, doubts, reference, now);
}

std::vector<DosingRound> dosing_rounds(const Litter& litter, const Reference& reference, Instant now,
                                       std::span<const growth::Standing> standings,
                                       std::span<const growth::Doubt> doubts, std::span<const Finding> findings) {
  std::vector<DosingRound> out;
  for (auto product = litter.products.rbegin(); product != litter.products.rend(); ++product) {
    DosingRound round{product->what.name, product->id, read_label(product->what, reference), {}, {}, {}, {}, 0};
    if (round.label) round.other_strengths = other_strengths(*round.label, reference);
    for (const auto& s : standings)
      if (const auto* pup = litter.pup(s.label); pup && pup->in_box())
        round.dogs.push_back(for_pup(round, litter, reference, now, *pup, s, doubts, findings));
    if (round.label && product->what.for_dam.value_or(false) && litter.first_birth() && !litter.dam_death)
      round.dogs.push_back(for_dam(round, litter, reference, now));
    for (const auto& dog : round.dogs)
      if (dog.dose && !dog.skipped) {
        if (!round.together) round.together = Portion{dog.dose->give.in, 0};
        round.together->count += dog.dose->give.count;
      }
    reckon_course(round, litter, reference, now, standings);
    out.push_back(std::move(round));
  }
  return out;
}

}  // namespace lampside::care
