// Stock falls when something is used, an opened pack keeps only so long, and what is cleared is gone.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "told.hpp"

namespace lampside::supplies {
namespace {

using namespace lampside::testing;
using reference::built_in;

record::Stock used(std::string item, double amount) {
  auto s = stock(std::move(item));
  s.used = Amount{amount};
  return s;
}
double left(const Story& story, std::string_view item) {
  for (const auto& kept : inventory(story.litter(), built_in()))
    if (kept.what.item == item) return kept.what.have.value_or(Amount{-1}).count();
  return -2;
}

TEST(Used, AddsUpUntilSomebodyCountsAgainAndAStrikeGivesItBack) {
  Story story;
  story.tell(kNight - hours(9), "", in_kit("gloves, disposable", 10));
  story.tell(kNight - hours(8), "", used("gloves, disposable", 1));
  story.tell(kNight - hours(7), "", used("Gloves, disposable", 2));
  EXPECT_EQ(left(story, "gloves, disposable"), 7);
  EXPECT_EQ(line_of(plan_of(story.mated(kNight - days(50))), "gloves, disposable").have, Amount{7});
  Story back = story;
  back.strike("00000000-0000-4000-8000-000000000003", kNight);
  EXPECT_EQ(left(back, "gloves, disposable"), 9);
  story.tell(kNight - hours(6), "", stock("gloves, disposable", 4));
  story.tell(kNight - hours(5), "", used("gloves, disposable", 1));
  EXPECT_EQ(left(story, "gloves, disposable"), 3);
  story.tell(kNight - hours(4), "", used("gloves, disposable", 50));
  EXPECT_EQ(left(story, "gloves, disposable"), 0) << "never below nothing";
}

TEST(Used, OfWhatWasNeverCountedTheOneThatIsThereIsGone) {
  Story story;
  auto jar = stock("lubricant, water based");
  jar.where = record::Keeping::kit;
  story.mated(kNight - days(50)).tell(kNight - hours(9), "", jar);
  EXPECT_TRUE(line_of(plan_of(story), "lubricant, water based").present());
  story.tell(kNight - hours(8), "", used("lubricant, water based", 1));
  EXPECT_EQ(line_of(plan_of(story), "lubricant, water based").state, State::missing);
}

// Two phones write without a connection and are merged later: what is left does not hang on the order of arrival.
RC_GTEST_PROP(Used, IsTheSameInAnyOrderOfArrival, ()) {
  Story story;
  double most = 0;
  const int entries = *rc::gen::inRange(1, 15);
  for (int i = 0; i < entries; ++i) {
    const double n = *rc::gen::inRange(1, 40);
    const bool count = i == 0 || *rc::gen::inRange(0, 4) == 0;
    if (count) most = n;
    story.tell(kNight - hours(100 - i), "", count ? stock("newspaper", n) : used("newspaper", n));
  }
  Story other = story;
  std::reverse(other.entries().begin(), other.entries().end());
  RC_ASSERT(left(story, "newspaper") == left(other, "newspaper"));
  RC_ASSERT(left(story, "newspaper") >= 0 && left(story, "newspaper") <= most);
}

record::Dose dose(double ml) {
  record::Dose d;
  d.product = "Worm suspension";
  d.ml = Millilitres{ml};
  return d;
}
/// Three pups of 14 days and their dam, a bottle of the product, and its courses counted the day before.
Story to_worm(int days_in_row) {
  Story story;
  for (const char* label : {"1", "2", "3"}) story.born(label, kNight - days(14), 400);
  record::Product label;
  label.name = "Worm suspension";
  label.days_in_row = days_in_row;
  story.tell(kNight - days(1), "", label);
  auto bottle = stock("worm suspension", 50);
  bottle.unit = "ml";
  story.tell(kNight - days(1), "", bottle);
  return story.tell(kNight - days(1), "", stock("wormer for pups and dam", 16));
}

TEST(Used, ATickedDoseTakesItsMillilitresAndOneCourse) {
  Story story = to_worm(1);
  story.tell(kNight - days(2), "1", dose(9));  // before the bottle was counted
  for (const char* label : {"1", "2"}) story.tell(kNight, label, dose(0.8));
  EXPECT_NEAR(left(story, "worm suspension"), 48.4, 1e-9);
  EXPECT_EQ(left(story, "wormer for pups and dam"), 14);
  story.tell(kNight, "dam", dose(12));
  EXPECT_NEAR(left(story, "worm suspension"), 36.4, 1e-9);
  EXPECT_EQ(left(story, "wormer for pups and dam"), 13);
  // Four days of worming for four dogs, three of them treated today: 13 courses are to come, and 13 are there.
  const auto line = line_of(plan_of(story), "wormer for pups and dam");
  EXPECT_EQ(std::get<Amount>(line.need), Amount{13});
  EXPECT_EQ(line.state, State::enough);
}

TEST(Used, ThreeDaysInARowAreOneCourse) {
  Story story = to_worm(3);
  for (int d = 0; d < 3; ++d) story.tell(kNight + days(d), "1", dose(1));
  EXPECT_EQ(left(story, "wormer for pups and dam"), 15);
  EXPECT_NEAR(left(story, "worm suspension"), 47, 1e-9);
}

TEST(Used, ADayEarlyCountsForThatDay) {
  EXPECT_EQ(wormings_given(13, 13), 1);  // the one of day 14
  EXPECT_EQ(wormings_given(14, 14), 1);
  EXPECT_EQ(wormings_given(14, 15), 0);  // day 14 is over by itself
  EXPECT_EQ(wormings_given(7, 10), 0);   // a week before is not that treatment
  EXPECT_EQ(wormings_given(50, 51), 1);
}

// By hand: 30 g in 70 ml make 94 ml (0.8 ml a gram); 47 ml fed hold 15 g.
TEST(Used, FeedsByHandTakePowderInTheTinsOwnProportion) {
  Story story;
  story.born("1", kNight - days(3), 300).tell(kNight - days(2), "", stock("milk replacer, powder", 400));
  const record::Feed feed{Millilitres{47}, record::FeedWay::bottle, {}};
  story.tell(kNight - days(1), "1", feed);
  EXPECT_EQ(left(story, "milk replacer, powder"), 400) << "no tin, or one ready to feed: nothing is known of powder";
  story.tell(kNight - days(2), "", record::Milk{"puppy milk", {}, Grams{30}, Millilitres{70}, 5.4});
  EXPECT_NEAR(left(story, "milk replacer, powder"), 385, 1e-6);
  story.tell(kNight - hours(2), "1", record::Feed{Millilitres{47}, record::FeedWay::nursing, {}});
  EXPECT_NEAR(left(story, "milk replacer, powder"), 385, 1e-6);
}

TEST(Opened, APackOpenTooLongIsOutOfDateAndTheClosedOnesAreNot) {
  Story story;
  story.mated(kNight - days(50));
  auto tin = in_kit("milk replacer, powder", 1000);
  tin.pack = Amount{400};
  tin.keeps_open_d = Days{30};
  tin.expires = day_of(kNight + days(400));
  story.tell(kNight - days(40), "", tin);
  const auto line = [&] { return line_of(plan_of(story), "milk replacer, powder"); };
  EXPECT_EQ(line().have, Amount{1000});
  EXPECT_FALSE(line().ask_opened) << "not begun";
  story.tell(kNight - days(35), "", used("milk replacer, powder", 100));
  EXPECT_TRUE(line().ask_opened);
  auto opened = stock("milk replacer, powder");
  opened.opened = day_of(kNight - days(35));
  story.tell(kNight - days(35), "", opened);
  EXPECT_FALSE(line().ask_opened);
  EXPECT_EQ(line().have, Amount{800}) << "two tins still closed";
  EXPECT_TRUE(line().past_date);
  EXPECT_FALSE(line().expired);
  EXPECT_EQ(*line().expires, day_of(kNight - days(5)));
  const auto next = opening_stock(story.litter(), built_in(), day_of(kNight));
  EXPECT_EQ(next.front().have, Amount{800});
  EXPECT_FALSE(next.front().opened) << "those are closed";
  Story plain;
  tin.pack.reset(), tin.opened = day_of(kNight - days(35));
  plain.mated(kNight - days(50)).tell(kNight - days(40), "", tin);
  EXPECT_TRUE(line_of(plan_of(plain), "milk replacer, powder").expired) << "how much is closed is not known";
}

TEST(Cleared, WhatIsEmptiedIsGoneAndSaidAnewItHolds) {
  Story story;
  story.mated(kNight - days(50));
  auto s = in_kit("antiseptic for the cord", 1);
  s.expires = day_of(kNight - days(1));
  s.days_before = 60;
  story.tell(kNight - hours(9), "", s);
  EXPECT_TRUE(line_of(plan_of(story), "antiseptic for the cord").expired);
  const auto by = line_of(plan_of(story), "antiseptic for the cord").by;
  auto clear = stock("antiseptic for the cord");
  clear.cleared = "expires days_before";
  story.tell(kNight - hours(8), "", clear);
  const auto line = line_of(plan_of(story), "antiseptic for the cord");
  EXPECT_FALSE(line.expires);
  EXPECT_EQ(line.state, State::enough);
  EXPECT_NE(line.by, by) << "the table's day again";
  clear.expires = day_of(kNight + days(300));  // a new bottle
  story.tell(kNight - hours(7), "", clear);
  EXPECT_EQ(line_of(plan_of(story), "antiseptic for the cord").expires, clear.expires);
}

TEST(Car, OwnThingsGoIntoItAndAnItemMayStayOut) {
  Story story;
  story.mated(kNight - days(50));
  auto own = stock("camera");
  own.car = true;
  story.tell(kNight, "", own);
  auto out = stock("towels for the car");
  out.car = false;
  story.tell(kNight, "", out);
  const auto plan = plan_of(story);
  EXPECT_TRUE(line_of(plan, "camera").car);
  EXPECT_FALSE(line_of(plan, "towels for the car").car);
  EXPECT_TRUE(line_of(plan, "carrier with a sheet").car);
  EXPECT_FALSE(line_of(plan, "torch").car);
}

TEST(Own, WithoutAnAmountItIsOneAndIsMissed) {
  Story story;
  story.mated(kNight - days(50)).tell(kNight, "", stock("camera"));
  EXPECT_EQ(std::get<Amount>(line_of(plan_of(story), "camera").need), Amount{1});
  EXPECT_EQ(line_of(plan_of(story), "camera").state, State::missing);
}

}  // namespace
}  // namespace lampside::supplies
