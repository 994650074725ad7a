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
    : model_{model}, pups_{pups}, size_{2 * pups + 2}, remembers_{remembers}, mean_(size_), covariance_(size_ * size_) {
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
  begun_.push_back(pup);
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
    steps_.push_back({own.reach, own.keeps, litter.reach, litter.keeps, taken_.size(), begun_.size()});
    remember();
  }
}

void LitterFilter::ahead(double days, std::span<const double> expected, std::span<const double> level_variance,
                         double common_variance, Ahead& into) const {
  const Move own = move(model_.own, days), litter = move(model_.litter, days);
  const std::size_t n = pups_, shared = 2 * n;
  into.shown.resize(n), into.covariance.resize(n * n), into.with_now.resize(n * n);
  std::vector<double> row(size_);
  for (std::size_t i = 0; i < n; ++i) {
    into.shown[i] = mean_[i] + expected[i] + own.reach * mean_[n + i] + litter.reach * mean_[shared];
    const double *level = &covariance_[i * size_], *pace = level + n * size_, *common = &covariance_[shared * size_];
    for (std::size_t j = 0; j <= shared; ++j) row[j] = level[j] + own.reach * pace[j] + litter.reach * common[j];
    for (std::size_t j = 0; j < n; ++j) {
      into.with_now[i * n + j] = row[j];
      into.covariance[i * n + j] =
          row[j] + own.reach * row[n + j] + litter.reach * row[shared] + litter.level + common_variance;
    }
    into.covariance[i * n + i] += own.level + level_variance[i];
  }
}

/// What is foreseen for the last round.
void LitterFilter::remember() {
  const std::size_t rows = pups_ * size_, block = pups_ + rows, at_block = (steps_.size() - 1) * block;
  foreseen_.resize(at_block + block);
  double* const to = &foreseen_[at_block];
  std::copy_n(mean_.begin(), pups_, to);
  for (std::size_t i = 0; i < size_; ++i) std::copy_n(&covariance_[i * size_], pups_, to + pups_ + i * pups_);
}

void LitterFilter::observe(std::span<const Reading> readings) {
  mirror();
  const std::size_t common = 2 * pups_ + 1, count = readings.size(), size = size_;
  constexpr std::size_t kTogether = 4;
  const std::size_t padded = (count + kTogether - 1) / kTogether * kTogether;
  columns_.assign(padded * size, 0), gains_.assign(padded * size, 0);
  std::vector<Taken> taken(count);
  for (std::size_t k = 0; k < count; ++k) {
    const auto& [pup, log_weight, noise] = readings[k];
    double* __restrict column = &columns_[k * size];
    const double *own = &covariance_[pup * size], *round = &covariance_[common * size];
    for (std::size_t j = 0; j < size; ++j) column[j] = own[j] + round[j];
    double error = log_weight - shown(pup);
    // What the readings before it have taught meanwhile.
    for (std::size_t l = 0; l < k; ++l) {
      const double *before = &columns_[l * size], learnt = (before[pup] + before[common]) * taken[l].precision;
      error -= learnt * taken[l].error;
      for (std::size_t j = 0; j < size; ++j) column[j] -= learnt * before[j];
    }
    const double variance = column[pup] + column[common] + noise, precision = 1 / variance;
    taken[k] = {pup, error, precision};
    double* __restrict gain = &gains_[k * size];
    for (std::size_t j = 0; j < size; ++j) gain[j] = column[j] * precision;
    squares_ += error * error * precision;
    variances_ *= 2 * std::numbers::pi * variance;
    if (!(variances_ > 1e-200 && variances_ < 1e200)) logs_ += std::log(variances_), variances_ = 1;
  }
  for (std::size_t k = 0; k < count; ++k)
    for (std::size_t j = 0; j < size; ++j) mean_[j] += gains_[k * size + j] * taken[k].error;
  // The lower half, four readings at a time, so that a row is fetched and put back seldom. The row's end is rounded up
  // to an even place: the cell above the diagonal is the upper half's, made up for by mirror().
  for (std::size_t i = 0; i < size; ++i) {
    double* __restrict row = &covariance_[i * size];
    const std::size_t end = (i | 1) + 1;
    for (std::size_t k = 0; k < padded; k += kTogether) {
      const double *c = &columns_[k * size], *d = c + size, *e = d + size, *f = e + size;
      const double *gain = &gains_[k * size + i], p = gain[0], q = gain[size], r = gain[2 * size], s = gain[3 * size];
      for (std::size_t j = 0; j < end; ++j) row[j] -= (p * c[j] + q * d[j]) + (r * e[j] + s * f[j]);
    }
  }
  mirrored_ = false;
  if (!remembers_ || steps_.empty()) return;
  taken_.insert(taken_.end(), taken.begin(), taken.end());
  taken_columns_.insert(taken_columns_.end(), columns_.begin(),
                        columns_.begin() + static_cast<std::ptrdiff_t>(count * size));
}

