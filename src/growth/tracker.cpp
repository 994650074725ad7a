#include "growth/tracker.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

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
/// How much further off a reading must lie than its correction, in squared spreads, before a later round may doubt it.
constexpr double kAgainstBefore = 5;

/// The only one of its round without a tub.
bool alone_without_tub(const std::vector<Figure>& figures, std::size_t i) {
  const auto in_a_tub =
      std::count_if(figures.begin(), figures.end(), [](const Figure& f) { return f.tub.count() > 0; });
  return 2 * in_a_tub > static_cast<long>(figures.size()) && !(figures[i].tub.count() > 0);
}

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

double Tracker::scale() const { return std::clamp(squares_ / sound_, 0.4, 2.5); }

void Tracker::foresee(double from_day, double to_day) {
  for (std::size_t i = 0; i < pups_.size(); ++i) {
    const double from = std::max(0.0, from_day - pups_[i].born), to = to_day - pups_[i].born;
    const double young = std::clamp(2 - from, 0.0, std::max(0.0, to - from));
    expected_[i] = pups_[i].started ? model_.expected_change(Days{from}, Days{to}) : 0;
    level_[i] = young * model_.young_level + (std::max(0.0, to - from) - young) * model_.level;
  }
}

void Tracker::move_to(double at) {
  const double days = moved_ ? std::max(0.0, at - at_) : 0;
  foresee(at - days, at);
  filter_.advance(days, expected_, level_, model_.common_noise);
  judge_.advance(days, expected_, level_, model_.common_noise);
  at_ = at;
  moved_ = true;
}

std::vector<RoundDoubt> Tracker::round(Days at, const std::vector<Figure>& figures) {
  const double from = at_;
  auto back = look_back(at.count(), figures);
  std::optional<Before> earlier;
  if (!back.empty()) earlier = before_;
  move_to(at.count());
  auto found = judged(figures);
  // The same pups may look wrong in either round: the likelier story holds.
  std::erase_if(back, [&](const RoundDoubt& b) {
    return std::any_of(found.begin(), found.end(), [&](const RoundDoubt& now) {
      return now.log_factor > b.log_factor && std::any_of(now.figures.begin(), now.figures.end(), [&](auto i) {
               return std::any_of(b.figures.begin(), b.figures.end(),
                                  [&](auto k) { return earlier->figures[k].pup == figures[i].pup; });
             });
    });
  });
  if (!back.empty()) {
    before_ = std::move(earlier);
    at_ = from;
    take_again(back);
    move_to(at.count());
    found = judged(figures);
  }
  take();
  found.insert(found.begin(), back.begin(), back.end());
  return found;
}

/// Judges a round that is reached but not taken in, and keeps how things stood before it.
std::vector<RoundDoubt> Tracker::judged(const std::vector<Figure>& figures) {
  for (const Figure& f : figures) {
    PupState& pup = pups_[f.pup];
    if (pup.started) continue;
    // A birth weight spreads by about a fifth in a breed, more where the breed is unknown.
    for (LitterFilter* filter : {&filter_, &judge_})
      filter->start(f.pup, pup.likely + model_.expected_change(Days{0}, Days{at_ - pup.born}), 0.25);
    pup.started = true;
  }
  // Assigned, not made anew: three rounds a day for weeks would spend their time on getting memory.
  if (!before_) before_.emplace(Before{judge_, {}, {}, {}, 0, 0, 0, {}, {}, {}, {}, {}});
  before_->judge = judge_;
  filter_.mark(before_->filter);
  before_->pups = pups_, before_->tubs = tubs_, before_->figures = figures;
  before_->squares = squares_, before_->sound = sound_, before_->at = at_;
  before_->noises.clear(), before_->trusted.clear();
  auto& noises = before_->noises;
  noises.reserve(figures.size());
  for (const Figure& f : figures) noises.push_back(noise(f));
  RoundCheck check(model_);
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const Figure& f = figures[i];
    const PupState& pup = pups_[f.pup];
    const double off = std::log(f.grams.count()) - judge_.shown(f.pup);
    // A second reading nearer to the one set aside than to what was foreseen bears it out; one far from both does not.
    const double spread = std::sqrt(judge_.shown_covariance(f.pup, f.pup) + noises[i]);
    const bool borne_out = pup.set_aside && std::abs(off - *pup.set_aside) < std::min(std::abs(off), 3 * spread);
    // Without the tub it is no witness: a pup that lost weight seems with the tub to be back.
    before_->trusted.push_back(f.confirmed || (borne_out && !alone_without_tub(figures, i)) || pup.readings == 0);
    check.add(f, off, noises[i], pup.last, before_->trusted.back());
  }
  const double wide = scale();
  for (std::size_t i = 0; i < figures.size(); ++i)
    for (std::size_t j = 0; j < figures.size(); ++j)
      check.covariance(i, j) =
          wide * (judge_.shown_covariance(figures[i].pup, figures[j].pup) + (i == j ? noises[i] : 0));
  auto found = check.find(tubs_);
  if (std::all_of(figures.begin(), figures.end(), [&](const Figure& f) { return pups_[f.pup].readings > 1; })) {
    squares_ += check.sound_square() * wide;
    sound_ += static_cast<double>(check.sound());
  }
  before_->aside.assign(figures.size(), false);
  for (const auto& d : found)
    for (const auto i : d.figures) before_->aside[i] = true;
  before_->broke.assign(figures.size(), false);
  for (std::size_t i = 0; i < figures.size(); ++i)
    before_->broke[i] = !before_->aside[i] && pups_[figures[i].pup].readings > 0 && check.broke(i);
  return found;
}

