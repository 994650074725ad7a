// The rehearsed night keeps the figures in print that its spreads were set by (docs/labour.md): no independent proof of
// them.
#include "rehearse/labour.hpp"

#include <gtest/gtest.h>

namespace lampside::rehearse {
namespace {

// Bostedt et al. 2023, Tierarztl Prax K 51:82-94: 83.8 % of the births without dystocia (345 Boxers) had a pause of
// more than 60 min. Tsutsui and Murata 1982 (45 bitches): 13-33 h from the first 37.5 C to birth, mean 21.5, standard
// error 0.8 (so a spread of 5.4).
TEST(Labour, TheFiguresInPrintComeOut) {
  const auto f = labour_figures(4000, 1);
  EXPECT_NEAR(f.boxer_pause_pct, 83.8, 5);
  EXPECT_NEAR(f.drop_mean_h, 21.5, 1);
  EXPECT_NEAR(f.drop_sd_h, 5.4, 1);
  EXPECT_GT(f.drop_p05_h, 12);
  EXPECT_LT(f.drop_p95_h, 33);
}

TEST(Labour, TheSameSeedGivesTheSameTable) {
  EXPECT_EQ(rehearse_labour(30, 12, 5), rehearse_labour(30, 12, 5));
  EXPECT_NE(rehearse_labour(30, 12, 5), rehearse_labour(30, 12, 6));
}

TEST(Labour, AStuckPupIsRungAboutBeforeHarm) {
  const auto& base = reference::built_in();
  const RuleSet strict{base, "lowest"}, late{base, "highest"};
  int rung = 0, earlier = 0;
  constexpr int kNights = 60;
  for (int i = 0; i < kNights; ++i) {
    Dice dice{static_cast<std::uint64_t>(i)};
    const auto n = night(base, Trouble::stuck, dice);
    ASSERT_TRUE(n.trouble_since);
    const Instant since = *n.trouble_since;
    const auto ours = first_ring(n, base, since), first = first_ring(n, strict.rules(), since),
               last = first_ring(n, late.rules(), since);
    rung += ours && ours->at - since <= Minutes{31};
    ASSERT_TRUE(first && last);
    earlier += first->at <= last->at;
  }
  EXPECT_EQ(rung, kNights) << "strong straining for half an hour is rung about";
  EXPECT_EQ(earlier, kNights);
}

}  // namespace
}  // namespace lampside::rehearse
