// What a litter came to, and what the next forecast takes from it.
#include "homes/look_back.hpp"

#include <gtest/gtest.h>

#include <cmath>

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

TEST(LookBack, GrowthByWeeksAndWhatItCost) {
  auto story = litter_of_four();
  story.weighed("1", 760, kNight + days(7)).weighed("2", 700, kNight + days(7) + minutes(40));
  story.weighed("1", 1300, kNight + days(14));  // one pup alone is no litter
  story.tell(kNight + days(9), "", record::MoneyMoved{Cash{85'500}, record::MoneyWay::out, "x-ray", "GBP", {}, {}, {}});
  const auto b = back(story, kNight + days(60));
  ASSERT_EQ(b.weeks.size(), 1U);
  EXPECT_EQ(b.weeks[0].week, 1);
  EXPECT_EQ(b.weeks[0].pups, 2);
  EXPECT_NEAR(b.weeks[0].mean.count(), 730, 0.01);
  ASSERT_EQ(b.cost.size(), 1U);
  EXPECT_EQ(say_cash(b.cost[0].second, b.cost[0].first), "85.50 GBP");
}

// All that the next litter's forecasts read: how long she carried, how her pups gained, how many there were.
TEST(LookBack, TheNextForecastAndTheNextListUseIt) {
  Story slow;
  slow.breed("Golden Retriever").mated(kNight - days(66));
  for (const auto* label : {"1", "2", "3"}) {
    slow.born(label, kNight, 400);
    for (int d = 1; d <= 21; ++d) slow.weighed(label, 400 * std::exp(0.045 * d), kNight + days(d));
  }
  const auto b = back(slow, kNight + days(60));
  ASSERT_TRUE(b.for_the_next && b.for_the_next->gain_pct) << "a slow litter's gain is not carried on";
  EXPECT_LT(b.for_the_next->gain_pct->count(), 90);
  const auto then = kNight + days(365);
  Story bare, taught;
  for (auto* story : {&bare, &taught}) story->breed("Golden Retriever").mated(then - days(40));
  for (int i = 0; i < 3; ++i) taught.tell(then - days(300 - i), "dam", *b.for_the_next);
  const auto one = bare.assess(then), other = taught.assess(then);
  EXPECT_GT(std::get<due::Forecast>(other.due).p50, std::get<due::Forecast>(one.due).p50);
  EXPECT_LT(growth::house_factor(taught.litter(), then), growth::house_factor(bare.litter(), then));
  EXPECT_LE(other.supplies.litter.at(0.95), one.supplies.litter.at(0.95));
  EXPECT_NE(other.supplies.litter.says.find("her own 3 litters of 3"), std::string::npos) << other.supplies.litter.says;
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
