// The filter, the smoother and the likelihood against R and statsmodels (tests/data/kalman/PROVENANCE.md).
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>

#include "growth/kalman.hpp"

namespace lampside::growth {
namespace {

constexpr const char* kFolder = LAMPSIDE_SOURCE_DIR "/tests/data/kalman/";

::testing::AssertionResult close(double got, double want) {
  if (std::isfinite(got) && std::abs(got - want) <= 1e-6 * std::max(1.0, std::abs(want)))
    return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure() << "want " << want << ", got " << got << ", error " << got - want;
}
double number(const std::string& word) { return word == "nan" ? std::nan("") : std::stod(word); }
std::vector<double> numbers(std::istream& in, std::size_t count) {
  std::vector<double> out;
  std::string word;
  while (out.size() < count && in >> word) out.push_back(number(word));
  return out;
}

TEST(Kalman, TheComparerCanFail) {
  EXPECT_FALSE(close(1.00001, 1));
  EXPECT_FALSE(close(std::nan(""), 1));
  EXPECT_FALSE(close(-2, 2));
}

TEST(Kalman, NileAndTwentySeriesWithGapsAsInR) {
  std::ifstream in(std::string(kFolder) + "series.txt");
  std::string name;
  int series = 0;
  while (in >> name) {
    SCOPED_TRACE(name);
    ++series;
    const auto head = numbers(in, 8);
    ASSERT_EQ(head.size(), 8U);
    const double level = head[1];
    LitterFilter filter({{0, head[2], head[6]}, {0, 0, 0}}, 1, true);
    filter.start(0, head[4], head[5]);
    std::vector<std::vector<double>> rows;
    const double none = 0;
    for (int t = 0; t < static_cast<int>(head[0]); ++t) {
      const auto row = numbers(in, 4);
      ASSERT_EQ(row.size(), 4U);
      filter.advance(1, {&none, 1}, {&level, 1}, 0);
      if (!std::isnan(row[0])) filter.observe(0, row[0], head[3]);
      EXPECT_TRUE(close(filter.level(0), row[1])) << "filtered, day " << t;
      rows.push_back(row);
    }
    EXPECT_TRUE(close(filter.log_likelihood(), head[7])) << "log likelihood";
    const auto smooth = filter.smooth();
    ASSERT_EQ(smooth.size(), rows.size());
    for (std::size_t t = 0; t < rows.size(); ++t) {
      EXPECT_TRUE(close(smooth[t].level[0], rows[t][2])) << "smoothed, day " << t;
      EXPECT_TRUE(close(smooth[t].variance[0], rows[t][3])) << "its variance, day " << t;
    }
  }
  EXPECT_EQ(series, 21);
}

TEST(Kalman, TwentyLittersAsInStatsmodels) {
  std::ifstream in(std::string(kFolder) + "litters.txt");
  std::string word;
  int litters = 0;
  while (in >> word) {
    ASSERT_EQ(word, "litter");
    SCOPED_TRACE(++litters);
    const auto head = numbers(in, 10);
    ASSERT_EQ(head.size(), 10U);
    const auto pups = static_cast<std::size_t>(head[0]);
    LitterFilter filter({{head[3], head[4], head[5]}, {head[6], head[7], head[8]}}, pups, true);
    const int begun = static_cast<int>(head[2]);
    const auto there = [&](std::size_t pup, int round) { return pup + 1 < pups || round >= begun; };
    for (std::size_t i = 0; i < pups; ++i)
      if (there(i, 0)) filter.start(i, 6, 0.1);
    std::vector<std::vector<double>> rows;
    for (int t = 0; t < static_cast<int>(head[1]); ++t) {
      const auto round = numbers(in, 2);
      std::vector<double> expected, level;
      for (std::size_t i = 0; i < pups; ++i) {
        rows.push_back(numbers(in, 9));
        ASSERT_EQ(rows.back().size(), 9U);
        expected.push_back(rows.back()[2]), level.push_back(rows.back()[3]);
      }
      filter.advance(round[0], expected, level, round[1]);
      if (t > 0 && t == begun) filter.start(pups - 1, 6, 0.1);  // born later than the others
      const auto* row = &rows[rows.size() - pups];
      for (std::size_t i = 0; i < pups; ++i)
        if (!std::isnan(row[i][0])) filter.observe(i, row[i][0], row[i][1]);
      for (std::size_t i = 0; i < pups; ++i) {
        if (!there(i, t)) continue;
        EXPECT_TRUE(close(filter.level(i), row[i][4])) << "round " << t;
        EXPECT_TRUE(close(filter.pace(i), row[i][5])) << "round " << t;
        EXPECT_TRUE(close(filter.level_variance(i), row[i][6])) << "round " << t;
      }
    }
    EXPECT_TRUE(close(filter.log_likelihood(), head[9]));
    const auto smooth = filter.smooth();
    for (std::size_t t = 0; t < smooth.size(); ++t)
      for (std::size_t i = 0; i < pups; ++i) {
        if (!there(i, static_cast<int>(t))) continue;
        EXPECT_TRUE(close(smooth[t].level[i], rows[t * pups + i][7])) << "round " << t;
        EXPECT_TRUE(close(smooth[t].variance[i], rows[t * pups + i][8])) << "round " << t;
      }
  }
  EXPECT_EQ(litters, 20);
}

TEST(Kalman, GoneBackIsAsIfNeverGone) {
  constexpr std::size_t kPups = 3;
  const std::vector<double> expected(kPups, 0.05), level(kPups, 1e-5);
  const auto two_rounds = [&](LitterFilter& filter, bool astray) {
    for (std::size_t i = 0; i < kPups; ++i) filter.start(i, 6, 0.1);
    filter.advance(1, expected, level, 1e-5);
    filter.observe(std::vector<LitterFilter::Reading>{{0, 6.1, 1e-4}, {1, 6.0, 1e-4}, {2, 5.9, 1e-4}});
    filter.advance(0.5, expected, level, 1e-5);
    if (astray) {
      LitterFilter::Mark mark;
      filter.mark(mark);
      filter.start(1, 4, 0.3);  // begins anew: what was foreseen for this round is changed
      filter.observe(0, 7, 1e-4);
      filter.rewind(mark);
    }
    filter.observe(std::vector<LitterFilter::Reading>{{2, 5.95, 1e-4}, {1, 6.02, 2e-4}});
  };
  const LitterModel model{{0.1, 1e-5, 1e-3}, {0.2, 1e-5, 1e-3}};
  LitterFilter straight(model, kPups, true), back(model, kPups, true);
  two_rounds(straight, false);
  two_rounds(back, true);
  EXPECT_EQ(back.log_likelihood(), straight.log_likelihood());
  const auto one = straight.smooth(), other = back.smooth();
  ASSERT_EQ(one.size(), 2U);
  ASSERT_EQ(other.size(), 2U);
  for (std::size_t t = 0; t < one.size(); ++t) {
    EXPECT_EQ(other[t].level, one[t].level);
    EXPECT_EQ(other[t].variance, one[t].variance);
  }
}

TEST(Kalman, ReadingsTogetherAreAsOneAfterTheOther) {
  constexpr std::size_t kPups = 6;
  const LitterModel model{{0.1, 1e-5, 1e-3}, {0.2, 1e-5, 1e-3}};
  LitterFilter together(model, kPups, true), single(model, kPups, true);
  const std::vector<double> expected(kPups, 0.05), level(kPups, 1e-5);
  for (int round = 0; round < 3; ++round) {
    std::vector<LitterFilter::Reading> readings;
    for (std::size_t i = 0; i + 1 < kPups; ++i)
      readings.push_back({i, 6 + 0.05 * round + 0.01 * static_cast<double>(i), 1e-4 * static_cast<double>(i + 1)});
    for (LitterFilter* filter : {&together, &single}) {
      if (round == 0)
        for (std::size_t i = 0; i < kPups; ++i) filter->start(i, 6, 0.1);
      filter->advance(1, expected, level, 1e-5);
    }
    together.observe(readings);
    for (const auto& r : readings) single.observe(r.pup, r.log_weight, r.noise_variance);
  }
  EXPECT_NEAR(together.log_likelihood(), single.log_likelihood(), 1e-9);
  const auto one = single.smooth(), other = together.smooth();
  for (std::size_t t = 0; t < one.size(); ++t)
    for (std::size_t i = 0; i < kPups; ++i) {
      EXPECT_NEAR(other[t].level[i], one[t].level[i], 1e-12);
      EXPECT_NEAR(other[t].variance[i], one[t].variance[i], 1e-14);
    }
}

}  // namespace
}  // namespace lampside::growth
