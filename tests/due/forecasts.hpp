// A forecast of a litter, for tests that need its value and say what was refused when there is none.
#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

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

inline double hours_apart(Instant a, Instant b) { return std::abs(24 * reference::days_between(a, b)); }

/// What every forecast must be, whatever went into it.
inline void holds_together(const due::Forecast& f, Instant now) {
  double sum = 0;
  for (const double d : f.density) {
    EXPECT_TRUE(std::isfinite(d) && d >= 0) << d;
    sum += d;
  }
  EXPECT_NEAR(sum, 1, 1e-9);
  EXPECT_LE(now, f.p05);
  EXPECT_LE(f.p05, f.p25);
  EXPECT_LE(f.p25, f.p50);
  EXPECT_LE(f.p50, f.p75);
  EXPECT_LE(f.p75, f.p95);
  for (const auto& [a, b] : {std::pair{0.0, f.chance.h6},
                             {f.chance.h6, f.chance.h12},
                             {f.chance.h12, f.chance.h24},
                             {f.chance.h24, f.chance.h48},
                             {f.chance.h48, 1.0}})
    EXPECT_LE(a, b + 1e-12);
  EXPECT_NEAR(f.between(f.from - std::chrono::hours{24}, now - std::chrono::hours{1}), 0, 1e-12);
  EXPECT_TRUE(std::isfinite(f.log_evidence));
  for (const auto& c : f.clues) {
    EXPECT_TRUE(std::isfinite(c.pull.count())) << c.says;
    EXPECT_TRUE(c.weight >= 0 && c.weight <= 1) << c.says << " " << c.weight;
    EXPECT_TRUE(c.odd >= 0 && c.odd <= 1 + 1e-9) << c.says << " " << c.odd;
    EXPECT_FALSE(c.says.empty() || c.source.work.empty());
  }
  if (f.next_reading) {
    EXPECT_GT(*f.next_reading, now);
    EXPECT_LE(*f.next_reading, now + std::chrono::hours{24});
  }
}

/// A litter with one entry of a kind, noted by hand.
template <class T>
record::Noted<T> noted(Instant at, T what) {
  return {at, std::move(what), "", "", ""};
}

/// Chance of at most `k` of `n`, each with chance `p`.
inline double at_most(int k, int n, double p) {
  double sum = 0;
  for (int i = 0; i <= k; ++i)
    sum += std::exp(std::lgamma(n + 1.0) - std::lgamma(i + 1.0) - std::lgamma(n - i + 1.0) + i * std::log(p) +
                    (n - i) * std::log1p(-p));
  return sum;
}

/// A share found in `n` trials against one printed of `of` litters. Agrees when the printed count, or one farther out,
/// is not rarer than 1 in 40 for litters that behave as those tried (their share moved by its own standard error, about
/// a point, towards the printed one). So "100 % of 63" does not ask for certainty, and 90 % of 63 leaves about 7
/// points.
inline ::testing::AssertionResult share_as_printed(std::string_view what, std::string_view source, double printed_pct,
                                                   int of, double got_pct, int n) {
  const int count = static_cast<int>(std::lround(printed_pct * of / 100));
  const double got = std::clamp(got_pct / 100, 1e-9, 1 - 1e-9), se = std::sqrt(got * (1 - got) / n);
  const double printed = static_cast<double>(count) / of;
  const double p =
      std::abs(printed - got) <= se ? std::clamp(printed, 1e-9, 1 - 1e-9) : got + (printed > got ? se : -se);
  const double rare = std::min(at_most(count, of, p), 1 - (count > 0 ? at_most(count - 1, of, p) : 0));
  const auto told = fmt::format("{}  [{}]\n  printed {} % of {} | got {:.1f} % of {} | 1 in {:.0f}", what, source,
                                printed_pct, of, got_pct, n, 1 / std::max(rare, 1e-9));
  if (rare >= 0.025) return ::testing::AssertionSuccess() << told;
  return ::testing::AssertionFailure() << told;
}

}  // namespace lampside::testing