/// How far a reading, or another figure in its place, lies from what was foreseen for it, in squared spreads.
double Tracker::squared_off(const Before& was, std::size_t i, std::optional<Grams> instead) const {
  const Figure& f = was.figures[i];
  const double off = std::log(instead.value_or(f.grams).count()) - was.judge.shown(f.pup);
  return off * off / (scale() * (was.judge.shown_covariance(f.pup, f.pup) + was.noises[i]));
}

/// The round before, judged by what was foreseen for it and by this one.
std::vector<RoundDoubt> Tracker::look_back(double at, const std::vector<Figure>& figures) {
  if (!before_) return {};
  const auto& was = *before_;
  std::vector<std::size_t> asked, told;  // places in the round before, and in this one
  for (std::size_t i = 0; i < was.figures.size(); ++i)
    if (!was.aside[i]) asked.push_back(i);
  for (std::size_t i = 0; i < figures.size(); ++i)
    if (pups_[figures[i].pup].started) told.push_back(i);
  // What could be doubted at all lies off what came before (below), or was weighed alone without a tub.
  double squares = 0;
  bool alone = false;
  for (const auto i : asked) squares += squared_off(was, i), alone = alone || alone_without_tub(was.figures, i);
  if (told.empty() || (squares < kAgainstBefore && !alone)) return {};
  const double days = std::max(0.0, at - was.at);
  foresee(was.at, was.at + days);
  LitterFilter then = was.judge;
  then.advance(days, expected_, level_, model_.common_noise);
  const std::size_t n = asked.size(), m = told.size();
  std::vector<double> seen(m * m), between(n * m), weights(n * m), off(m);
  for (std::size_t a = 0; a < m; ++a) {
    const Figure& f = figures[told[a]];
    off[a] = std::log(f.grams.count()) - then.shown(f.pup);
    for (std::size_t b = 0; b < m; ++b)
      seen[a * m + b] = then.shown_covariance(f.pup, figures[told[b]].pup) + (a == b ? noise(f) : 0);
    for (std::size_t i = 0; i < n; ++i)
      between[i * m + a] = was.judge.shown_then(was.figures[asked[i]].pup, f.pup, days);
  }
  invert(seen, m);
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t a = 0; a < m; ++a)
      for (std::size_t b = 0; b < m; ++b) weights[i * m + a] += between[i * m + b] * seen[b * m + a];
  RoundCheck check(model_);
  for (std::size_t i = 0; i < n; ++i) {
    const Figure& f = was.figures[asked[i]];
    double foreseen = was.judge.shown(f.pup);
    for (std::size_t a = 0; a < m; ++a) foreseen += weights[i * m + a] * off[a];
    check.add(f, std::log(f.grams.count()) - foreseen, was.noises[asked[i]], was.pups[f.pup].last,
              was.trusted[asked[i]]);
  }
  const double wide = scale();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j) {
      double left = was.judge.shown_covariance(was.figures[asked[i]].pup, was.figures[asked[j]].pup) +
                    (i == j ? was.noises[asked[i]] : 0);
      for (std::size_t a = 0; a < m; ++a) left -= weights[i * m + a] * between[j * m + a];
      check.covariance(i, j) = wide * left;
    }
  auto found = check.find(was.tubs);
  for (auto& d : found) {
    d.before = true;
    for (auto& i : d.figures) i = asked[i];
  }
  // What only this round speaks against may as well be this round's fault: what came before must speak against it too,
  // or that it alone was weighed without the tub.
  std::erase_if(found, [&](const RoundDoubt& d) {
    if (d.likelier == Slip::tub_left_on && alone_without_tub(was.figures, d.figures.front())) return false;
    double written = 0, instead = 0;
    for (std::size_t k = 0; k < d.figures.size(); ++k) {
      written += squared_off(was, d.figures[k]);
      instead += d.would_be[k] ? squared_off(was, d.figures[k], d.would_be[k]) : 1;
    }
    return written - instead < kAgainstBefore;
  });
  return found;
}

/// Back to before the last round, and takes it in again without what is now in doubt.
void Tracker::take_again(const std::vector<RoundDoubt>& doubts) {
  filter_.rewind(before_->filter);
  judge_ = before_->judge;
  pups_ = before_->pups, tubs_ = before_->tubs;
  squares_ = before_->squares, sound_ = before_->sound;
  for (const auto& d : doubts)
    for (const auto i : d.figures) before_->aside[i] = true;
  take();
}

/// Takes in the round just judged, but for what is set aside.
void Tracker::take() {
  const auto& [figures, noises, aside] = std::tie(before_->figures, before_->noises, before_->aside);
  std::vector<bool> broke(figures.size());
  for (std::size_t i = 0; i < figures.size(); ++i) broke[i] = before_->broke[i] && !aside[i];
  // Who begins again does so before anything of this round is taken in.
  std::vector<bool> anew(figures.size());
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const Figure& f = figures[i];
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
}

PaceNow Tracker::now(std::size_t pup) const {
  const double age = at_ - pups_[pup].born, grams = std::exp(filter_.level(pup));
  const double pace = model_.expected(Days{age}) + filter_.pace(pup), sd = std::sqrt(filter_.pace_variance(pup));
  return {Grams{grams}, Grams{grams * std::sqrt(filter_.level_variance(pup))}, pace, sd,
          normal_below(model_.need(Days{age}), pace, sd)};
}

Grams Tracker::forecast(std::size_t pup, Days ahead) const {
  const double age = at_ - pups_[pup].born;
  const double own = filter_.pace(pup) - filter_.litter_pace();
  return Grams{std::exp(filter_.level(pup) + model_.expected_change(Days{age}, Days{age + ahead.count()}) +
                        reach(model_.wander.own, ahead.count()) * own +
                        reach(model_.wander.litter, ahead.count()) * filter_.litter_pace())};
}

}  // namespace lampside::growth
