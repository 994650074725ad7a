#include "whelping/pace.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace lampside::whelping {
namespace {

using reference::NotAssessed;
using reference::Reference;

double above(double z) { return 0.5 * std::erfc(z / std::numbers::sqrt2); }

/// The z above which the share `p` lies, by halving.
double above_inverse(double p) {
  double low = -9, high = 9;
  for (int i = 0; i < 60; ++i) {
    const double z = (low + high) / 2;
    (above(z) > p ? low : high) = z;
  }
  return (low + high) / 2;
}

double minutes_of(Span span) { return static_cast<double>(span.count()) / 60'000; }
Minutes whole(double minutes) { return Minutes{std::lround(minutes)}; }

/// The share of gaps longer than that.
double longer(const Pace& pace, double minutes) {
  return minutes <= 0 ? 1 : above((std::log(minutes) - pace.middle_ln) / pace.sd_ln);
}

std::optional<NotAssessed> no_outlook(const Labour& labour) {
  if (labour.born == 0) return NotAssessed{"NO_DATA", "the pace of this labour shows from the first pup on"};
  if (labour.over) return NotAssessed{"SILENCED", "she has settled"};
  return std::nullopt;
}

}  // namespace

Pace pace_of(const record::Litter& litter, const Reference& reference, Instant now) {
  const double prior = std::log(parameter(reference, "gap_middle_min")), within = parameter(reference, "gap_within_ln"),
               between = parameter(reference, "gap_litter_ln");
  double sum = 0;
  int n = 0;
  std::optional<Instant> before;
  for (const auto& pup : litter.pups) {
    if (pup.birth.at > now) break;
    // Pups noted in one minute were noted late: a gap of under a minute says nothing of her pace but "fast".
    if (before) sum += std::log(std::max(1.0, minutes_of(pup.birth.at - *before))), ++n;
    before = pup.birth.at;
  }
  const double knows = 1 / (between * between) + n / (within * within);
  const double middle = prior + (n > 0 ? (sum - n * prior) / (within * within) / knows : 0.0);
  return {middle, std::sqrt(within * within + 1 / knows), std::sqrt(1 / knows)};
}

double wait_quantile(const Pace& pace, double waited_min, double q) {
  const double left = longer(pace, waited_min);
  if (left < 1e-12) return waited_min;  // far beyond the model: as long again
  const double z = above_inverse((1 - q) * left);
  return std::max(0.0, std::exp(pace.middle_ln + pace.sd_ln * z) - std::max(0.0, waited_min));
}

reference::Assessed<NextPup> next_pup(const Labour& labour, const Pace& pace, Instant now) {
  if (auto none = no_outlook(labour)) return *none;
  if (labour.counted_out()) return NotAssessed{"NO_DATA", "all that were counted are born; a count can be too low"};
  const double waited = minutes_of(now - *labour.last_birth);
  return NextPup{whole(wait_quantile(pace, waited, 0.25)), whole(wait_quantile(pace, waited, 0.5)),
                 whole(wait_quantile(pace, waited, 0.9))};
}

reference::Assessed<NextPup> last_pup(const Labour& labour, const Pace& pace, Instant now) {
  if (auto none = no_outlook(labour)) return *none;
  if (!labour.expected) return NotAssessed{"NO_DATA", "nobody counted the pups before birth"};
  if (labour.counted_out()) return NotAssessed{"NO_DATA", "all that were counted are born; a count can be too low"};
  // Mean and variance of the wait now and of the whole gaps after it, then a log-normal with the same two (Fenton).
  const double waited = minutes_of(now - *labour.last_birth);
  double mean = 0, square = 0;
  constexpr int kPoints = 64;
  for (int i = 0; i < kPoints; ++i) {
    const double w = wait_quantile(pace, waited, (i + 0.5) / kPoints);
    mean += w / kPoints, square += w * w / kPoints;
  }
  double variance = std::max(1.0, square - mean * mean);
  const double gaps = *labour.expected - labour.born - 1;
  const double one = std::exp(pace.middle_ln + pace.sd_ln * pace.sd_ln / 2),
               one_variance = one * one * (std::exp(pace.sd_ln * pace.sd_ln) - 1),
               shared = one * one * (std::exp(pace.litter_sd_ln * pace.litter_sd_ln) - 1);
  mean += gaps * one;
  variance += gaps * one_variance + gaps * std::max(0.0, gaps - 1) * shared;
  const double spread = std::sqrt(std::log1p(variance / (mean * mean))), middle = std::log(mean) - spread * spread / 2;
  const auto at = [&](double q) { return whole(std::exp(middle + spread * above_inverse(1 - q))); };
  return NextPup{at(0.25), at(0.5), at(0.9)};
}

reference::Assessed<OneLeft> one_left(const record::Litter& litter, const Labour& labour, const Pace& pace,
                                      const Reference& reference, Instant now) {
  if (labour.born == 0) return NotAssessed{"NOT_BORN", "no pup is born yet"};
  const record::Noted<record::PupCount>* count = nullptr;
  for (const auto& c : litter.counts)
    if (c.at <= now) count = &c;
  if (!count) return NotAssessed{"NO_DATA", "nobody counted the pups before birth: only a vet can tell"};
  const bool xray = count->what.method == record::CountMethod::xray;
  const double exact = parameter(reference, xray ? "count_xray_exact" : "count_ultrasound_exact");
  // A count is a minimum: of the wrong ones, more are too low than too high.
  const double too_low = (1 - exact) * parameter(reference, "count_too_low");
  const int short_by = count->what.pups - labour.born;
  double before = short_by <= 0 ? too_low : 1 - (1 - exact - too_low);
  if (short_by < 0) before = too_low / 3;  // one more than counted is born already: yet another is rarer
  // Each quiet hour makes one that comes by itself less likely, and one that does not come no less.
  const double stuck = parameter(reference, "left_does_not_come");
  const double quiet = stuck + (1 - stuck) * longer(pace, minutes_of(now - *labour.last_birth));
  const double chance = before * quiet / (before * quiet + 1 - before);
  return OneLeft{chance, fmt::format("{} of {} counted by {} are born; counts of this kind are exact in {:.0f} %",
                                     labour.born, count->what.pups, xray ? "X-ray" : "ultrasound", 100 * exact)};
}

}  // namespace lampside::whelping
