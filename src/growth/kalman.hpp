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
  /// Takes in a reading of log weight; answers the log of its density given all before.
  double observe(std::size_t pup, double log_weight, double noise_variance);

  [[nodiscard]] double level(std::size_t pup) const { return mean_[pup]; }
  [[nodiscard]] double level_variance(std::size_t pup) const { return at(pup, pup); }
  /// Of the pup's pace over what is expected: its own and the litter's.
  [[nodiscard]] double pace(std::size_t pup) const { return mean_[pups_ + pup] + mean_[2 * pups_]; }
  [[nodiscard]] double pace_variance(std::size_t pup) const;
  [[nodiscard]] double litter_pace() const { return mean_[2 * pups_]; }
  [[nodiscard]] double litter_pace_variance() const { return at(2 * pups_, 2 * pups_); }
  /// Covariance of what the scale would show for two pups in this round, their own noise left out.
  [[nodiscard]] double shown_covariance(std::size_t a, std::size_t b) const;
  /// Covariance of what the scale would show for `a` now and for `b` after so many days, before anything of this round
  /// is taken in.
  [[nodiscard]] double shown_then(std::size_t a, std::size_t b, double days) const;
  /// What the scale would show for a pup in this round.
  [[nodiscard]] double shown(std::size_t pup) const { return mean_[pup] + mean_[2 * pups_ + 1]; }
  [[nodiscard]] double log_likelihood() const { return log_likelihood_; }

  /// Where the filter stands within a round, to come back to; good until the next rewind() to an earlier one.
  struct Mark {
    std::vector<double> mean, covariance;
    double log_likelihood = 0;
    bool mirrored = true;
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
    double error, variance;
  };
  struct Step {  ///< one round: how it was reached, what was foreseen for it, what was taken in
    double own_reach, own_keeps, litter_reach, litter_keeps;
    std::vector<double> mean, covariance;  ///< the pups' rows
    std::vector<Taken> readings;
    std::vector<double> gains;       ///< a row a reading
    std::vector<std::size_t> begun;  ///< pups that start here: nothing of before leads to them
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
  std::vector<double> mean_, covariance_, column_;
  double log_likelihood_ = 0;
  bool mirrored_ = true;
  std::vector<Step> steps_;
};

}  // namespace lampside::growth
