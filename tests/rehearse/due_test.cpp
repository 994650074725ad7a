// The rehearsal itself: repeatable, able to fail, and drawn from the figures it says.
#include "rehearse/due.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "due/model.hpp"
#include "reference/rules.hpp"
#include "rehearse/rules.hpp"

namespace lampside::testing {
namespace {

using rehearse::Dice;
using rehearse::Rehearsed;
using rehearse::World;

constexpr int kFew = 600;

/// Whether a share of `n` lies within three standard errors of what it should be.
bool near_share(int hits, int n, double should) {
  return std::abs(hits - should * n) <= 3 * std::sqrt(n * should * (1 - should));
}

TEST(RehearseDue, TheSeedDecides) {
  const auto one = rehearse::rehearse_due(40, 5), again = rehearse::rehearse_due(40, 5);
  EXPECT_EQ(one, again);
  EXPECT_NE(one, rehearse::rehearse_due(40, 6));
  EXPECT_NE(one.find("seed 5"), std::string::npos) << "and is printed";
}

TEST(RehearseDue, TellsHowFarItIs) {
  std::size_t last = 0, calls = 0;
  rehearse::rehearse_due(40, 5, [&](std::size_t done, std::size_t total) {
    EXPECT_EQ(total, 80u) << "both tables";
    EXPECT_LE(done, total);
    EXPECT_GE(done, last);
    last = done;
    ++calls;
  });
  EXPECT_GT(calls, 10u);
  EXPECT_GT(last, 40u) << "the second table too";
}

TEST(RehearseDue, TheWindowsHoldWhatTheySay) {
  const Rehearsed r = rehearse::rehearse(kFew, 3, World{});
  ASSERT_GT(r.all.n, kFew * 9 / 10);
  EXPECT_EQ(r.all.n + r.not_assessed, kFew);
  EXPECT_TRUE(near_share(r.all.in50, r.all.n, 0.5)) << r.all.in50 << " of " << r.all.n;
  EXPECT_TRUE(near_share(r.all.in90, r.all.n, 0.9)) << r.all.in90 << " of " << r.all.n;
}

// The same check must refuse a world that the forecast misjudges, or it checks nothing.
TEST(RehearseDue, AWorseWorldIsNoticed) {
  const Rehearsed r = rehearse::rehearse(kFew, 3, World{1.6, 0.1});
  EXPECT_FALSE(near_share(r.all.in50, r.all.n, 0.5)) << r.all.in50 << " of " << r.all.n;
  EXPECT_FALSE(near_share(r.all.in90, r.all.n, 0.9)) << r.all.in90 << " of " << r.all.n;
  const Rehearsed as_believed = rehearse::rehearse(kFew, 3, World{});
  EXPECT_LT(r.all.per(r.all.score), as_believed.all.per(as_believed.all.score));
}

// What the pregnancies are drawn from: the intervals as printed, whole, so that no fault can hide in the simulator.
TEST(RehearseDue, PregnanciesHaveThePublishedLength) {
  Dice dice{9};
  rehearse::Simulator draw{reference::built_in(), World{1, 0}, dice};
  const auto& tables = reference::built_in();
  struct Sums {
    double sum = 0, squares = 0;
    int n = 0;
    void add(double x) { sum += x, squares += x * x, ++n; }
    [[nodiscard]] double mean() const { return sum / n; }
    [[nodiscard]] double sd() const { return std::sqrt(squares / n - mean() * mean()); }
  };
  for (const auto& [breed, shift] : {std::pair{"", 0.0}, {"Labrador Retriever", -2.1}, {"German Shepherd", -1.4}}) {
    Sums late, whole;
    for (int i = 0; i < 4000; ++i) {
      const auto p = draw.pregnancy(breed, Instant{});
      late.add(reference::days_between(p.dioestrus, p.whelping));
      whole.add(reference::days_between(p.lh, p.whelping));
    }
    // De Cramer and Nöthling 2017: 57 days from dioestrus; with the reading of the smear 0.97.
    EXPECT_NEAR(late.mean(), 57, 0.06) << breed;
    EXPECT_NEAR(std::hypot(late.sd(), reference::parameter(tables, "dioestrus_read_sd_d")), 0.97, 0.06) << breed;
    // Eilts et al. 2005 for the breeds; Kutzler et al. 2003 for the spread from the progesterone rise, 1.5.
    EXPECT_NEAR(whole.mean(), 65 + shift, 0.1) << breed;
    EXPECT_NEAR(whole.sd(), 1.46, 0.08) << breed;
  }
}

// Rules are told she has not whelped: a date already past is answered with the little that is left.
TEST(RehearseDue, ARuleKnowsThatSheHasNotWhelped) {
  record::Litter litter{};
  const Instant mated{};
  litter.matings.push_back({mated, record::Mating{}, "", "", ""});
  const Instant now = mated + std::chrono::hours{24 * 66};
  const auto rules = rehearse::rules_for(litter, reference::built_in(), now);
  ASSERT_EQ(rules.size(), 1u);
  EXPECT_EQ(rules[0].rule, "first mating + 63");
  EXPECT_GT(rules[0].median(now), now);
  EXPECT_EQ(rules[0].median(mated), rules[0].mean);
  // ln of a density: over all that is left it adds up to one.
  double sum = 0;
  for (int h = 0; h < 24 * 20; ++h) sum += std::exp(rules[0].log_density(now + std::chrono::hours{h}, now)) / 24;
  EXPECT_NEAR(sum, 1, 0.02);
}

}  // namespace
}  // namespace lampside::testing
