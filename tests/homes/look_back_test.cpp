// What a litter came to, and what the next forecast takes from it.
#include "homes/look_back.hpp"

#include <gtest/gtest.h>

#include "told.hpp"

namespace lampside::testing {
namespace {

homes::LookBack back(const Story& story, Instant now) {
  return homes::look_back(story.litter(), reference::built_in(), now);
}

Story litter_of_four() {
  Story story;
  story.tell(kNight - days(63), "", record::Ovulation{}).mated(kNight - days(61)).mated(kNight - days(59));
  story.born("1", kNight, 400).born("2", kNight + minutes(40), 350).born("3", kNight + minutes(80), 380, false);
  story.born("4", kNight + minutes(120), 420).tell(kNight + days(3), "4", record::Death{"not known"});
  story.weighed("1", 810, kNight + days(8)).weighed("2", 700, kNight + days(9));
  return story;
}

TEST(LookBack, CountsLossesWeightsAndDays) {
  const auto b = back(litter_of_four(), kNight + days(60));
  EXPECT_EQ(b.born, 4);
  EXPECT_EQ(b.stillborn, 1);
  EXPECT_EQ(b.born_alive, 3);
  EXPECT_EQ(b.weaned, 2);
  ASSERT_EQ(b.losses.size(), 1U);
  EXPECT_EQ(b.losses[0].pup, "4");
  EXPECT_EQ(b.losses[0].cause, "not known");
  EXPECT_EQ(b.birth_weights.size(), 3U);
  ASSERT_TRUE(b.doubled);
  EXPECT_NEAR(b.doubled->count(), 8, 0.01);
}

TEST(LookBack, OneForEachAnchorAndTheFirstOfSeveralMatings) {
  const auto b = back(litter_of_four(), kNight + days(60));
  ASSERT_EQ(b.carried.size(), 2U);
  EXPECT_EQ(b.carried[1].from, record::Anchor::mating);
  EXPECT_EQ(b.carried[1].days.count(), 61);
  EXPECT_EQ(b.carried[0].from, record::Anchor::ovulation);
  EXPECT_EQ(b.carried[0].days.count(), 63);
  EXPECT_EQ(b.for_the_next->weaned, 2);
  EXPECT_FALSE(back(litter_of_four(), kNight + days(20)).for_the_next->weaned);  // too early to say
}

TEST(LookBack, ForecastAgainstFactUsesNothingThatCameAfterwards) {
  const auto b = back(litter_of_four(), kNight + days(60));
  ASSERT_EQ(b.foretold.size(), 2U);
  Story then;  // the same litter as it was known a week before
  then.tell(kNight - days(63), "", record::Ovulation{}).mated(kNight - days(61)).mated(kNight - days(59));
  const auto forecast = std::get<due::Forecast>(then.assess(kNight - days(7)).due);
  EXPECT_EQ(b.foretold[0].p50, forecast.p50);
  EXPECT_TRUE(b.foretold[0].within);
}

TEST(LookBack, TheNextLitterKnowsWhatItHasTakenOver) {
  const auto b = back(litter_of_four(), kNight + days(60));
  Story next;
  EXPECT_FALSE(homes::taken_over(next.litter(), b));
  next.tell(kNight, "dam", *b.for_the_next);
  EXPECT_TRUE(homes::taken_over(next.litter(), b));
}

}  // namespace
}  // namespace lampside::testing
