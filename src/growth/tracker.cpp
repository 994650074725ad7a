#include "growth/tracker.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace lampside::growth {

namespace {
/// How much further off a reading must lie than its correction, in squared spreads, before a later round may doubt it.
constexpr double kAgainstBefore = 5;

/// The only one of its round without a tub.
bool alone_without_tub(const std::vector<Figure>& figures, std::size_t i) {
  const auto in_a_tub =
      std::count_if(figures.begin(), figures.end(), [](const Figure& f) { return f.tub.count() > 0; });
  return 2 * in_a_tub > static_cast<long>(figures.size()) && !(figures[i].tub.count() > 0);
}

}  // namespace

Tracker::Tracker(const PaceModel& model, std::size_t pups, bool remembers)
    : model_{model},
      filter_{model.wander, pups, remembers},
      judge_{model.healthy, pups, false},
      check_{model},
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
  filter_.advance(days, expected_, level_, model_.common_noise);
  judge_.advance(days, expected_, level_, model_.common_noise);
  at_ = at;
  moved_ = true;
}

std::vector<RoundDoubt> Tracker::round(Days at, const std::vector<Figure>& figures) {
  const double from = at_, to = at.count();
  foresee(moved_ ? std::min(from, to) : to, to);
  std::vector<double> logs;
  logs.reserve(figures.size());
  for (const Figure& f : figures) logs.push_back(std::log(f.grams.count()));
  auto back = look_back(to, figures, logs);
  std::optional<Before> earlier;
  if (!back.empty()) earlier = before_;
  move_to(to);
  auto found = judged(figures, logs);
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
    move_to(to);
    found = judged(figures, logs);
  }
  take();
  found.insert(found.begin(), back.begin(), back.end());
  return found;
}

/// Judges a round that is reached but not taken in, and keeps how things stood before it.
std::vector<RoundDoubt> Tracker::judged(const std::vector<Figure>& figures, const std::vector<double>& logs) {
  for (const Figure& f : figures) {
    PupState& pup = pups_[f.pup];
    if (pup.started) continue;
    // A birth weight spreads by about a fifth in a breed, more where the breed is unknown.
    for (LitterFilter* filter : {&filter_, &judge_})
      filter->start(f.pup, pup.likely + model_.expected_change(Days{0}, Days{at_ - pup.born}), 0.25);
    pup.started = true;
  }
  // Assigned, not made anew: three rounds a day for weeks would spend their time on getting memory.
  if (!before_) before_.emplace(Before{judge_});
  auto& was = *before_;
  was.judge = judge_;
  filter_.mark(was.filter);
  was.pups = pups_, was.tubs = tubs_, was.figures = figures, was.logs = logs;
  was.squares = squares_, was.sound = sound_, was.at = at_;
  const std::size_t n = figures.size();
  was.noises.resize(n), was.offs.resize(n), was.covariance.resize(n * n), was.trusted.resize(n);
  const double wide = scale();
  check_.begin(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Figure& f = figures[i];
    const PupState& pup = pups_[f.pup];
    was.noises[i] = noise(f);
    was.offs[i] = logs[i] - judge_.shown(f.pup);
    for (std::size_t j = 0; j <= i; ++j) {
      const double both = judge_.shown_covariance(f.pup, figures[j].pup) + (i == j ? was.noises[i] : 0);
      was.covariance[i * n + j] = was.covariance[j * n + i] = both;
      check_.covariance(i, j) = check_.covariance(j, i) = wide * both;
    }
    // A second reading nearer to the one set aside than to what was foreseen bears it out; one far from both does not.
    const double off = was.offs[i], spread = std::sqrt(was.covariance[i * n + i]);
    const bool borne_out = pup.set_aside && std::abs(off - *pup.set_aside) < std::min(std::abs(off), 3 * spread);
    // Without the tub it is no witness: a pup that lost weight seems with the tub to be back.
    was.trusted[i] = f.confirmed || (borne_out && !alone_without_tub(figures, i)) || pup.readings == 0;
    check_.add(f, logs[i], off, was.noises[i], pup.last, was.trusted[i]);
  }
  auto found = check_.find(tubs_);
  if (std::all_of(figures.begin(), figures.end(), [&](const Figure& f) { return pups_[f.pup].readings > 1; })) {
    squares_ += check_.sound_square() * wide;
    sound_ += static_cast<double>(check_.sound());
  }
  was.aside.assign(n, false);
  for (const auto& d : found)
    for (const auto i : d.figures) was.aside[i] = true;
  was.broke.assign(n, false);
  for (std::size_t i = 0; i < n; ++i)
    was.broke[i] = !was.aside[i] && pups_[figures[i].pup].readings > 0 && check_.broke(i);
  return found;
}

