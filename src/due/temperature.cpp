// The thermometer's whole series, not one threshold.
//
// reading = level + swing x (time of day) - drop x course(hours to whelping) + noise. For each candidate hour of
// whelping, level, swing and drop have a normal prior and enter linearly, so their marginal likelihood has a closed
// form: it is built up reading by reading (Kalman's update of three numbers). Two classes of bitches: those with a
// drop, those without. A reading may be a mis-read; then it is taken with that chance, and the three numbers move by
// the share in which it is true.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "due/model.hpp"

namespace lampside::due {
namespace {

/// How much of the drop shows so many hours before whelping: 0 at 48 h and before, 1 at the lowest, from the published
/// course (38.0 at 72 and 48 h, 37.4 at 20, 37.0 at 10, 37.4 at 1 h).
class DropCourse {
 public:
  explicit DropCourse(const reference::Reference& reference) {
    double top = -1e9, bottom = 1e9;
    for (const auto& row : reference.temperature_course) {
      top = std::max(top, row.celsius.count());
      bottom = std::min(bottom, row.celsius.count());
    }
    for (const auto& row : reference.temperature_course)
      knots_.emplace_back(row.before_h.count(), (top - row.celsius.count()) / (top - bottom));
    std::sort(knots_.begin(), knots_.end());
  }
  [[nodiscard]] double at(double hours_before) const {
    if (hours_before <= knots_.front().first) return knots_.front().second;
    if (hours_before >= knots_.back().first) return knots_.back().second;
    std::size_t i = 1;
    while (knots_[i].first < hours_before) ++i;
    const auto& [h0, d0] = knots_[i - 1];
    const auto& [h1, d1] = knots_[i];
    return d0 + (d1 - d0) * (hours_before - h0) / (h1 - h0);
  }

 private:
  std::vector<std::pair<double, double>> knots_;
};

/// Mean and covariance of (level, swing, drop), and the log-likelihood so far.
struct State {
  std::array<double, 3> mean;
  std::array<std::array<double, 3>, 3> cov;
  double log_like = 0;
};

struct Noise {
  double sd, misread, misread_sd, misread_mean, wander;
};

/// Her level wanders a little between two readings.
void wait(State& s, Span gone, const Noise& noise) {
  s.cov[0][0] += noise.wander * noise.wander * static_cast<double>(gone.count()) / 86'400'000.0;
}

void take(State& s, const std::array<double, 3>& row, double y, const Noise& noise) {
  double predicted = 0;
  std::array<double, 3> gain{};
  for (std::size_t i = 0; i < 3; ++i) {
    predicted += row[i] * s.mean[i];
    for (std::size_t j = 0; j < 3; ++j) gain[i] += s.cov[i][j] * row[j];
  }
  double variance = noise.sd * noise.sd;
  for (std::size_t i = 0; i < 3; ++i) variance += row[i] * gain[i];
  const double off = y - predicted;
  const double as_true = std::log1p(-noise.misread) + log_normal(off, std::sqrt(variance));
  const double as_misread = std::log(noise.misread) + log_normal(y - noise.misread_mean, noise.misread_sd);
  const double total = log_add(as_true, as_misread);
  const double share = std::exp(as_true - total);
  s.log_like += total;
  // Mixture of "updated" and "not updated", matched in its first two moments.
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j)
      s.cov[i][j] += gain[i] * gain[j] * (-share / variance + share * (1 - share) * off * off / (variance * variance));
  for (std::size_t i = 0; i < 3; ++i) s.mean[i] += share * gain[i] * off / variance;
}

}  // namespace

std::vector<double> drop_course(const reference::Reference& reference, int to_hour) {
  const DropCourse course(reference);
  std::vector<double> out;
  for (int h = 0; h <= to_hour; ++h) out.push_back(course.at(h));
  return out;
}

