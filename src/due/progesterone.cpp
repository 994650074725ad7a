// Progesterone: around ovulation it dates the LH surge, in the last days its fall dates whelping.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "due/model.hpp"

namespace lampside::due {
namespace {

/// Hours before whelping: within the first the fall is under way, beyond the second it has not begun, and a bitch that
/// shows none stays where she was at the third.
constexpr double kFallKnown = 36, kFallBegins = 56, kNoFall = 120;

/// The mean course as knots (hours, ln ng/ml), by hours; flat beyond its ends.
class Course {
 public:
  Course(const reference::Reference& reference, std::string_view around) {
    for (const auto& row : reference.progesterone_course)
      if (row.around == around) knots_.push_back({row.hours, std::log(row.ng_ml)});
    std::sort(knots_.begin(), knots_.end());
  }
  [[nodiscard]] double at(double hours) const {
    if (hours <= knots_.front().first) return knots_.front().second;
    if (hours >= knots_.back().first) return knots_.back().second;
    const auto above = std::lower_bound(knots_.begin(), knots_.end(), std::pair{hours, -1e300});
    const auto below = std::prev(above);
    const double part = (hours - below->first) / (above->first - below->first);
    return below->second + part * (above->second - below->second);
  }

  /// The first hour at which a rising course passes `ln`; its ends for what lies beyond them.
  [[nodiscard]] double first_at(double ln) const {
    if (ln <= knots_.front().second) return knots_.front().first;
    for (std::size_t i = 1; i < knots_.size(); ++i) {
      const auto& [h0, ln0] = knots_[i - 1];
      const auto& [h1, ln1] = knots_[i];
      if (ln <= ln1) return h0 + (h1 - h0) * (ln - ln0) / (ln1 - ln0);
    }
    return knots_.back().first;
  }

 private:
  std::vector<std::pair<double, double>> knots_;
};

using Readings = std::vector<const record::Noted<record::Progesterone>*>;

std::string told(const record::Litter& litter, const Readings& readings) {
  const auto one = [&](const auto* p) {
    return fmt::format("{} ng/ml {}", say_number(p->what.ng_ml.count(), 1), say_day(litter.zone.day_of(p->at)));
  };
  return readings.size() == 1 ? "progesterone " + one(readings.front())
                              : fmt::format("progesterone, {} readings: {} to {}", readings.size(),
                                            one(readings.front()), one(readings.back()));
}

/// Zero or under detection is read as 0.1: its logarithm must exist, and lower than that says nothing more.
double ln_reading(const record::Noted<record::Progesterone>& p) {
  return std::log(std::max(p.what.ng_ml.count(), 0.1));
}

/// All readings of a cycle share the laboratory's offset, so they are one vector with covariance
/// noise^2 I + assay^2 J; its density has a closed form. Above the dating limit a reading says only "at least so much".
class SurgeLikelihood {
 public:
  SurgeLikelihood(const Reading& r, const Readings& readings)
      : axis_{r.axes.lh},
        readings_{readings},
        course_{r.reference, "lh_surge"},
        noise_{parameter(r.reference, "progesterone_noise_ln")},
        assay_{parameter(r.reference, "progesterone_assay_ln")},
        dates_to_{std::log(parameter(r.reference, "progesterone_dates_to_ng_ml"))} {
    for (const auto* p : readings) dating_ += ln_reading(*p) <= dates_to_;
  }
  /// If the surge fell in cell i and the figures stand `unit` (as a logarithm) over ng/ml.
  [[nodiscard]] double at(std::size_t i, double unit) const {
    double sum = 0, squares = 0, censored = 0;
    for (const auto* p : readings_) {
      const double mean = course_.at(-24 * axis_.days_after(p->at, i)) + unit;
      const double y = ln_reading(*p);
      if (y <= dates_to_)
        sum += y - mean, squares += (y - mean) * (y - mean);
      else
        censored += std::log(
            std::max(0.5 * std::erfc((dates_to_ - mean) / std::hypot(noise_, assay_) / std::sqrt(2.0)), 1e-300));
    }
    if (dating_ == 0) return censored;
    const double joint = noise_ * noise_ + dating_ * assay_ * assay_;  // the covariance's one other eigenvalue
    const double about_mean = squares - sum * sum / dating_;
    return censored - 0.5 * (dating_ * std::log(2 * std::numbers::pi) + (dating_ - 1) * 2 * std::log(noise_) +
                             std::log(joint) + about_mean / (noise_ * noise_) + sum * sum / dating_ / joint);
  }
  /// If the figures say nothing at all.
  [[nodiscard]] double anything() const {
    double out = 0;
    for (const auto* p : readings_)
      out += ln_reading(*p) <= dates_to_ ? log_normal(ln_reading(*p) - std::log(3.0), 1.2) : std::log(0.5);
    return out;
  }

