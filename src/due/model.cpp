#include "due/model.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <numbers>

namespace lampside::due {

double log_normal(double x, double sd) {
  const double z = x / sd;
  return -0.5 * z * z - std::log(sd) - 0.5 * std::log(2 * std::numbers::pi);
}

double log_add(double a, double b) {
  if (a < b) std::swap(a, b);
  return b == -std::numeric_limits<double>::infinity() ? a : a + std::log1p(std::exp(b - a));
}

double log_astray(double off_d, double scale_d) {
  const double t = off_d / scale_d;
  return std::log(2 / (std::numbers::pi * std::sqrt(3.0) * scale_d)) - 2 * std::log1p(t * t / 3);
}

bool same_word(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) {
    const auto low = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; };
    return low(x) == low(y);
  });
}

std::optional<double> dam_kg(const record::Litter& litter) {
  if (litter.facts.dam && litter.facts.dam->kg) return litter.facts.dam->kg->count();
  if (litter.facts.adult_kg) return litter.facts.adult_kg->count();
  return std::nullopt;
}

Instant middle_of_its_day(const record::Litter& litter, Instant judged) {
  return litter.zone.instant_of(litter.zone.day_of(judged), std::chrono::hours{12});
}

ClueTerm dated_clue(const Reading& r, Event event, Instant seen, double mean_d, double sd_d) {
  const Axis& axis = r.axes.of(event);
  const double astray = parameter(r.reference, "gross_error_scale_d");
  ClueTerm clue{};
  clue.event = event;
  clue.good.resize(axis.cells);
  clue.odd.resize(axis.cells);
  for (std::size_t i = 0; i < axis.cells; ++i) {
    const double off = -axis.days_after(seen, i) - mean_d;  // seen - event - mean
    clue.good[i] = log_normal(off, sd_d);
    clue.odd[i] = log_astray(off, astray);
  }
  return clue;
}

std::optional<int> pups_counted(const record::Litter& litter) {
  std::optional<int> seen, skeletons;
  for (const auto& c : litter.counts) (c.what.method == record::CountMethod::xray ? skeletons : seen) = c.what.pups;
  return skeletons ? skeletons : seen;
}

}  // namespace lampside::due
