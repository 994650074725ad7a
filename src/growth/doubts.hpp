// One round of readings against what can go wrong in writing weights down: Bayes factors.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "growth/pace.hpp"
#include "measure/quantity.hpp"

namespace lampside::growth {

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

class RoundCheck {
 public:
  explicit RoundCheck(const PaceModel& model) : model_{model} {}
  /// Of so many readings, to be added; nothing of a round before is kept but its memory.
  void begin(std::size_t readings);
  /// `log_g` is the log of the figure, `off` that less what the model would show. `trusted`: may not be doubted.
  void add(const Figure& figure, double log_g, double off, double noise, std::optional<Grams> last, bool trusted);
  /// Of two readings' logs as foreseen, their noise included; to be filled in.
  double& covariance(std::size_t i, std::size_t j) { return covariance_[i * readings_ + j]; }
  /// The best explanation, then the next that touches other readings, while each is worth asking about.
  std::vector<RoundDoubt> find(const std::vector<double>& tubs);
  /// After find(): whether that reading, taken as true, says that the pup's course broke.
  [[nodiscard]] bool broke(std::size_t i) const { return broke_[i]; }
  /// After find(): the readings neither doubted nor broken, how many they are and their squared distance from what was
  /// foreseen, in its spreads. A litter that is as noisy as the model thinks has about one a reading.
  [[nodiscard]] std::size_t sound() const { return items_.size(); }
  [[nodiscard]] double sound_square() const { return items_.empty() ? 0 : square_; }

 private:
  struct Item {
    std::size_t place;  ///< in the round
    Figure figure;
    double off, log_g, noise;
    std::optional<Grams> last;
    bool trusted;
  };
  struct Idea {
    RoundDoubt doubt;
    double log_odds;  ///< prior and factor
  };
  void invert();
  void think(const std::vector<double>& tubs);
  void drop(std::vector<std::size_t> who);
  /// Squared distance of a reading from what all others foresee of it, in its spreads.
  [[nodiscard]] double oddness(std::size_t i) const { return pull_[i] * pull_[i] / precision_[i * items_.size() + i]; }
  /// ln factor when each named reading's log is changed by that much.
  [[nodiscard]] double changed(std::span<const std::size_t> who, std::span<const double> by) const;
  [[nodiscard]] double changed(std::size_t i, double by) const;
  void one(std::size_t i, Slip slip, double would_be, double log_prior, double jacobian);
  /// ln odds of a real change of that reading's pup against none.
  [[nodiscard]] double real(std::size_t i) const { return real(pull_[i], precision_[i * items_.size() + i]); }
  [[nodiscard]] double real(double pull, double own) const;
  [[nodiscard]] double real_beside(std::size_t i, std::span<const std::size_t> who) const;
  [[nodiscard]] bool counts(double log_odds) const;
  /// Keeps the idea if it could count; hundreds are looked at in a round, so nothing is stored before that.
  void push(Slip slip, std::span<const std::size_t> who, std::span<const std::optional<Grams>> would_be, double factor,
            double log_prior);
  void tubs_left_on(std::size_t i, const std::vector<double>& tubs);
  void digits(std::size_t i);
  void swaps();
  void whole_round();

  const PaceModel& model_;
  std::size_t readings_ = 0;
  std::vector<Item> items_;
  std::vector<double> covariance_, precision_, pivots_, pull_, wrong_;
  double square_ = 0;
  std::vector<Idea> ideas_;
  std::vector<bool> broke_;
};

}  // namespace lampside::growth
