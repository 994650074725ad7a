#include "growth/kalman.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace lampside::growth {
namespace {

/// How a wandering pace moves over a time: exact, not stepwise.
struct Move {
  double keeps;              ///< share of the pace that is left
  double reach;              ///< what one unit of pace adds to the level
  double level, both, pace;  ///< variances and covariance added
};
Move move(const Wander& w, double days) {
  const double q = w.variance_per_day, r = w.reverts_per_day;
  if (r * days < 1e-4)  // the limit of a random walk; below this the exact terms cancel each other out
    return {1 - r * days, days, q * days * days * days / 3, q * days * days / 2, q * days};
  const double keeps = std::exp(-r * days), reach = (1 - keeps) / r, left = (1 - keeps * keeps) / (2 * r);
  return {keeps, reach, q / (r * r) * (days - 2 * reach + left), q * reach * reach / 2, q * left};
}

}  // namespace

double reach(const Wander& wander, double days) { return move(wander, days).reach; }

LitterFilter::LitterFilter(LitterModel model, std::size_t pups, bool remembers)
    : model_{model},
      pups_{pups},
      size_{2 * pups + 2},
      remembers_{remembers},
      mean_(size_),
      covariance_(size_ * size_),
      column_(size_) {
  for (std::size_t i = 0; i < pups_; ++i) at(pups_ + i, pups_ + i) = model_.own.start_variance;
  at(2 * pups_, 2 * pups_) = model_.litter.start_variance;
}

void LitterFilter::mirror() {
  if (!mirrored_)
    for (std::size_t i = 0; i < size_; ++i)
      for (std::size_t j = 0; j < i; ++j) covariance_[j * size_ + i] = covariance_[i * size_ + j];
  mirrored_ = true;
}

void LitterFilter::start(std::size_t pup, double log_weight, double variance) {
  mirror();
  // Whatever the time before its birth did to this row is forgotten: the pup begins here.
  for (const std::size_t row : {pup, pups_ + pup}) {
    for (std::size_t j = 0; j < size_; ++j) at(row, j) = at(j, row) = 0;
    mean_[row] = 0;
  }
  mean_[pup] = log_weight;
  at(pup, pup) = variance;
  at(pups_ + pup, pups_ + pup) = model_.own.start_variance;
  if (!remembers_ || steps_.empty()) return;
  remember();
  steps_.back().begun.push_back(pup);
}

void LitterFilter::advance(double days, std::span<const double> expected, std::span<const double> level_variance,
                           double common_variance) {
  mirror();
  const Move own = move(model_.own, days), litter = move(model_.litter, days);
  const std::size_t shared = 2 * pups_, common = shared + 1;
  for (std::size_t i = 0; i < pups_; ++i) {
    mean_[i] += expected[i] + own.reach * mean_[pups_ + i] + litter.reach * mean_[shared];
    mean_[pups_ + i] *= own.keeps;
  }
  mean_[shared] *= litter.keeps;
  mean_[common] = 0;

  // Covariance: the rows, then the columns, then the noise.
  for (std::size_t i = 0; i < pups_; ++i)
    for (std::size_t j = 0; j < size_; ++j) {
      at(i, j) += own.reach * at(pups_ + i, j) + litter.reach * at(shared, j);
      at(pups_ + i, j) *= own.keeps;
    }
  for (std::size_t j = 0; j < size_; ++j) at(shared, j) *= litter.keeps;
  for (std::size_t j = 0; j < size_; ++j) {
    double* row = &at(j, 0);
    for (std::size_t i = 0; i < pups_; ++i) {
      row[i] += own.reach * row[pups_ + i] + litter.reach * row[shared];
      row[pups_ + i] *= own.keeps;
    }
    row[shared] *= litter.keeps;
  }
  for (std::size_t i = 0; i < pups_; ++i) {
    for (std::size_t j = 0; j < pups_; ++j) at(i, j) += litter.level;
    at(i, i) += own.level + level_variance[i];
    at(i, pups_ + i) += own.both, at(pups_ + i, i) += own.both;
    at(pups_ + i, pups_ + i) += own.pace;
    at(i, shared) += litter.both, at(shared, i) += litter.both;
  }
  at(shared, shared) += litter.pace;
  for (std::size_t j = 0; j < size_; ++j) at(common, j) = at(j, common) = 0;
  at(common, common) = common_variance;
  if (remembers_) {
    steps_.push_back({own.reach, own.keeps, litter.reach, litter.keeps, {}, {}, {}, {}, {}});
    remember();
  }
}

