// Turns, milk and the plate on the Nest screen: sound markup, the words at each answer, the cautions.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "litters.hpp"
#include "markup.hpp"

namespace lampside::page {
namespace {

using testing::faults_of_page;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using testing::Shown;

constexpr int kDay = 1440;

testing::Story pups(int n) {
  auto story = testing::nothing();
  story.facts(testing::juniper());
  for (int i = 1; i <= n; ++i) story.born(i, std::to_string(i), 400 + 5 * i, "red");
  return story;
}
std::string nest_of(const testing::Story& story, int at = 3 * kDay) {
  auto html = nest_page(Shown{story, at}.view);
  EXPECT_THAT(faults_of_page(html), IsEmpty());
  return html;
}
record::TeatTurns turns(int teats, int session = 45) { return {true, teats, session, {}, {}}; }

TEST(NestTurns, AsksForTheTeatsWhenThereAreTooMany) {
  EXPECT_THAT(nest_of(pups(11)), HasSubstr("11 pups: more than can drink at once"));
  EXPECT_THAT(nest_of(pups(4)), Not(HasSubstr("more than can drink at once")));
  EXPECT_THAT(nest_of(testing::nothing()), Not(HasSubstr("Turns at the teats")));
}

TEST(NestTurns, WhoIsWithHerWhoWaitsAndWhere) {
  auto story = pups(11);
  story.add(2 * kDay, "", turns(8));
  const auto html = nest_of(story);
  for (const char* words : {"With her now: group ", "Waiting, 3 pups", "Always with her, the smallest: 1 red, 2 red",
                            "thermometer", "Group 2", "No trial was found", "paper/turns.pdf"})
    EXPECT_THAT(html, HasSubstr(words));
}

TEST(NestTurns, WhatCannotBeSaysWhy) {
  auto story = pups(12);
  story.add(2 * kDay, "", turns(4, 150));
  const auto html = nest_of(story);
  EXPECT_THAT(html, HasSubstr("She cannot feed them all in turns: with 3 groups of 2 h 30 min each a pup waits 5 h"));
  EXPECT_THAT(html, HasSubstr("It would do with"));
  auto none = pups(6);
  none.add(2 * kDay, "", turns(8));
  EXPECT_THAT(nest_of(none), HasSubstr("No turns are needed"));
}

TEST(NestPlate, CalciumIsSpokenAgainstBeforeAndAfter) {
  auto before = testing::nothing();
  before.facts(testing::juniper());
  EXPECT_THAT(nest_of(before), HasSubstr("No calcium before whelping"));
  EXPECT_THAT(nest_of(pups(6)), HasSubstr("No calcium on your own"));
}

TEST(NestPlate, GramsOnlyWithALabelAndTheMealsAgainstTheNeed) {
  auto story = pups(6);
  EXPECT_THAT(nest_of(story), HasSubstr("cannot tell: no food of hers is written down"));
  story.add(kDay, "", record::Food{"Dry <food>", Kilocalories{400}});
  story.add(3 * kDay - 10, "dam", record::DamMeal{{}, Grams{300}, "Dry <food>"});
  const auto html = nest_of(story);
  EXPECT_THAT(html, HasSubstr("g of Dry &lt;food&gt; today"));
  EXPECT_THAT(html, HasSubstr("1 meal, 1200 kcal"));
  EXPECT_THAT(html, HasSubstr("Weaning, week 3 to 7"));
  EXPECT_THAT(html, HasSubstr("Her milk, week by week"));
}

}  // namespace
}  // namespace lampside::page