 private:
  const Axis& axis_;
  const Readings& readings_;
  Course course_;
  double noise_, assay_, dates_to_, dating_ = 0;
};

void surge(const Reading& r, const Readings& readings, std::vector<ClueTerm>& out) {
  const SurgeLikelihood like(r, readings);
  ClueTerm clue{};
  clue.kind = "progesterone";
  clue.event = Event::lh_surge;
  const double anything = std::log(0.5) + like.anything();
  for (std::size_t i = 0; i < r.axes.lh.cells; ++i) {
    clue.good.push_back(like.at(i, 0));
    // A gross error is as often nmol/l noted as ng/ml as anything else.
    clue.odd.push_back(log_add(anything, std::log(0.5) + like.at(i, std::log(3.18))));
  }
  clue.says = told(r.litter, readings) + ", around ovulation";
  clue.slip = "check the progesterone figures: ng/ml, or nmol/l (3.18 times larger)?";
  clue.source = {"Hollinshead and Hanlon 2019, Theriogenology 125:37-42",
                 "2.7, 4.8 and 7.2 ng/ml at the LH surge, 2 and 3 days after", reference::Standing::published};
  out.push_back(std::move(clue));
}

/// Her own level lies somewhere about the mean course: eleven places, 2.5 spreads to either side, weighted as a normal.
std::array<std::pair<double, double>, 11> levels(double sd) {
  std::array<std::pair<double, double>, 11> out{};
  double sum = 0;
  for (std::size_t k = 0; k < out.size(); ++k) {
    const double z = (static_cast<double>(k) - 5) / 2;
    out[k] = {z * sd, std::exp(-0.5 * z * z)};
    sum += out[k].second;
  }
  for (auto& [level, weight] : out) weight /= sum;
  return out;
}

/// Before whelping each reading lies about the mean course moved to her own level, closely before the fall and widely
/// in it, and may say nothing at all; a litter of one or two often shows no fall.
void fall(const Reading& r, const Readings& readings, std::vector<ClueTerm>& out) {
  const auto value = [&](std::string_view name) { return parameter(r.reference, name); };
  const Course course(r.reference, "whelping");
  const auto own_levels = levels(value("late_progesterone_level_ln"));
  const double plateau = value("late_progesterone_plateau_ln"), falling = value("late_progesterone_fall_ln");
  const double odd_share = value("late_progesterone_odd");
  const double flat_share = pups_counted(r.litter).value_or(99) <= 2 ? value("small_litter_no_fall") : 0.0;
  const Axis& axis = r.axes.whelping;

  std::vector<double> y, odd;  // of each reading: ln ng/ml, and how likely it is if it says nothing
  for (const auto* p : readings) {
    y.push_back(ln_reading(*p));
    odd.push_back(odd_share * std::exp(log_normal(y.back() - std::log(4.5), value("late_progesterone_odd_ln"))));
  }
  const auto all = [&](Instant whelping, double not_later_than_h) {
    double sum = 0;
    for (const auto& [level, weight] : own_levels) {
      double product = weight;
      for (std::size_t j = 0; j < y.size(); ++j) {
        const double hours = std::max({0.0, not_later_than_h, 24 * reference::days_between(readings[j]->at, whelping)});
        const double sd =
            std::lerp(falling, plateau, std::clamp((hours - kFallKnown) / (kFallBegins - kFallKnown), 0.0, 1.0));
        product *= (1 - odd_share) * std::exp(log_normal(y[j] - course.at(hours) - level, sd)) + odd[j];
      }
      sum += product;
    }
    return sum;
  };
  ClueTerm clue{};
  clue.kind = "progesterone_fall";
  clue.event = Event::whelping;
  clue.good.assign(axis.cells, 0);
  for (std::size_t i = 0; i < axis.cells; ++i) {
    if (axis.at(i) + std::chrono::hours{1} < r.now) continue;  // gone by: she has not whelped
    double like = all(axis.at(i), 0);
    if (flat_share > 0) like = (1 - flat_share) * like + flat_share * all(axis.at(i), kNoFall);
    clue.good[i] = std::log(std::max(like, 1e-300));
  }
  clue.says = told(r.litter, readings) + ", before whelping";
  clue.slip = "check the progesterone figures";
  clue.source = {"Concannon et al. 1978, Biol Reprod 19:1113-1118",
                 "4.5, 3.1, 1.2 and 0.6 ng/ml at about 120, 36, 20 and 10 h before; spreads from two later studies",
                 reference::Standing::published};
  out.push_back(std::move(clue));
}

}  // namespace

bool around_ovulation(const record::Litter& litter, Instant reading) {
  using std::chrono::hours;
  std::optional<Instant> anchor;
  const auto take = [&](const auto& events, int days_back) {
    if (!events.empty() && !anchor) anchor = events.front().at - hours{24 * days_back};
  };
  take(litter.lh_surges, 0);
  take(litter.ovulations, 2);
  take(litter.dioestrus, 8);
  take(litter.matings, 2);
  if (anchor) return reading < *anchor + hours{24 * 25};
  if (litter.progesterone.empty()) return false;
  const auto& first = litter.progesterone.front();
  if (reading >= first.at + hours{24 * 25}) return false;
  const bool rises = std::any_of(litter.progesterone.begin(), litter.progesterone.end(), [&](const auto& p) {
    return p.at < first.at + hours{24 * 25} && p.what.ng_ml > 1.5 * first.what.ng_ml;
  });
  return first.what.ng_ml.count() < 2 || rises;
}

Days days_after_surge(const reference::Reference& reference, NgPerMl reading) {
  return Days{Course(reference, "lh_surge").first_at(std::log(reading.count())) / 24};
}

bool dates_the_surge(const reference::Reference& reference, NgPerMl reading) {
  return reading.count() >= 1.0 && reading.count() <= parameter(reference, "progesterone_dates_to_ng_ml");
}

void progesterone_clues(const Reading& r, std::vector<ClueTerm>& out) {
  Readings early, late;
  for (const auto& p : r.litter.progesterone) {
    if (p.at > r.now) continue;
    (around_ovulation(r.litter, p.at) ? early : late).push_back(&p);
  }
  if (!early.empty()) surge(r, early, out);
  if (!late.empty()) fall(r, late, out);
}

}  // namespace lampside::due
