// Milk by hand on the Nest screen and on a pup's page: sound markup, the amount, the reason against it, the sources.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "litters.hpp"
#include "markup.hpp"

namespace lampside::page {
namespace {

using record::FeedShare;
using record::FeedWay;
using testing::faults_of_page;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using testing::Shown;

constexpr int kDay = 1440;

/// A pup of 400 g and one of 420 g, three days old; the first all by hand since its first day.
testing::Story two() {
  auto story = testing::nothing();
  story.facts(testing::juniper());
  for (const auto& [label, grams] : {std::pair{"1", 400.0}, {"2", 420.0}}) {
    story.born(0, label, grams, label[0] == '1' ? "red" : "blue");
    story.weighed(3 * kDay - 30, label, grams + 80);
  }
  story.add(kDay, "1", record::HandFeeding{FeedShare::full, FeedWay::bottle});
  return story;
}
record::Milk tin(double kcal_ml) {
  record::Milk m{};
  m.name = "puppy milk";
  m.kcal_ml = KcalPerMl{kcal_ml};
  return m;
}
std::string sound(std::string html) {
  EXPECT_THAT(faults_of_page(html), IsEmpty());
  return html;
}
std::string nest_of(const testing::Story& story) { return sound(nest_page(Shown{story, 3 * kDay}.view)); }

TEST(NestFeeding, WithoutAMilkItSaysWhatToType) {
  const auto html = nest_of(two());
  EXPECT_THAT(html, HasSubstr("No milk is written down: type its name and kcal from the tin."));
  EXPECT_THAT(html, HasSubstr("cannot tell"));
  EXPECT_THAT(html, Not(HasSubstr("Given ")));
}

TEST(NestFeeding, TheAmountTheLinesTheTimeAndTheTap) {
  auto story = two();
  story.add(kDay, "", tin(1));
  Shown shown{story, 3 * kDay};
  const auto& plan = std::get<nest::Plan>(shown.assessment.feeding.of("1")->plan);
  const auto html = sound(nest_page(shown.view));
  const auto each = say_number(plan.today.each.count(), 1);
  EXPECT_THAT(html, HasSubstr("<span class=\"dose-amount\">" + each + " ml</span>"));
  EXPECT_THAT(html, HasSubstr("Given " + each + " ml by bottle"));
  for (const char* words : {"Low line", "Today", "High line", "Feed now",
                            "Day 2 of 3 from the low line to the high one", "8 feeds a day; its stomach takes"})
    EXPECT_THAT(html, HasSubstr(words));
  EXPECT_THAT(html, HasSubstr("Its temperature was never taken: take it first."));
  // The one that is not fed by hand is a link to its page, and no card.
  EXPECT_THAT(html, HasSubstr("To feed another one by hand"));
  EXPECT_THAT(html, Not(HasSubstr("milk-of-2")));
}

TEST(NestFeeding, WhatForbidsItTakesTheTapAwayAndOffersTheWayOut) {
  auto story = two();
  story.add(kDay, "", tin(1));
  story.add(3 * kDay - 10, "1", record::SignSeen{record::Sign::belly_taut});
  const auto html = nest_of(story);
  EXPECT_THAT(html, HasSubstr("no milk now"));
  EXPECT_THAT(html, HasSubstr("no more until it is soft"));
  EXPECT_THAT(html, HasSubstr("Belly soft"));
  EXPECT_THAT(html, Not(HasSubstr("Given ")));
}

TEST(NestFeeding, ATubeShowsTheContradictionAndAsksForAName) {
  auto story = two();
  story.add(kDay, "", tin(1));
  story.add(2 * kDay, "1", record::HandFeeding{FeedShare::full, FeedWay::tube});
  EXPECT_THAT(nest_of(story), HasSubstr("By tube only once a vet has shown you"));
  EXPECT_THAT(nest_of(story), AllOf(HasSubstr("three quarters of the way"), HasSubstr("the whole way")));
  story.add(2 * kDay + 1, "", record::CareChoice{"tube_feeding", "shown", "Dr <Vale>"});
  EXPECT_THAT(nest_of(story), AllOf(HasSubstr("Shown by Dr &lt;Vale&gt;."), HasSubstr(" ml by tube")));
}

TEST(NestFeeding, ThePupsPageShowsTheSameCard) {
  auto story = two();
  story.add(kDay, "", tin(1));
  Shown shown{story, 3 * kDay};
  EXPECT_THAT(sound(pup_page(shown.view, *shown.litter.pup("1"))), HasSubstr("Given "));
  const auto other = sound(pup_page(shown.view, *shown.litter.pup("2")));
  EXPECT_THAT(other, HasSubstr("Milk by hand: none, top-up, all"));
  EXPECT_THAT(other, Not(HasSubstr("Given ")));
}

TEST(NestFeeding, TheFirstDayHasItsWindowByBothSources) {
  auto story = testing::nothing();
  story.facts(testing::juniper());
  story.born(0, "1", 400, "red");
  story.add(10, "1", record::HandFeeding{FeedShare::full, FeedWay::bottle});
  const auto html = sound(nest_page(Shown{story, 60}.view));
  EXPECT_THAT(html, AllOf(HasSubstr("No first milk is written down."), HasSubstr("by one source"),
                          HasSubstr("by another"), HasSubstr("16 ml")));
}

TEST(NestFeeding, BeforeTheBirthThereIsNothingToFeed) {
  const auto html = sound(nest_page(Shown{testing::waiting(), 0}.view));
  EXPECT_THAT(html, Not(HasSubstr("Milk by hand")));
}

}  // namespace
}  // namespace lampside::page