/// What is foreseen for the last round.
void LitterFilter::remember() {
  steps_.back().mean.assign(mean_.begin(), mean_.begin() + static_cast<std::ptrdiff_t>(pups_));
  steps_.back().covariance.assign(covariance_.begin(),
                                  covariance_.begin() + static_cast<std::ptrdiff_t>(pups_ * size_));
}

double LitterFilter::observe(std::size_t pup, double log_weight, double noise_variance) {
  const std::size_t common = 2 * pups_ + 1;
  const double error = log_weight - shown(pup);
  const double variance = shown_covariance(pup, pup) + noise_variance;
  const auto& now = *this;
  for (std::size_t j = 0; j < size_; ++j) column_[j] = now.at(pup, j) + now.at(common, j);
  // The lower half, by pairs of rows and columns (the size is even), so that the compiler can take two at once; the
  // cell above the diagonal that each pair of rows adds is the upper half's, made up for by mirror().
  const double* __restrict column = column_.data();
  for (std::size_t i = 0; i < size_; i += 2) {
    const double gain = column[i] / variance, next_gain = column[i + 1] / variance;
    mean_[i] += gain * error;
    mean_[i + 1] += next_gain * error;
    double* __restrict row = &covariance_[i * size_], * __restrict next = row + size_;
    for (std::size_t j = 0; j <= i; j += 2) {
      const double a = column[j], b = column[j + 1];
      row[j] -= gain * a, row[j + 1] -= gain * b;
      next[j] -= next_gain * a, next[j + 1] -= next_gain * b;
    }
  }
  mirrored_ = false;
  if (remembers_ && !steps_.empty()) {
    Step& step = steps_.back();
    step.readings.push_back({pup, error, variance});
    if (step.gains.empty()) step.gains.reserve(pups_ * size_);
    for (const double c : column_) step.gains.push_back(c / variance);
  }
  const double density = -0.5 * (std::log(2 * std::numbers::pi * variance) + error * error / variance);
  log_likelihood_ += density;
  return density;
}

double LitterFilter::pace_variance(std::size_t pup) const {
  const std::size_t own = pups_ + pup, shared = 2 * pups_;
  return at(own, own) + 2 * at(own, shared) + at(shared, shared);
}

double LitterFilter::shown_covariance(std::size_t a, std::size_t b) const {
  const std::size_t common = 2 * pups_ + 1;
  return at(a, b) + at(a, common) + at(b, common) + at(common, common);
}

double LitterFilter::shown_then(std::size_t a, std::size_t b, double days) const {
  return at(a, b) + reach(model_.own, days) * at(a, pups_ + b) + reach(model_.litter, days) * at(a, 2 * pups_);
}

void LitterFilter::mark(Mark& into) const {
  into.mean = mean_, into.covariance = covariance_;
  into.log_likelihood = log_likelihood_, into.mirrored = mirrored_;
  into.steps = steps_.size();
  into.readings = steps_.empty() ? 0 : steps_.back().readings.size();
  into.begun = steps_.empty() ? 0 : steps_.back().begun.size();
}
void LitterFilter::rewind(const Mark& mark) {
  mean_ = mark.mean, covariance_ = mark.covariance;
  log_likelihood_ = mark.log_likelihood, mirrored_ = mark.mirrored;
  steps_.erase(steps_.begin() + static_cast<std::ptrdiff_t>(mark.steps), steps_.end());
  if (steps_.empty()) return;
  Step& step = steps_.back();
  step.readings.erase(step.readings.begin() + static_cast<std::ptrdiff_t>(mark.readings), step.readings.end());
  step.gains.resize(mark.readings * size_);
  step.begun.resize(mark.begun);
}

