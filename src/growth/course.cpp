// The weights of a litter, round by round through its model.
#include <algorithm>
#include <cmath>

#include "growth/tracker.hpp"
#include "growth/weighings.hpp"
#include "reference/rules.hpp"

namespace lampside::growth {
namespace {

using record::Pup;
using reference::days_between;
using reference::NotAssessed;

/// A doubt nobody answered is let go of after this long.
constexpr Span kDoubtsStay = std::chrono::hours{7 * 24};

struct Hit {
  std::size_t pup;
  const record::Noted<record::Weight>* reading;
};

double unit_of(const record::Litter& litter, const record::Weight& w) {
  const std::string read = w.as_read.value_or("");
  if (read.find("oz") != std::string::npos) return kGramsPerOunce;
  if (read.find("kg") != std::string::npos) return 1000;
  return read.empty() && litter.units().weight == WeightUnit::ounces ? kGramsPerOunce : 1;
}

/// Each pup's gain over a week or more between day 2 and day 21, against what is usual at those ages; the middle pup.
reference::Assessed<Percent> gain_against_usual(const std::vector<const Pup*>& pups,
                                                const std::map<std::string, std::vector<CurvePoint>>& curves,
                                                const PaceModel& usual) {
  std::vector<double> gains;
  for (const Pup* pup : pups) {
    const auto curve = curves.find(pup->label);
    if (curve == curves.end()) continue;
    const CurvePoint *from = nullptr, *to = nullptr;
    for (const auto& point : curve->second) {
      const double age = days_between(pup->birth.at, point.at);
      if (age < 2 || age > 21) continue;
      if (!from) from = &point;
      to = &point;
    }
    if (!from || days_between(from->at, to->at) < 7) continue;
    const Days a{days_between(pup->birth.at, from->at)}, b{days_between(pup->birth.at, to->at)};
    gains.push_back(std::log(to->weight / from->weight) / usual.expected_change(a, b));
  }
  if (gains.empty()) return NotAssessed{"NO_DATA", "needs weights over a week between day 2 and day 21"};
  std::nth_element(gains.begin(), gains.begin() + static_cast<std::ptrdiff_t>(gains.size() / 2), gains.end());
  return Percent{100 * gains[gains.size() / 2]};
}

}  // namespace

bool Doubt::open_for(std::string_view label) const { return std::find(open.begin(), open.end(), label) != open.end(); }

std::string question(const Doubt& d) {
  if (d.likelier == "tub_left_on") return "Was the tub left on the scale, or taken off twice?";
  if (d.likelier == "zero_error") return "All weights of this round are off alike: was the scale at zero?";
  if (d.likelier == "wrong_unit") return "Was it typed in another unit?";
  if (d.likelier == "decimal_slip") return "Is the point in the wrong place?";
  if (d.likelier == "typed_again") return "These are the weights of the round before: typed in again?";
  if (d.likelier == "weighed_twice") return "Was another pup weighed twice, under this name too?";
  if (d.likelier != "swapped") return "Is a digit wrong?";
  std::string names;
  for (std::size_t i = 0; i < d.labels.size(); ++i)
    names += (i == 0 ? "" : i + 1 == d.labels.size() ? " and " : ", ") + d.labels[i];
  return "Were pups " + names + " mixed up?";
}

double house_factor(const record::Litter& litter, Instant now) {
  constexpr double kPublishedLitters = 2;
  double sum = kPublishedLitters, count = kPublishedLitters;
  for (const auto& e : litter.earlier)
    if (e.at <= now && e.what.gain_pct) sum += e.what.gain_pct->count() / 100, ++count;
  return sum / count;
}

Course follow(const record::Litter& litter, const reference::Reference& reference, Instant now) {
  Course out;
  const auto first = litter.first_birth();
  if (!first) return out;
  const auto changes = [&](Instant at) {
    if (at <= now)
      out.from = std::max(out.from, at);
    else
      out.until = std::min(out.until, at);
  };
  for (const auto& e : litter.earlier) changes(e.at);
  std::vector<const Pup*> pups;
  std::vector<Hit> hits;
  for (const Pup& p : litter.pups) {
    if (!p.born_alive()) continue;
    changes(p.birth.at);
    for (const auto& w : p.weights) changes(w.at);
    if (p.birth.at > now) continue;
    for (const auto& w : p.weights)
      if (w.at <= now && w.at >= p.birth.at && w.what.grams > Grams{0}) hits.push_back({pups.size(), &w});
    pups.push_back(&p);
  }
  std::stable_sort(hits.begin(), hits.end(), [](const Hit& a, const Hit& b) { return a.reading->at < b.reading->at; });
  const PaceModel model(reference, house_factor(litter, now));
  Tracker tracker(model, pups.size(), true);
  const Grams likely = usual_birth_weight(litter, reference), step = scale_step(litter);
  for (std::size_t i = 0; i < pups.size(); ++i) tracker.born(i, Days{days_between(*first, pups[i]->birth.at)}, likely);

  const auto right = readings_said_right(litter);
  std::vector<Instant> rounds;
  std::vector<std::optional<std::size_t>> begun(pups.size());  // the round of its first reading
  std::vector<std::size_t> ended(pups.size());
  std::vector<Instant> last(pups.size(), *first);
  for (const Hit& h : hits) last[h.pup] = h.reading->at;
  std::size_t before = 0;  // where the round before this one begins
  for (std::size_t from = 0; from < hits.size();) {
    // One round: within an hour and a half, and no pup twice.
    std::vector<bool> in(pups.size());
    std::size_t to = from;
    std::vector<Figure> figures;
    for (; to < hits.size(); ++to) {
      const auto& [pup, reading] = hits[to];
      if (in[pup] || reading->at - hits[from].reading->at > Minutes{90}) break;
      in[pup] = true;
      figures.push_back({pup, reading->what.grams, reading->what.tare_g.value_or(Grams{0}), step,
                         unit_of(litter, reading->what), said_right(right, reading->id)});
    }
    const Instant at = hits[from].reading->at;
    for (const Figure& f : figures) {
      if (!begun[f.pup]) begun[f.pup] = rounds.size();
      ended[f.pup] = rounds.size();
    }
    rounds.push_back(at);
    for (const auto& d : tracker.round(Days{days_between(*first, at)}, figures)) {
      const std::size_t first_hit = d.before ? before : from;
      const Instant when = hits[first_hit].reading->at;
      changes(when + kDoubtsStay);
      if (now >= when + kDoubtsStay) continue;
      Doubt doubt{{}, {}, name_of(d.likelier), std::min(std::exp(d.log_factor), 1e9), d.would_be, when, {}, false};
      for (const auto f : d.figures) {
        const Hit& h = hits[first_hit + f];
        doubt.entries.push_back(h.reading->id);
        doubt.labels.push_back(pups[h.pup]->label);
        // One of two that may be mixed up, weighed again, leaves the other as doubtful as before.
        if (last[h.pup] <= h.reading->at) doubt.open.push_back(pups[h.pup]->label);
        if (last[h.pup] <= hits[to - 1].reading->at) doubt.asked = true;
      }
      out.doubts.push_back(std::move(doubt));
    }
    before = from;
    from = to;
  }
  for (std::size_t i = 0; i < pups.size(); ++i) {
    if (tracker.readings(i) < 2) {
      out.paces.emplace(pups[i]->label, NotAssessed{"NO_DATA", "needs two weighings"});
      continue;
    }
    const PaceNow p = tracker.now(i);
    Pace pace{p.weight,
              p.weight_sd,
              Percent{std::expm1(p.pace) * 100},
              Percent{p.pace_sd * 100},
              p.weight.count() * std::expm1(p.pace),
              p.chance_slow,
              *first + reference::to_span(tracker.at()),
              {}};
    for (int d = 1; d <= 7; ++d) pace.ahead.push_back(tracker.forecast(i, Days{static_cast<double>(d)}));
    out.paces.emplace(pups[i]->label, std::move(pace));
  }
  const auto smooth = tracker.filter().smooth();
  for (std::size_t i = 0; i < pups.size(); ++i) {
    if (tracker.readings(i) < 2) continue;
    auto& curve = out.curves[pups[i]->label];
    for (std::size_t t = *begun[i]; t <= ended[i]; ++t) {
      const double grams = std::exp(smooth[t].level[i]);
      CurvePoint point{rounds[t], Grams{grams}, Grams{grams * std::sqrt(std::max(0.0, smooth[t].variance[i]))}, {}};
      if (!curve.empty())
        if (const double days = days_between(curve.back().at, point.at); days > 0.1)
          point.g_per_day = (point.weight - curve.back().weight).count() / days;
      curve.push_back(point);
    }
  }
  out.gain = gain_against_usual(pups, out.curves, PaceModel(reference));
  return out;
}

}  // namespace lampside::growth
