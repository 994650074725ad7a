// The state-space model of a litter's weights: filter, smoother and exact likelihood in closed form.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace lampside::growth {

/// A pace that drifts and is drawn back to nothing (Ornstein-Uhlenbeck); with `reverts_per_day` 0 a random walk.
struct Wander {
  double reverts_per_day;
  double variance_per_day;  ///< of the driving noise: the pace is a change of log weight per day
  double start_variance;
};
/// What one unit of such a pace adds to the level within that time.
double reach(const Wander& wander, double days);
struct LitterModel {
  Wander own;     ///< each pup's own pace
  Wander litter;  ///< the pace all pups share
};

/// Joint Kalman filter over all pups of a litter. The state is the log weight of each pup, its own pace, the litter's
/// pace, and an error common to the round of weighing. Times may be irregular and readings missing.
/// Source: Durbin and Koopman 2012, Time Series Analysis by State Space Methods, 2nd ed., section 4.3 (filter), 4.4
/// (smoother), 6.4 (readings taken in one by one). Checked against R's KalmanLike and statsmodels: tests/data/kalman.
class LitterFilter {
 public:
  LitterFilter(LitterModel model, std::size_t pups, bool remembers);

  /// The prior of a pup's log weight, and of its own pace: it begins here, whatever was before. To be called before the
  /// readings of the round are taken in.
  void start(std::size_t pup, double log_weight, double variance);
  /// On to the next round. `expected[i]` is pup i's expected change of log weight meanwhile, `level_variance[i]` the
  /// variance of chance steps of its level (milk, water), `common_variance` that of the next round's common error.
  void advance(double days, std::span<const double> expected, std::span<const double> level_variance,
               double common_variance);
  struct Reading {
    std::size_t pup;
    double log_weight, noise_variance;
  };
  /// Takes in readings of this round, one after the other, and changes the covariance once for all of them.
  void observe(std::span<const Reading> readings);
  void observe(std::size_t pup, double log_weight, double noise_variance) {
    const Reading one{pup, log_weight, noise_variance};
    observe({&one, 1});
  }

  [[nodiscard]] double level(std::size_t pup) const { return mean_[pup]; }
  [[nodiscard]] double level_variance(std::size_t pup) const { return at(pup, pup); }
  /// Of the pup's pace over what is expected: its own and the litter's.
  [[nodiscard]] double pace(std::size_t pup) const { return mean_[pups_ + pup] + mean_[2 * pups_]; }
  [[nodiscard]] double pace_variance(std::size_t pup) const;
  [[nodiscard]] double litter_pace() const { return mean_[2 * pups_]; }
  [[nodiscard]] double litter_pace_variance() const { return at(2 * pups_, 2 * pups_); }
  /// Covariance of what the scale would show for two pups in this round, their own noise left out.
  [[nodiscard]] double shown_covariance(std::size_t a, std::size_t b) const {
    const double* common = &covariance_[(2 * pups_ + 1) * size_];
    return at(a, b) + common[a] + common[b] + common[2 * pups_ + 1];
  }
  /// What the scale would show after so many days, were nothing of this round taken in. Rows of `covariance` and
  /// `with_now` are pups then; columns are pups then, and pups now.
  struct Ahead {
    std::vector<double> shown, covariance, with_now;
  };
  /// As advance() takes them. To be called before anything of this round is taken in.
  void ahead(double days, std::span<const double> expected, std::span<const double> level_variance,
             double common_variance, Ahead& into) const;
  /// What the scale would show for a pup in this round.
  [[nodiscard]] double shown(std::size_t pup) const { return mean_[pup] + mean_[2 * pups_ + 1]; }
  /// Of all readings taken in, each given those before it.
  [[nodiscard]] double log_likelihood() const;

  /// Where the filter stands in a round of which nothing is taken in, to come back to; good until the next rewind() to
  /// an earlier one.
  struct Mark {
    std::vector<double> mean, covariance;
    double squares = 0, variances = 1, logs = 0;
    std::size_t steps = 0, readings = 0, begun = 0;
  };
  void mark(Mark& into) const;
  void rewind(const Mark& mark);

  struct Smoothed {
    std::vector<double> level, variance;  ///< one a pup
  };
  /// Every round since the start, given all readings of all rounds. Needs `remembers`.
  [[nodiscard]] std::vector<Smoothed> smooth() const;

 private:
  struct Taken {  ///< one reading as it was taken in
    std::size_t pup;
    double error, precision;  ///< one over the variance of the error
  };
  struct Step {  ///< one round: how it was reached, and which readings and beginnings are its own
    double own_reach, own_keeps, litter_reach, litter_keeps;
    std::size_t readings, begun;  ///< the first of them
  };
  /// From the lower half, which is always right; the upper one is made up for by mirror().
  [[nodiscard]] double at(std::size_t i, std::size_t j) const {
    return i < j ? covariance_[j * size_ + i] : covariance_[i * size_ + j];
  }
  double& at(std::size_t i, std::size_t j) { return covariance_[i * size_ + j]; }
  void mirror();
  void remember();

  LitterModel model_;
  std::size_t pups_, size_;
  bool remembers_;
  std::vector<double> mean_, covariance_;
  double squares_ = 0, variances_ = 1, logs_ = 0;  ///< of the likelihood: the product's log is taken seldom
  bool mirrored_ = true;
  std::vector<double> columns_, gains_;  ///< of one observe(): a row a reading
  // What is remembered, all rounds in a row: one growing block each, as a round is too short a work to ask for memory.
  std::vector<Step> steps_;
  std::vector<Taken> taken_;
  std::vector<double> taken_columns_;  ///< covariance of the state with each reading
  std::vector<std::size_t> begun_;     ///< pups that start in a round: nothing of before leads to them
  std::vector<double> foreseen_;       ///< per round the pups' means, then each state's covariances with the pups
};

}  // namespace lampside::growth
