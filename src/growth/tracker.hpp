// Round by round: what the litter's model believes, and which readings cannot be right.
#pragma once

#include <optional>
#include <vector>

#include "growth/doubts.hpp"
#include "growth/kalman.hpp"
#include "growth/pace.hpp"
#include "measure/quantity.hpp"

namespace lampside::growth {

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
    LitterFilter::Mark filter{};
    std::vector<PupState> pups{};
    std::vector<double> tubs{};
    double squares = 0, sound = 0, at = 0;
    std::vector<Figure> figures{};
    std::vector<double> logs{}, offs{}, noises{};  ///< of each figure its log, that less what was foreseen, its noise
    std::vector<double> covariance{};              ///< of the figures' logs as foreseen, their noise included
    std::vector<bool> trusted{}, aside{}, broke{};
  };
  [[nodiscard]] double noise(const Figure& f) const;
  [[nodiscard]] double scale() const;
  /// What each pup is expected to change by meanwhile, into expected_ and level_.
  void foresee(double from, double to);
  void move_to(double at);
  std::vector<RoundDoubt> judged(const std::vector<Figure>& figures, const std::vector<double>& logs);
  [[nodiscard]] double squared_off(const Before& was, std::size_t i, double off) const;
  std::vector<RoundDoubt> look_back(double at, const std::vector<Figure>& figures, const std::vector<double>& logs);
  void take();
  void take_again(const std::vector<RoundDoubt>& doubts);

  const PaceModel& model_;
  LitterFilter filter_, judge_;
  RoundCheck check_;
  LitterFilter::Ahead ahead_;
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

}  // namespace lampside::growth
