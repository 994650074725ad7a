// Progesterone: around ovulation it dates the LH surge, in the last days its fall dates whelping.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "due/model.hpp"

namespace lampside::due {
namespace {

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
void surge(const Reading& r, const Readings& readings, std::vector<ClueTerm>& out) {
  const Course course(r.reference, "lh_surge");
  const double noise = parameter(r.reference, "progesterone_noise_ln"),
               assay = parameter(r.reference, "progesterone_assay_ln");
  const double dates_to = std::log(parameter(r.reference, "progesterone_dates_to_ng_ml"));
  const Axis& axis = r.axes.lh;
  ClueTerm clue{};
  clue.kind = "progesterone";
  clue.event = Event::lh_surge;
  clue.good.resize(axis.cells);
  double odd = 0;
  double n = 0;
  for (const auto* p : readings)
    if (ln_reading(*p) <= dates_to)
      n += 1, odd += log_normal(ln_reading(*p) - std::log(3.0), 1.2);
    else
      odd += std::log(0.5);
  clue.odd.assign(axis.cells, odd);
  const double joint = noise * noise + n * assay * assay;  // the covariance's one other eigenvalue
  for (std::size_t i = 0; i < axis.cells; ++i) {
    double sum = 0, squares = 0, censored = 0;
    for (const auto* p : readings) {
      const double mean = course.at(-24 * axis.days_after(p->at, i));
      const double y = ln_reading(*p);
      if (y <= dates_to)
        sum += y - mean, squares += (y - mean) * (y - mean);
      else
        censored +=
            std::log(std::max(0.5 * std::erfc((dates_to - mean) / std::hypot(noise, assay) / std::sqrt(2.0)), 1e-300));
    }
    double fit = 0;
    if (n > 0) {
      const double about_mean = squares - sum * sum / n;
      fit = -0.5 * (n * std::log(2 * M_PI) + (n - 1) * 2 * std::log(noise) + std::log(joint) +
                    about_mean / (noise * noise) + sum * sum / n / joint);
    }
    clue.good[i] = fit + censored;
  }
  clue.says = told(r.litter, readings) + ", around ovulation";
  clue.slip = "check the progesterone figures: ng/ml, or nmol/l (3.18 times larger)?";
  clue.source = {"Hollinshead and Hanlon 2019, Theriogenology 125:37-42",
                 "2.7, 4.8 and 7.2 ng/ml at the LH surge, 2 and 3 days after", reference::Standing::published};
  out.push_back(std::move(clue));
}

/// Before whelping each reading stands for itself; a litter of one or two often shows no fall at all.
void fall(const Reading& r, const Readings& readings, std::vector<ClueTerm>& out) {
  const Course course(r.reference, "whelping");
  const double noise = parameter(r.reference, "late_progesterone_noise_ln");
  const double odd_share = parameter(r.reference, "late_progesterone_odd");
  const double flat_share =
      pups_counted(r.litter).value_or(99) <= 2 ? parameter(r.reference, "small_litter_no_fall") : 0.0;
  const Axis& axis = r.axes.whelping;
  ClueTerm clue{};
  clue.kind = "progesterone_fall";
  clue.event = Event::whelping;
  clue.good.assign(axis.cells, 0);
  for (std::size_t i = 0; i < axis.cells; ++i) {
    double falling = 0, flat = 0;
    for (const auto* p : readings) {
      const double hours = std::max(0.0, 24 * axis.days_after(p->at, i)), y = ln_reading(*p);
      const double odd = std::log(odd_share) + log_normal(y - std::log(4.5), 0.6);
      falling += log_add(std::log1p(-odd_share) + log_normal(y - course.at(hours), noise), odd);
      flat += log_add(std::log1p(-odd_share) + log_normal(y - course.at(std::max(hours, 120.0)), noise), odd);
    }
    clue.good[i] = flat_share > 0 ? log_add(std::log1p(-flat_share) + falling, std::log(flat_share) + flat) : falling;
  }
  clue.says = told(r.litter, readings) + ", before whelping";
  clue.slip = "check the progesterone figures";
  clue.source = {"Concannon et al. 1978, Biol Reprod 19:1113-1118",
                 "4.5, 3.1, 1.2 and 0.6 ng/ml at about 120, 36, 20 and 10 h before", reference::Standing::published};
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
