#include "growth/tracker.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "growth/doubts.hpp"
#include "reference/rules.hpp"

namespace lampside::growth {

PaceModel::PaceModel(const reference::Reference& reference, double house_factor) : house{house_factor} {
  const auto value = [&](std::string_view name) { return reference::parameter(reference, name); };
  const auto square = [](double x) { return x * x; };
  for (const int day : {0, 2, 7, 17, 35, 56})
    knots.push_back({static_cast<double>(day), value(fmt::format("pace_day_{}", day)) / 100,
                     value(fmt::format("pace_needed_day_{}", day)) / 100});
  const auto wander_of = [&](std::string_view who) {
    const double sd = value(fmt::format("{}_pace_sd", who)) / 100, back = 1 / value(fmt::format("{}_pace_days", who));
    return Wander{back, 2 * back * sd * sd, sd * sd};
  };
  wander = {wander_of("own"), wander_of("litter")};
  healthy = {wander_of("healthy"), wander.litter};
  young_level = square(value("young_level_sd") / 100);
  level = square(value("level_sd") / 100);
  own_noise = square(value("weighing_own_sd") / 100);
  common_noise = square(value("weighing_common_sd") / 100);
  slip = value("weighing_slip");
  real_change = value("weighing_real_change");
  for (const auto* rule : reference::rules_of(reference.percent_rules, "PACE_SLOW"))
    (rule->level == reference::Level::act ? act_from : watch_from) = rule->limit.count() / 100;
  ask_at = std::log(value("weighing_ask_at"));
}

namespace {
double between(const std::vector<PaceModel::Knot>& knots, double day, double PaceModel::Knot::* what) {
  if (day <= knots.front().day) return knots.front().*what;
  for (std::size_t i = 1; i < knots.size(); ++i)
    if (day <= knots[i].day) {
      const double share = (day - knots[i - 1].day) / (knots[i].day - knots[i - 1].day);
      return knots[i - 1].*what * (1 - share) + knots[i].*what * share;
    }
  return knots.back().*what;
}
}  // namespace

double PaceModel::expected(Days age) const { return house * between(knots, age.count(), &Knot::expected); }
double PaceModel::need(Days age) const { return between(knots, age.count(), &Knot::need); }
double PaceModel::expected_change(Days from, Days to) const {
  // Straight between knots: the trapezium is exact when the way is cut at each knot.
  double sum = 0, a = std::max(0.0, from.count());
  const double end = std::max(a, to.count());
  while (a < end) {
    double b = end;
    for (const Knot& k : knots)
      if (k.day > a + 1e-12 && k.day < b) b = k.day;
    sum += (b - a) * (expected(Days{a}) + expected(Days{b})) / 2;
    a = b;
  }
  return sum;
}

double normal_below(double limit, double mean, double sd) {
  return 0.5 * std::erfc((mean - limit) / (sd * std::sqrt(2.0)));
}

Tracker::Tracker(const PaceModel& model, std::size_t pups, bool remembers)
    : model_{model},
      filter_{model.wander, pups, remembers},
      judge_{model.healthy, pups, false},
      pups_(pups),
      expected_(pups),
      level_(pups) {}

void Tracker::born(std::size_t pup, Days at, Grams likely) {
  pups_[pup].here = true;
  pups_[pup].born = at.count();
  pups_[pup].likely = std::log(likely.count());
}

double Tracker::noise(const Figure& f) const {
  // A displayed step d hides an error of variance d²/12; the log of a weight w divides it by w². The weight is the one
  // foreseen: a figure in the wrong unit must not blur itself.
  const double grams = pups_[f.pup].readings > 0 ? std::exp(filter_.shown(f.pup)) : f.grams.count();
  const double step = f.step.count() / std::max(grams, 1.0);
  return model_.own_noise + step * step / 12;
}

void Tracker::move_to(double at) {
  const double days = moved_ ? std::max(0.0, at - at_) : 0;
  for (std::size_t i = 0; i < pups_.size(); ++i) {
    const double from = std::max(0.0, at - days - pups_[i].born), to = at - pups_[i].born;
    const double young = std::clamp(2 - from, 0.0, std::max(0.0, to - from));
    expected_[i] = pups_[i].started ? model_.expected_change(Days{from}, Days{to}) : 0;
    level_[i] = young * model_.young_level + (std::max(0.0, to - from) - young) * model_.level;
  }
  filter_.advance(days, expected_, level_, model_.common_noise);
  judge_.advance(days, expected_, level_, model_.common_noise);
  at_ = at;
  moved_ = true;
}

std::vector<RoundDoubt> Tracker::round(Days at, const std::vector<Figure>& figures) {
  move_to(at.count());
  for (const Figure& f : figures) {
    PupState& pup = pups_[f.pup];
    if (pup.started) continue;
    // A birth weight spreads by about a fifth in a breed, more where the breed is unknown.
    for (LitterFilter* filter : {&filter_, &judge_})
      filter->start(f.pup, pup.likely + model_.expected_change(Days{0}, Days{at_ - pup.born}), 0.25);
    pup.started = true;
  }
  std::vector<double> noises;
  noises.reserve(figures.size());
  for (const Figure& f : figures) noises.push_back(noise(f));
  const double scale = std::clamp(squares_ / sound_, 0.4, 2.5);
  RoundCheck check(model_);
  const auto in_a_tub =
      std::count_if(figures.begin(), figures.end(), [](const Figure& f) { return f.tub.count() > 0; });
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const Figure& f = figures[i];
    const PupState& pup = pups_[f.pup];
    const double off = std::log(f.grams.count()) - judge_.shown(f.pup);
    // A second reading nearer to the one set aside than to what was foreseen bears it out; one far from both does not.
    const double spread = std::sqrt(judge_.shown_covariance(f.pup, f.pup) + noises[i]);
    const bool borne_out = pup.set_aside && std::abs(off - *pup.set_aside) < std::min(std::abs(off), 3 * spread);
    // The only one of its round without a tub is no witness: a pup that lost weight seems with the tub to be back.
    const bool alone = 2 * in_a_tub > static_cast<long>(figures.size()) && !(f.tub.count() > 0);
    check.add(f, off, noises[i], pup.last, f.confirmed || (borne_out && !alone) || pup.readings == 0);
  }
  for (std::size_t i = 0; i < figures.size(); ++i)
    for (std::size_t j = 0; j < figures.size(); ++j)
      check.covariance(i, j) =
          scale * (judge_.shown_covariance(figures[i].pup, figures[j].pup) + (i == j ? noises[i] : 0));
  auto found = check.find(tubs_);
  if (std::all_of(figures.begin(), figures.end(), [&](const Figure& f) { return pups_[f.pup].readings > 1; })) {
    squares_ += check.sound_square() * scale;
    sound_ += static_cast<double>(check.sound());
  }
  std::vector<bool> aside(figures.size());
  for (const auto& d : found)
    for (const auto i : d.figures) aside[i] = true;
  // Who begins again does so before anything of this round is taken in.
  std::vector<bool> broke(figures.size()), anew(figures.size());
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const Figure& f = figures[i];
    broke[i] = !aside[i] && pups_[f.pup].readings > 0 && check.broke(i);
    const double y = std::log(f.grams.count());
    anew[i] = broke[i] && std::abs(y - filter_.shown(f.pup)) > 0.4;  // no pace leads there
    if (anew[i]) filter_.start(f.pup, y, 0.04);
  }
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const Figure& f = figures[i];
    PupState& pup = pups_[f.pup];
    pup.last = f.grams;
    const double y = std::log(f.grams.count());
    if (aside[i]) {
      pup.set_aside = y - judge_.shown(f.pup);
      continue;
    }
    pup.set_aside.reset();
    if (!anew[i]) filter_.observe(f.pup, y, noises[i]);
    if (broke[i]) {
      // Its course really broke: it is judged anew from here. Should the next reading lie where the old course led,
      // then this one was the slip, and the next is not to be blamed.
      pup.set_aside = judge_.shown(f.pup) - y;
      judge_.start(f.pup, y, noises[i] + model_.common_noise);
    } else {
      judge_.observe(f.pup, y, noises[i]);
    }
    ++pup.readings;
    if (f.tub.count() > 0 && std::find(tubs_.begin(), tubs_.end(), f.tub.count()) == tubs_.end())
      tubs_.push_back(f.tub.count());
  }
  return found;
}

PaceNow Tracker::now(std::size_t pup) const {
  const double age = at_ - pups_[pup].born, grams = std::exp(filter_.level(pup));
  const double pace = model_.expected(Days{age}) + filter_.pace(pup), sd = std::sqrt(filter_.pace_variance(pup));
  return {Grams{grams}, Grams{grams * std::sqrt(filter_.level_variance(pup))}, pace, sd,
          normal_below(model_.need(Days{age}), pace, sd)};
}

Grams Tracker::forecast(std::size_t pup, Days ahead) const {
  const double age = at_ - pups_[pup].born;
  const auto reach = [&](const Wander& w) {
    return w.reverts_per_day > 0 ? (1 - std::exp(-w.reverts_per_day * ahead.count())) / w.reverts_per_day
                                 : ahead.count();
  };
  const double own = filter_.pace(pup) - filter_.litter_pace();
  return Grams{std::exp(filter_.level(pup) + model_.expected_change(Days{age}, Days{age + ahead.count()}) +
                        reach(model_.wander.own) * own + reach(model_.wander.litter) * filter_.litter_pace())};
}

}  // namespace lampside::growth