void temperature_clue(const Reading& r, std::vector<ClueTerm>& out) {
  struct Taken {
    Instant at;
    double celsius, swing;
  };
  std::vector<Taken> taken;
  const Axis& axis = r.axes.whelping;
  for (const auto& t : r.litter.dam_temperatures) {
    // Older than two weeks before the earliest hour considered, a reading tells of another state of the dam.
    if (t.at > r.now || t.at < axis.start - std::chrono::hours{24 * 14}) continue;
    const double hour = static_cast<double>(r.litter.zone.time_of_day(t.at).count()) / 60;
    taken.push_back({t.at, t.what.celsius.count(), -std::cos((hour - 5) / 24 * 2 * std::numbers::pi)});
  }
  if (taken.empty()) return;
  const auto value = [&](std::string_view name) { return parameter(r.reference, name); };
  const DropCourse course(r.reference);
  const Noise noise{value("temperature_noise_c"), value("temperature_misread"), value("temperature_misread_sd_c"),
                    value("temperature_level_c"), value("temperature_wander_c")};
  const double no_drop = value("temperature_no_drop");
  const double level = value("temperature_level_c"), level_sd = value("temperature_level_sd_c");
  const double swing = value("temperature_swing_c"), swing_sd = value("temperature_swing_sd_c");
  const double drop = value("temperature_drop_c"), drop_sd = value("temperature_drop_sd_c");
  const auto begin = [&](bool with_drop) {
    State s{{level, swing, with_drop ? drop : 0}, {}, 0};
    s.cov[0][0] = level_sd * level_sd;
    s.cov[1][1] = swing_sd * swing_sd;
    s.cov[2][2] = with_drop ? drop_sd * drop_sd : 0;
    return s;
  };
  State flat = begin(false);
  const auto since_last = [&](std::size_t j) { return j == 0 ? Span{0} : taken[j].at - taken[j - 1].at; };
  for (std::size_t j = 0; j < taken.size(); ++j) {
    wait(flat, since_last(j), noise);
    take(flat, {1, taken[j].swing, 0}, taken[j].celsius, noise);
  }

  ClueTerm clue{};
  clue.kind = "temperature";
  clue.event = Event::whelping;
  clue.good.resize(axis.cells);
  // Readings from before the drop can begin are the same for every later hour, so they are taken once and the rest
  // anew.
  State common = begin(true);
  std::size_t done = 0;
  for (std::size_t i = 0; i < axis.cells; ++i) {
    const Instant whelping = axis.at(i);
    if (whelping + std::chrono::hours{1} < r.now) continue;  // gone by: she has not whelped
    while (done < taken.size() && whelping - taken[done].at >= std::chrono::hours{72}) {
      wait(common, since_last(done), noise);
      take(common, {1, taken[done].swing, 0}, taken[done].celsius, noise);
      ++done;
    }
    State s = common;
    for (std::size_t j = done; j < taken.size(); ++j) {
      const double before = static_cast<double>((whelping - taken[j].at).count()) / 3'600'000.0;
      wait(s, since_last(j), noise);
      take(s, {1, taken[j].swing, before < 0 ? 0 : -course.at(before)}, taken[j].celsius, noise);
    }
    clue.good[i] = log_add(std::log1p(-no_drop) + s.log_like, std::log(no_drop) + flat.log_like);
  }
  clue.says = fmt::format("{} temperature{} since {}, the last {} on {}", taken.size(), taken.size() == 1 ? "" : "s",
                          say_day(r.litter.zone.day_of(taken.front().at)),
                          say(Celsius{taken.back().celsius}, r.litter.units().temperature),
                          say_day_time(r.litter.zone, taken.back().at));
  clue.slip = "take her temperature again, in the rectum";
  clue.source = {
      "Variations in body temperature in the late stage of pregnancy and parturition in bitches (45 bitches; Tsutsui "
      "and Murata 1982)",
      "course from 72 to 1 h before birth", reference::Standing::published};
  out.push_back(std::move(clue));
}

}  // namespace lampside::due