std::vector<LitterFilter::Smoothed> LitterFilter::smooth() const {
  const std::size_t shared = 2 * pups_, common = shared + 1;
  std::vector<Smoothed> out(steps_.size());
  std::vector<double> r(size_), n(size_ * size_), w(size_);
  const auto cell = [&](std::size_t i, std::size_t j) -> double& { return n[i * size_ + j]; };
  // w = N v, by pairs of rows (N is symmetric and of even size): so that the compiler can take several at once.
  const auto times = [&](const double* v) {
    const std::size_t size = size_;
    double* __restrict out_row = w.data();
    std::fill(w.begin(), w.end(), 0.0);
    for (std::size_t j = 0; j < size; j += 2) {
      const double f = v[j], g = v[j + 1];
      const double *row = &n[j * size], *next = row + size;
      for (std::size_t i = 0; i < size; ++i) out_row[i] += f * row[i] + g * next[i];
    }
  };
  // v' N v from the lower half: half the work.
  const auto squared = [&](const double* v) {
    const std::size_t size = size_;
    double sum = 0;
    for (std::size_t j = 0; j < size; j += 2) {
      const double *row = &n[j * size], *next = row + size;
      double a = 0, b = 0, c = 0, d = 0;
      for (std::size_t i = 0; i < j; i += 2) {
        a += row[i] * v[i], b += row[i + 1] * v[i + 1];
        c += next[i] * v[i], d += next[i + 1] * v[i + 1];
      }
      sum += v[j] * (2 * (a + b) + row[j] * v[j]) + v[j + 1] * (2 * (c + d + next[j] * v[j]) + next[j + 1] * v[j + 1]);
    }
    return sum;
  };
  for (std::size_t t = steps_.size(); t-- > 0;) {
    const Step& step = steps_[t];
    for (std::size_t k = step.readings.size(); k-- > 0;) {
      const Taken& y = step.readings[k];
      double pull = y.error / y.variance, both = 1 / y.variance;
      const double* gain = &step.gains[k * size_];
      times(gain);
      for (std::size_t i = 0; i < size_; ++i) {
        pull -= gain[i] * r[i];
        both += gain[i] * w[i];
      }
      for (const std::size_t seen : {y.pup, common}) {
        r[seen] += pull;
        for (std::size_t j = 0; j < size_; ++j) {
          cell(seen, j) -= w[j];
          cell(j, seen) -= w[j];
        }
      }
      for (const std::size_t a : {y.pup, common})
        for (const std::size_t b : {y.pup, common}) cell(a, b) += both;
    }
    auto& s = out[t];
    s.level.resize(pups_), s.variance.resize(pups_);
    for (std::size_t i = 0; i < pups_; ++i) {
      const double* p = &step.covariance[i * size_];
      double level = step.mean[i];
      for (std::size_t a = 0; a < size_; ++a) level += p[a] * r[a];
      s.level[i] = level;
      s.variance[i] = p[i] - squared(p);
    }
    for (const std::size_t pup : step.begun)
      for (const std::size_t row : {pup, pups_ + pup}) {
        r[row] = 0;
        for (std::size_t j = 0; j < size_; ++j) cell(row, j) = cell(j, row) = 0;
      }
    // Back over the way to this round: the common error is new each time, the paces carry the levels.
    r[common] = 0;
    for (std::size_t j = 0; j < size_; ++j) cell(common, j) = cell(j, common) = 0;
    const auto back = [&](double* row) {
      double sum = 0;
      for (std::size_t i = 0; i < pups_; ++i) {
        row[pups_ + i] = step.own_keeps * row[pups_ + i] + step.own_reach * row[i];
        sum += row[i];
      }
      row[shared] = step.litter_keeps * row[shared] + step.litter_reach * sum;
    };
    back(r.data());
    for (std::size_t i = 0; i < size_; ++i) back(&cell(i, 0));
    for (std::size_t i = 0; i < pups_; ++i) {
      for (std::size_t j = 0; j < size_; ++j)
        cell(pups_ + i, j) = step.own_keeps * cell(pups_ + i, j) + step.own_reach * cell(i, j);
    }
    for (std::size_t j = 0; j < size_; ++j) {
      double sum = 0;
      for (std::size_t i = 0; i < pups_; ++i) sum += cell(i, j);
      cell(shared, j) = step.litter_keeps * cell(shared, j) + step.litter_reach * sum;
    }
  }
  return out;
}

}  // namespace lampside::growth
