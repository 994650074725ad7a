// A got figure against a printed one, with the work beside it when they differ.
#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <string_view>

namespace lampside::testing {

/// `what`: the rule or column and the row; `source`: work, table or page; `input`: what was fed.
inline ::testing::AssertionResult as_printed(std::string_view what, std::string_view source, std::string_view input,
                                             double want, double got, double tolerance) {
  if (std::isfinite(got) && std::fabs(got - want) <= tolerance) return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure() << fmt::format(
             "{}  [{}]\n  input {} | want {} | got {} | error {} | tolerance {}", what, source, input, want, got,
             got - want, tolerance);
}
inline ::testing::AssertionResult as_printed(std::string_view what, std::string_view source, std::string_view input,
                                             std::string_view want, std::string_view got) {
  if (want == got) return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure() << fmt::format("{}  [{}]\n  input {} | want {} | got {}", what, source, input,
                                                      want, got);
}

}  // namespace lampside::testing