double LitterFilter::log_likelihood() const { return -0.5 * (squares_ + logs_ + std::log(variances_)); }

double LitterFilter::pace_variance(std::size_t pup) const {
  const std::size_t own = pups_ + pup, shared = 2 * pups_;
  return at(own, own) + 2 * at(own, shared) + at(shared, shared);
}

void LitterFilter::mark(Mark& into) const {
  into.mean = mean_, into.covariance = covariance_;
  into.squares = squares_, into.variances = variances_, into.logs = logs_;
  into.steps = steps_.size(), into.readings = taken_.size(), into.begun = begun_.size();
}
void LitterFilter::rewind(const Mark& mark) {
  mean_ = mark.mean, covariance_ = mark.covariance, mirrored_ = true;
  squares_ = mark.squares, variances_ = mark.variances, logs_ = mark.logs;
  steps_.resize(mark.steps), taken_.resize(mark.readings), begun_.resize(mark.begun);
  taken_columns_.resize(mark.readings * size_);
  if (!steps_.empty()) remember();  // a pup may have begun since
}

std::vector<LitterFilter::Smoothed> LitterFilter::smooth() const {
  const std::size_t shared = 2 * pups_, common = shared + 1;
  std::vector<Smoothed> out(steps_.size());
  std::vector<double> r(size_), n(size_ * size_), w(size_);
  const auto cell = [&](std::size_t i, std::size_t j) -> double& { return n[i * size_ + j]; };
  // w = N v, by rows (N is symmetric), four at a time and a pair at the end (the size is even).
  const auto times = [&](const double* v) {
    const std::size_t size = size_;
    double* __restrict out_row = w.data();
    std::fill(w.begin(), w.end(), 0.0);
    std::size_t j = 0;
    for (; j + 4 <= size; j += 4) {
      const double *a = &n[j * size], *b = a + size, *c = b + size, *d = c + size;
      const double p = v[j], q = v[j + 1], s = v[j + 2], t = v[j + 3];
      for (std::size_t i = 0; i < size; ++i) out_row[i] += (p * a[i] + q * b[i]) + (s * c[i] + t * d[i]);
    }
    for (; j < size; ++j)
      for (std::size_t i = 0; i < size; ++i) out_row[i] += v[j] * n[j * size + i];
  };
  std::vector<double> part(pups_);
  for (std::size_t t = steps_.size(); t-- > 0;) {
    const Step& step = steps_[t];
    const bool last = t + 1 == steps_.size();
    for (std::size_t k = last ? taken_.size() : steps_[t + 1].readings; k-- > step.readings;) {
      const Taken& y = taken_[k];
      const double* column = &taken_columns_[k * size_];
      times(column);
      double pull = y.error, both = 0;
      for (std::size_t i = 0; i < size_; ++i) {
        pull -= column[i] * r[i];
        both += column[i] * w[i];
        w[i] *= y.precision;
      }
      pull *= y.precision;
      both = (1 + both * y.precision) * y.precision;
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
    // All pups side by side, as the rows of what was foreseen are the state's. N is symmetric: twice its lower half.
    auto& s = out[t];
    const double* const foreseen = &foreseen_[t * (pups_ + pups_ * size_)];
    s.level.assign(foreseen, foreseen + pups_);
    s.variance.resize(pups_);
    for (std::size_t i = 0; i < pups_; ++i) s.variance[i] = foreseen[pups_ + i * pups_ + i];
    for (std::size_t i = 0; i < size_; ++i) {
      const double *row = &n[i * size_], *own = foreseen + pups_ + i * pups_;
      double* __restrict sum = part.data();
      for (std::size_t p = 0; p < pups_; ++p) sum[p] = row[i] / 2 * own[p];
      std::size_t j = 0;
      for (const double* at = foreseen + pups_; j + 4 <= i; j += 4, at += 4 * pups_) {
        const double *a = at, *b = a + pups_, *c = b + pups_, *d = c + pups_;
        for (std::size_t p = 0; p < pups_; ++p)
          sum[p] += (row[j] * a[p] + row[j + 1] * b[p]) + (row[j + 2] * c[p] + row[j + 3] * d[p]);
      }
      for (; j < i; ++j)
        for (std::size_t p = 0; p < pups_; ++p) sum[p] += row[j] * foreseen[pups_ + j * pups_ + p];
      for (std::size_t p = 0; p < pups_; ++p) {
        s.level[p] += own[p] * r[i];
        s.variance[p] -= 2 * own[p] * sum[p];
      }
    }
    for (std::size_t k = last ? begun_.size() : steps_[t + 1].begun; k-- > step.begun;)
      for (const std::size_t row : {begun_[k], pups_ + begun_[k]}) {
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
