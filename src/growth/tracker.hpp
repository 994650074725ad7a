// Round by round: what the litter's model believes, and which readings cannot be right.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "growth/kalman.hpp"
#include "measure/quantity.hpp"
#include "reference/tables.hpp"

namespace lampside::growth {

/// The model's numbers, read by name from reference/parameters.toml, where each has its source.
struct PaceModel {
  struct Knot {
    double day, expected, need;  ///< change of log weight per day
  };
  std::vector<Knot> knots;
  LitterModel wander{};   ///< wide: a pup may stray fast. For paces.
  LitterModel healthy{};  ///< narrow: pups that thrive. For judging readings; a real break is told apart there.
  double young_level = 0, level = 0;       ///< variance of chance steps per day, up to day 2 and after
  double own_noise = 0, common_noise = 0;  ///< variances of a reading's log
  double slip = 0, real_change = 0, ask_at = 0;
  double watch_from = 0, act_from = 0;  ///< chances of being slow
  /// Against the usual, from the keeper's earlier litters. What a pup needs does not change with it: a house where pups
  /// gain badly must not take that for right.
  double house = 1;

  explicit PaceModel(const reference::Reference& reference, double house = 1);
  [[nodiscard]] double expected(Days age) const;
  [[nodiscard]] double need(Days age) const;
  [[nodiscard]] double expected_change(Days from, Days to) const;
};

/// One reading as the tracker takes it.
struct Figure {
  std::size_t pup;
  Grams grams;             ///< the tub taken off
  Grams tub{0};            ///< what was taken off
  Grams step{1};           ///< the scale's resolution
  double unit_g = 1;       ///< grams in the unit it was typed in, for slips of its digits
  bool confirmed = false;  ///< the keeper has said that it is right
};

enum class Slip { tub_left_on, zero_error, swapped, wrong_unit, digit_slip, decimal_slip, typed_again, weighed_twice };
std::string_view name_of(Slip slip);  ///< "tub_left_on", ...

/// Readings of one round that are likely wrong, and what they would be.
struct RoundDoubt {
  Slip likelier;
  std::vector<std::size_t> figures;            ///< places in the round
  double log_factor;                           ///< ln Bayes factor against "as written, or a real change"
  std::vector<std::optional<Grams>> would_be;  ///< one a figure; none: weigh again
  bool before = false;                         ///< of the round before this one, which this one shows in another light
};

struct PaceNow {
  Grams weight, weight_sd;
  double pace, pace_sd;  ///< change of log weight per day
  double chance_slow;    ///< that the true pace is below what the age needs
};

class Tracker {
 public:
  Tracker(const PaceModel& model, std::size_t pups, bool remembers = false);
  /// A pup is born so many days after the tracker's zero; `likely` is its breed's usual birth weight.
  void born(std::size_t pup, Days at, Grams likely);
  /// Takes in a round. What is in doubt is set aside, until a later reading bears it out. The round before is judged
  /// again from both sides: two pups mixed up yesterday may be plain only today.
  std::vector<RoundDoubt> round(Days at, const std::vector<Figure>& figures);

  [[nodiscard]] PaceNow now(std::size_t pup) const;
  [[nodiscard]] Grams forecast(std::size_t pup, Days ahead) const;
  [[nodiscard]] double litter_pace() const { return filter_.litter_pace(); }
  [[nodiscard]] Days at() const { return Days{at_}; }
  [[nodiscard]] bool knows(std::size_t pup) const { return pups_[pup].readings > 0; }
  [[nodiscard]] int readings(std::size_t pup) const { return pups_[pup].readings; }
  [[nodiscard]] const LitterFilter& filter() const { return filter_; }

 private:
  struct PupState {
    double born = 0, likely = 0;
    bool here = false, started = false;
    int readings = 0;
    std::optional<double>
        set_aside;              ///< where the other story lies, from what is foreseen: a doubted reading, an old course
    std::optional<Grams> last;  ///< as last typed
  };
  /// A round as it stood before anything of it was taken in.
  struct Before {
    LitterFilter judge;
    LitterFilter::Mark filter;
    std::vector<PupState> pups;
    std::vector<double> tubs;
    double squares, sound, at;
    std::vector<Figure> figures;
    std::vector<double> noises;
    std::vector<bool> trusted, aside, broke;
  };
  [[nodiscard]] double noise(const Figure& f) const;
  [[nodiscard]] double scale() const;
  /// What each pup is expected to change by meanwhile, into expected_ and level_.
  void foresee(double from, double to);
  void move_to(double at);
  std::vector<RoundDoubt> judged(const std::vector<Figure>& figures);
  [[nodiscard]] double squared_off(const Before& was, std::size_t i, std::optional<Grams> instead = std::nullopt) const;
  std::vector<RoundDoubt> look_back(double at, const std::vector<Figure>& figures);
  void take();
  void take_again(const std::vector<RoundDoubt>& doubts);

  const PaceModel& model_;
  LitterFilter filter_, judge_;
  std::vector<PupState> pups_;
  std::vector<double> tubs_;
  /// How noisy this litter's weighing is against the model: squared distances of sound readings, and their number,
  /// begun with readings that are as foreseen (West and Harrison 1997, Bayesian Forecasting and Dynamic Models, 2nd
  /// ed., section 2.5: unknown observation variance; from memory).
  double squares_ = kPriorReadings, sound_ = kPriorReadings;
  static constexpr double kPriorReadings = 20;
  double at_ = 0;
  bool moved_ = false;
  std::vector<double> expected_, level_;
  std::optional<Before> before_;
};

/// Chance that a normal value lies below a limit.
double normal_below(double limit, double mean, double sd);

}  // namespace lampside::growth
