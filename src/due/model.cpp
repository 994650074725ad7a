#include "due/model.hpp"

#include <cmath>
#include <cstdlib>
#include <limits>
#include <numbers>

namespace lampside::due {

double parameter(const reference::Reference& reference, std::string_view name) {
  for (const auto& p : reference.parameters)
    if (p.name == name) return p.value;
  std::abort();
}

double log_normal(double x, double sd) {
  const double z = x / sd;
  return -0.5 * z * z - std::log(sd) - 0.5 * std::log(2 * std::numbers::pi);
}

double log_add(double a, double b) {
  if (a < b) std::swap(a, b);
  return b == -std::numeric_limits<double>::infinity() ? a : a + std::log1p(std::exp(b - a));
}

ClueTerm dated_clue(const Reading& r, Event event, Instant seen, double mean_d, double sd_d) {
  const Axis& axis = r.axes.of(event);
  const double odd_sd = parameter(r.reference, "gross_error_sd_d");
  ClueTerm clue{};
  clue.event = event;
  clue.good.resize(axis.cells);
  clue.odd.resize(axis.cells);
  for (std::size_t i = 0; i < axis.cells; ++i) {
    const double off = -axis.days_after(seen, i) - mean_d;  // seen - event - mean
    clue.good[i] = log_normal(off, sd_d);
    clue.odd[i] = log_normal(off, odd_sd);
  }
  return clue;
}

bool tiny_litter(const record::Litter& litter, Instant now) {
  int counted = 99;
  for (const auto& c : litter.counts)
    if (c.at <= now) counted = c.what.pups;
  return counted <= 2;
}

}  // namespace lampside::due
