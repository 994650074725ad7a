// A forecast of a litter, for tests that need its value and say what was refused when there is none.
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "due/forecast.hpp"
#include "reference/rules.hpp"

namespace lampside::testing {

inline std::optional<due::Forecast> forecast_of(const record::Litter& litter, Instant now) {
  auto said = due::forecast(litter, reference::built_in(), now);
  if (const auto* none = std::get_if<reference::NotAssessed>(&said)) {
    ADD_FAILURE() << "not assessed: " << none->code << ", " << none->why;
    return std::nullopt;
  }
  return std::get<due::Forecast>(std::move(said));
}

/// A litter with one entry of a kind, noted by hand.
template <class T>
record::Noted<T> noted(Instant at, T what) {
  return {at, std::move(what), "", "", ""};
}

/// A share found in `n` trials against a printed one found in `of`: agrees when it lies within three standard errors.
inline ::testing::AssertionResult share_as_printed(std::string_view what, std::string_view source, double printed_pct,
                                                   int of, double got_pct, int n) {
  const double p = std::clamp(printed_pct / 100, 0.5 / of, 1 - 0.5 / of);
  const double se = 100 * std::sqrt(p * (1 - p) * (1.0 / of + 1.0 / n));
  const auto told = fmt::format("{}  [{}]\n  printed {} % of {} | got {:.1f} % of {} | standard error {:.1f}", what,
                                source, printed_pct, of, got_pct, n, se);
  if (std::abs(got_pct - printed_pct) <= 2 * se) return ::testing::AssertionSuccess() << told;
  return ::testing::AssertionFailure() << told;
}

}  // namespace lampside::testing
