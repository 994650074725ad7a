// The share of the variance that litter mates have in common, recovered from real litters by the filter's exact
// likelihood: the error common to a round stands for the litter (tests/data/littershare).
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <map>
#include <memory>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include "growth/kalman.hpp"

namespace lampside::growth {
namespace {

struct Set {
  std::array<double, 4> by_r{};  ///< mean, variance between litters, within, log likelihood
  std::vector<std::vector<double>> litters;
};

/// What the R script prints, or nothing when R or its data are not there.
std::map<std::string, Set> from_r() {
  const std::string command = "Rscript " LAMPSIDE_SOURCE_DIR "/tests/data/littershare/litter_share.R 2>/dev/null";
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe{popen(command.c_str(), "r"), pclose};
  std::string text;
  std::array<char, 4096> some{};
  while (pipe)
    if (const auto n = std::fread(some.data(), 1, some.size(), pipe.get()); n > 0)
      text.append(some.data(), n);
    else
      break;
  std::map<std::string, Set> out;
  std::istringstream in(text);
  std::string name;
  std::size_t rows = 0;
  while (in >> name >> rows) {
    Set set;
    for (double& figure : set.by_r) in >> figure;
    int last = -1;
    for (std::size_t i = 0; i < rows; ++i) {
      int litter = 0;
      double y = 0;
      in >> litter >> y;
      if (litter != last) set.litters.emplace_back();
      last = litter;
      set.litters.back().push_back(y);
    }
    out.emplace(name, std::move(set));
  }
  return out;
}

double log_likelihood(const Set& set, double mean, double between, double within) {
  double sum = 0;
  for (const auto& litter : set.litters) {
    const std::size_t n = litter.size();
    const std::vector<double> none(n, 0.0);
    LitterFilter filter({{0, 0, 0}, {0, 0, 0}}, n, false);
    for (std::size_t i = 0; i < n; ++i) filter.start(i, mean, 0);
    filter.advance(0, none, none, between);
    for (std::size_t i = 0; i < n; ++i) filter.observe(i, litter[i], within);
    sum += filter.log_likelihood();
  }
  return sum;
}

/// The likeliest mean, variance between and within: golden sections, one figure after the other.
std::array<double, 3> likeliest(const Set& set) {
  double all = 0, square = 0, n = 0;
  for (const auto& litter : set.litters)
    for (const double y : litter) all += y, square += y * y, ++n;
  const double mean = all / n, whole = std::log(square / n - mean * mean);
  std::array<double, 3> at{mean, whole - 1, whole - 1};
  std::array<double, 3> reach{std::exp(whole / 2), 3, 3};
  for (int turn = 0; turn < 12; ++turn)
    for (std::size_t k = 0; k < at.size(); ++k) {
      double low = at[k] - reach[k], high = at[k] + reach[k];
      const auto of = [&](double x) {
        auto p = at;
        p[k] = x;
        return log_likelihood(set, p[0], std::exp(p[1]), std::exp(p[2]));
      };
      for (int i = 0; i < 24; ++i) {
        const double a = high - (high - low) / std::numbers::phi, b = low + (high - low) / std::numbers::phi;
        if (of(a) > of(b))
          high = b;
        else
          low = a;
      }
      at[k] = (low + high) / 2;
      reach[k] = std::max(reach[k] * 0.5, 1e-3);
    }
  return {at[0], std::exp(at[1]), std::exp(at[2])};
}

TEST(LitterShare, IsRecoveredFromRatPupsAndPigs) {
  const auto sets = from_r();
  if (sets.empty()) GTEST_SKIP() << "R, r-cran-nlme or r-cran-geepack is not installed";
  ASSERT_EQ(sets.size(), 3U);
  ASSERT_EQ(sets.at("RatPupWeight").litters.size(), 27U);
  for (const auto& [name, set] : sets) {
    SCOPED_TRACE(name);
    const auto& r = set.by_r;
    EXPECT_NEAR(log_likelihood(set, r[0], r[1], r[2]), r[3], 1e-6) << "the likelihood where R found its greatest";
    const auto ours = likeliest(set);
    const double share = ours[1] / (ours[1] + ours[2]);
    std::printf("%s: litter's share of variance %.4f (R %.4f)\n", name.c_str(), share, r[1] / (r[1] + r[2]));
    EXPECT_NEAR(share, r[1] / (r[1] + r[2]), 0.002);
  }
  const auto rats = likeliest(sets.at("RatPupWeight"));
  EXPECT_NEAR(rats[1] / (rats[1] + rats[2]), 0.60, 0.05);
}

}  // namespace
}  // namespace lampside::growth