/// How far a reading, or another `off` in its place, lies from what was foreseen for it, in squared spreads.
double Tracker::squared_off(const Before& was, std::size_t i, double off) const {
  return off * off / (scale() * was.covariance[i * was.figures.size() + i]);
}

/// The round before, judged by what was foreseen for it and by this one.
std::vector<RoundDoubt> Tracker::look_back(double at, const std::vector<Figure>& figures,
                                           const std::vector<double>& logs) {
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
  for (const auto i : asked)
    squares += squared_off(was, i, was.offs[i]), alone = alone || alone_without_tub(was.figures, i);
  if (told.empty() || (squares < kAgainstBefore && !alone)) return {};
  was.judge.ahead(std::max(0.0, at - was.at), expected_, level_, model_.common_noise, ahead_);
  const std::size_t n = asked.size(), m = told.size(), pups = pups_.size();
  // With L L' the covariance of this round's readings: `with` becomes L^-1 times their covariance with those asked
  // about, `off` L^-1 times what they show against what was foreseen. Row by row, as the rows lie in memory.
  std::vector<double> root(m * m), with(m * n), off(m);
  for (std::size_t a = 0; a < m; ++a) {
    const Figure& f = figures[told[a]];
    off[a] = logs[told[a]] - ahead_.shown[f.pup];
    for (std::size_t i = 0; i < n; ++i) with[a * n + i] = ahead_.with_now[f.pup * pups + was.figures[asked[i]].pup];
    for (std::size_t b = 0; b <= a; ++b) {
      double left = ahead_.covariance[f.pup * pups + figures[told[b]].pup] + (a == b ? noise(f) : 0);
      for (std::size_t k = 0; k < b; ++k) left -= root[a * m + k] * root[b * m + k];
      root[a * m + b] = a == b ? std::sqrt(left) : left * root[b * m + b];
      if (a == b) {
        root[a * m + a] = 1 / root[a * m + a];  // its inverse, which is all that is asked for
        off[a] *= root[a * m + a];
        for (std::size_t i = 0; i < n; ++i) with[a * n + i] *= root[a * m + a];
      } else {
        off[a] -= root[a * m + b] * off[b];
        for (std::size_t i = 0; i < n; ++i) with[a * n + i] -= root[a * m + b] * with[b * n + i];
      }
    }
  }
  check_.begin(n);
  const double wide = scale();
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t place = asked[i];
    const Figure& f = was.figures[place];
    double* row = &check_.covariance(i, 0);
    for (std::size_t j = 0; j < n; ++j) row[j] = wide * was.covariance[place * was.figures.size() + asked[j]];
    double taught = 0;
    for (std::size_t a = 0; a < m; ++a) {
      const double* seen = &with[a * n];
      taught += seen[i] * off[a];
      for (std::size_t j = 0; j < n; ++j) row[j] -= wide * seen[i] * seen[j];
    }
    check_.add(f, was.logs[place], was.offs[place] - taught, was.noises[place], was.pups[f.pup].last,
               was.trusted[place]);
  }
  auto found = check_.find(was.tubs);
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
      const std::size_t i = d.figures[k];
      const auto& other = d.would_be[k];
      written += squared_off(was, i, was.offs[i]);
      instead += other ? squared_off(was, i, was.offs[i] + std::log(other->count()) - was.logs[i]) : 1;
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
  const auto& was = *before_;
  const auto& figures = was.figures;
  std::vector<LitterFilter::Reading> taken, judged;
  taken.reserve(figures.size()), judged.reserve(figures.size());
  for (std::size_t i = 0; i < figures.size(); ++i) {
    const Figure& f = figures[i];
    PupState& pup = pups_[f.pup];
    pup.last = f.grams;
    const double y = was.logs[i];
    pup.set_aside.reset();
    if (was.aside[i]) {
      pup.set_aside = was.offs[i];
      continue;
    }
    // Who begins again does so before anything of this round is taken in; there where no pace leads.
    if (was.broke[i] && std::abs(y - filter_.shown(f.pup)) > 0.4)
      filter_.start(f.pup, y, 0.04);
    else
      taken.push_back({f.pup, y, was.noises[i]});
    if (was.broke[i]) {
      // Its course really broke: it is judged anew from here. Should the next reading lie where the old course led,
      // then this one was the slip, and the next is not to be blamed.
      pup.set_aside = -was.offs[i];
      judge_.start(f.pup, y, was.noises[i] + model_.common_noise);
    } else {
      judged.push_back({f.pup, y, was.noises[i]});
    }
    ++pup.readings;
    if (f.tub.count() > 0 && std::find(tubs_.begin(), tubs_.end(), f.tub.count()) == tubs_.end())
      tubs_.push_back(f.tub.count());
  }
  filter_.observe(taken);
  judge_.observe(judged);
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
