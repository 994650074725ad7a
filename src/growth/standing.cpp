#include "growth/standing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "growth/weighings.hpp"
#include "reference/rules.hpp"

namespace lampside::growth {

using record::Litter;
using record::Pup;
using reference::days_between;
using reference::NotAssessed;
using std::chrono::hours;

std::string_view name_of(BirthClass c) {
  switch (c) {
    case BirthClass::normal:
      return "normal";
    case BirthClass::low:
      return "low";
    case BirthClass::very_low:
      return "very_low";
  }
  return "normal";
}

Grams scale_step(const Litter& litter) {
  if (litter.facts.scale_g) return *litter.facts.scale_g;
  return litter.units().weight == WeightUnit::grams ? Grams{1} : Grams{kGramsPerOunce / 8};
}

Grams usual_birth_weight(const Litter& litter, const reference::Reference& reference) {
  if (const auto* breed = reference::birth_weight_class(reference, litter.breed())) return breed->mean_g;
  Grams sum{0};
  int count = 0;
  for (const Pup& p : litter.pups)
    if (const auto w = birth_weight(p)) sum = sum + w->what.grams, ++count;
  if (count == 0)
    for (const auto& row : reference.birth_weights) sum = sum + row.mean_g, ++count;
  return sum / count;
}

double best_growth(double from_day, double to_day) {
  const auto log_ratio = [](double x) { return 0.13084 * x - 0.001616 * x * x; };
  const double a = std::clamp(from_day, 0.0, 21.0), b = std::clamp(to_day, 0.0, 21.0);
  // After day 21 the published curve ends; its last slope is kept as the ceiling.
  const double beyond = std::max(0.0, to_day - std::max(21.0, from_day)) * (0.13084 - 2 * 0.001616 * 21);
  return std::exp(log_ratio(b) - log_ratio(a) + beyond);
}

std::vector<std::string_view> readings_said_right(const Litter& litter) {
  std::vector<std::string_view> out;
  for (const auto& d : litter.done)
    if (std::string_view task = d.what.task; task.starts_with(record::kReadingRight))
      out.push_back(task.substr(std::string_view(record::kReadingRight).size()));
  std::sort(out.begin(), out.end());
  return out;
}
bool said_right(const std::vector<std::string_view>& those, const record::EntryId& reading) {
  return std::binary_search(those.begin(), those.end(), std::string_view(reading));
}

std::vector<Weighing> weighings(const Litter& litter, const Pup& pup, const reference::Reference& reference,
                                Instant now) {
  const auto right = readings_said_right(litter);
  const auto* jump = reference::rule_of(reference.percent_rules, "WEIGHT_JUMP");
  std::vector<Weighing> out;
  const record::Noted<record::Weight>* trusted = nullptr;
  const auto too_much = [&](const auto& from, const auto& to) {
    const double most = best_growth(days_between(pup.birth.at, from.at), days_between(pup.birth.at, to.at));
    return reached(*jump, Percent{(to.what.grams / from.what.grams / most - 1) * 100});
  };
  for (const auto& w : pup.weights) {
    if (w.at > now) continue;
    bool doubt = trusted && jump && !said_right(right, w.id) && too_much(*trusted, w);
    // A second reading that agrees with the doubted one bears it out: then the earlier, lower one was the slip.
    if (doubt && out.back().in_doubt && !too_much(*out.back().reading, w) &&
        w.what.grams >= out.back().reading->what.grams * 0.97)
      doubt = false;
    out.push_back({&w, doubt});
    if (!doubt) trusted = &w;
  }
  return out;
}

const record::Noted<record::Weight>* before(const std::vector<Weighing>& all, Instant than, Span at_least) {
  const record::Noted<record::Weight>* best = nullptr;
  for (const auto& w : all)
    if (!w.in_doubt && w.reading->at + at_least <= than) best = w.reading;
  return best;
}

std::optional<record::Noted<record::Weight>> birth_weight(const Pup& pup) {
  if (!pup.birth.what.grams) return std::nullopt;
  return record::Noted<record::Weight>{pup.birth.at, {*pup.birth.what.grams, {}, {}}, pup.birth.id, pup.birth.by, ""};
}

std::optional<Instant> next_weighing(const Pup& pup, reference::Level level, bool doubted,
                                     const reference::Reference& reference) {
  if (!pup.in_box()) return std::nullopt;
  const auto* last = pup.last_weight();
  if (!last) return pup.birth.at;
  if (doubted) return last->at;
  const double age = days_between(pup.birth.at, last->at);
  const auto* name = age < 1    ? "weigh_again_h_day_0"
                     : age < 14 ? "weigh_again_h_day_1"
                     : age < 30 ? "weigh_again_h_day_14"
                                : "weigh_again_h_day_30";
  double in_h = reference::parameter(reference, name);
  if (level <= reference::Level::act) in_h = std::min(in_h, reference::parameter(reference, "weigh_again_h_need"));
  return last->at + reference::to_span(Days{in_h / 24});
}

namespace {

Standing stand(const Litter& litter, const Pup& pup, const reference::Reference& reference, Instant now) {
  const NotAssessed none{"NO_DATA", "not weighed yet"};
  Standing s{pup.label,
             pup.collar(),
             pup.in_box(),
             none,
             Grams{scale_step(litter).count() / std::sqrt(12.0)},
             NotAssessed{"NO_DATA", "needs two weighings at least 4 hours apart"},
             NotAssessed{"NO_DATA", "no birth weight"},
             NotAssessed{"NO_DATA", "no birth weight"}};
  const auto all = weighings(litter, pup, reference, now);
  const record::Noted<record::Weight>* last = nullptr;
  for (const auto& w : all)
    if (!w.in_doubt) last = w.reading;
  if (!all.empty() && all.back().in_doubt)
    s.gain = NotAssessed{"IN_DOUBT", "the last reading cannot be right: weigh again"};
  if (last) {
    s.weight = *last;
    const auto* earlier = before(all, last->at, hours{4});
    if (earlier && !all.back().in_doubt) {
      const double days = days_between(earlier->at, last->at);
      const Grams difference = last->what.grams - earlier->what.grams;
      s.gain = Gain{earlier->at,
                    last->at,
                    difference,
                    Grams{scale_step(litter).count() / std::sqrt(6.0)},
                    difference.count() / days,
                    Percent{(std::pow(last->what.grams / earlier->what.grams, 1 / days) - 1) * 100}};
    }
  }
  const auto at_birth = birth_weight(pup);
  if (at_birth && last) s.since_birth = percent_change(at_birth->what.grams, last->what.grams);
  if (at_birth) {
    const auto* breed = reference::birth_weight_class(reference, litter.breed());
    if (!breed)
      s.birth_class = NotAssessed{"NO_REFERENCE", litter.breed().empty()
                                                      ? "the dam's breed is not recorded"
                                                      : fmt::format("no published limits for the {}", litter.breed())};
    else if (at_birth->what.grams < breed->very_low_below_g)
      s.birth_class = BirthClass::very_low;
    else
      s.birth_class = at_birth->what.grams < breed->normal_from_g ? BirthClass::low : BirthClass::normal;
  }
  return s;
}

/// Where the curve, else what is foreseen, crosses twice the birth weight; straight in the log between two points.
reference::Assessed<Doubling> doubling(const Pup& pup, const Standing& s) {
  const auto at_birth = birth_weight(pup);
  const auto* pace = reference::value_of(s.pace);
  if (!at_birth || !pace || s.curve.empty()) return s.doubled;
  const Grams twice = at_birth->what.grams * 2.0;
  Instant from = at_birth->at;
  Grams weight = at_birth->what.grams;
  const auto crossed = [&](Instant at, Grams grams) -> std::optional<Instant> {
    if (grams >= twice && grams > weight) {
      const double share = std::log(twice / weight) / std::log(grams / weight);
      return from + Span{std::llround(share * static_cast<double>((at - from).count()))};
    }
    from = at, weight = grams;
    return std::nullopt;
  };
  for (const auto& point : s.curve)
    if (point.at > from)
      if (const auto at = crossed(point.at, point.weight)) return Doubling{*at, false};
  for (std::size_t d = 0; d < pace->ahead.size(); ++d)
    if (const auto at = crossed(pace->as_of + hours{24 * (d + 1)}, pace->ahead[d])) return Doubling{*at, true};
  return NotAssessed{"NO_DATA", "not within the week ahead"};
}

Grams weight_of(const Standing& s) {
  if (const auto* pace = reference::value_of(s.pace)) return pace->weight;
  const auto* last = reference::value_of(s.weight);
  return last ? last->what.grams : Grams{0};
}

void give_places(std::vector<Standing>& all) {
  const auto counts = [](const Standing& s) { return s.in_box && weight_of(s) > Grams{0}; };
  const auto of = static_cast<int>(std::count_if(all.begin(), all.end(), counts));
  for (auto& s : all) {
    if (!counts(s)) continue;
    const auto heavier = std::count_if(all.begin(), all.end(),
                                       [&](const Standing& t) { return counts(t) && weight_of(t) > weight_of(s); });
    s.place = Place{static_cast<int>(heavier) + 1, of};
  }
}

}  // namespace

std::vector<Standing> standings(const Litter& litter, const reference::Reference& reference, Instant now,
                                const Course& course) {
  std::vector<Standing> out;
  for (const Pup& pup : litter.pups) {
    if (pup.birth.at > now) continue;
    Standing s = stand(litter, pup, reference, now);
    if (const auto pace = course.paces.find(pup.label); pace != course.paces.end()) s.pace = pace->second;
    if (const auto curve = course.curves.find(pup.label); curve != course.curves.end()) s.curve = curve->second;
    s.doubled = doubling(pup, s);
    out.push_back(std::move(s));
  }
  give_places(out);
  return out;
}

Round current_round(const Litter& litter, Instant now) {
  struct Hit {
    Instant at;
    const Pup* pup;
  };
  std::vector<Hit> hits;
  std::vector<const Pup*> here;
  for (const Pup& pup : litter.pups) {
    if (!pup.in_box() || pup.birth.at > now) continue;
    here.push_back(&pup);
    for (const auto& w : pup.weights)
      if (w.at <= now && w.id != pup.birth.id) hits.push_back({w.at, &pup});
  }
  std::sort(hits.begin(), hits.end(), [](const Hit& a, const Hit& b) { return a.at < b.at; });
  Round round;
  for (const Hit& hit : hits) {
    const bool whole = round.started && round.left.empty();
    const bool stale = round.started && hit.at - *round.started >= hours{6};
    if (!round.started || whole || stale) {
      round = Round{hit.at, {}, {}};
      for (const Pup* p : here)
        if (p->birth.at <= hit.at) round.left.push_back(p->label);
    }
    if (std::find(round.weighed.begin(), round.weighed.end(), hit.pup->label) == round.weighed.end())
      round.weighed.push_back(hit.pup->label);
    std::erase(round.left, hit.pup->label);
  }
  const bool stale = !hits.empty() && now - hits.back().at >= hours{6};
  const bool finished_a_while_ago = round.left.empty() && !hits.empty() && now - hits.back().at >= Minutes{30};
  if (!round.started || stale || finished_a_while_ago) {
    round = Round{};
    for (const Pup* p : here) round.left.push_back(p->label);
  }
  return round;
}

}  // namespace lampside::growth
