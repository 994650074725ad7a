// An invented litter's readings for the drawings.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "draw/charts.hpp"

namespace lampside::draw::test {

inline Instant at(std::string_view iso) { return parse_stamp(iso).value().instant; }

inline const std::vector<std::string>& collars() {
  static const std::vector<std::string> kCollars{"red",   "light blue", "yellow", "green", "pink",
                                                 "white", "purple",     "orange", "brown", "black",
                                                 "lime",  "turquoise",  "navy",   "grey"};
  return kCollars;
}

/// `pups` pups weighed once a day at eight in the morning over `days` days; every one dips a little on day 1.
inline WeightChart litter(std::size_t pups, int days) {
  WeightChart chart;
  chart.born = at("2026-03-02T01:40:00Z");
  chart.title = "Weights of Juniper's litter";
  for (std::size_t n = 0; n < pups; ++n) {
    WeightSeries pup{std::to_string(n + 1), collars()[n % collars().size()], {}};
    const double start = 395 + 17.0 * static_cast<double>((n * 5) % 9),
                 pace = 0.072 + 0.0035 * static_cast<double>((n * 7) % 5);
    for (int d = 0; d < days; ++d) {
      const double dip = d == 1 ? 0.97 : 1;
      pup.readings.push_back({chart.born + std::chrono::hours(24 * d + (d ? 6 : 0)),
                              Grams{std::round(start * dip * std::exp(pace * d - 0.0006 * d * d))}});
    }
    chart.pups.push_back(std::move(pup));
  }
  return chart;
}

inline TemperatureChart temperatures() {
  TemperatureChart chart;
  chart.limit = Celsius{37.5};
  const double readings[] = {38.3, 38.1, 38.4, 38.2, 38.2, 38.0, 38.3, 37.9, 38.1, 37.8, 37.4, 36.9, 37.3};
  for (int i = 0; i < 13; ++i)
    chart.readings.push_back({at("2026-02-24T07:00:00Z") + std::chrono::hours(12 * i), Celsius{readings[i]}});
  chart.first_pup = at("2026-03-02T21:40:00Z");
  return chart;
}

}  // namespace lampside::draw::test
