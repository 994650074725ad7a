// The dosing round on the screen.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "../care/labels.hpp"
#include "litters.hpp"
#include "markup.hpp"

namespace lampside::page {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using testing::Shown;
using testing::Story;

constexpr int kDay = 1440;

/// Three pups of 20 days, weighed twice a day, and a label.
Story wormed() {
  Story story = testing::empty();
  for (int i = 0; i < 3; ++i) {
    const auto label = std::to_string(i + 1);
    story.born(0, label, 380, "red");
    for (int half = 30; half < 40; ++half) story.weighed(half * 720 + i, label, 380 * (1.0 + 0.05 * half));
  }
  auto p = lampside::testing::worm_suspension();
  p.min_age_d = Days{14};
  p.repeat_d = Days{14};
  story.add(10 * kDay, "", p);
  return story;
}
constexpr int kNow = 39 * 720 + 60;

TEST(Dosing, TheAmountLargeItsReasonSmallTheCautionAlways) {
  const Shown shown{wormed(), kNow};
  const auto html = dosing_page(shown.view, "");
  EXPECT_THAT(testing::faults_of_page(html), ::testing::IsEmpty());
  EXPECT_THAT(html, HasSubstr("<span class=\"dose-amount\">1.2 ml</span>"));
  EXPECT_THAT(html, HasSubstr("mg/kg, down from"));
  EXPECT_THAT(html, HasSubstr("by all its weighings, last"));
  EXPECT_THAT(html, HasSubstr("Not every wormer is safe for every breed and age"));
  EXPECT_THAT(html, HasSubstr("0 of 3 given today; still to give, all together"));
  EXPECT_THAT(html, HasSubstr("up to 22 times apart"));
  EXPECT_THAT(html, HasSubstr("name=\"lot\" value=\"LH-2217\""));
  EXPECT_THAT(html, HasSubstr("To have in the house"));
}

TEST(Dosing, NothingIsFilledInWithoutALabel) {
  const Shown shown{testing::eight_weeks(2), 21 * kDay};
  const auto html = dosing_page(shown.view, "");
  EXPECT_THAT(html, HasSubstr("No label yet"));
  EXPECT_THAT(html, Not(HasSubstr("dose-amount")));
  EXPECT_THAT(html, ::testing::ContainsRegex("name=\"strength\" type=\"text\" value=\"\""));
}

TEST(Dosing, AnOddStrengthStandsInTheWayAndCanBeConfirmed) {
  auto story = wormed();
  auto p = story.litter().products.front().what;
  p.strength = "45.4 mg/ml";
  p.mark_ml = Millilitres{0.01};
  story.add(10 * kDay + 1, "", p);
  const Shown shown{story, kNow};
  const auto html = dosing_page(shown.view, "");
  EXPECT_THAT(html, Not(HasSubstr("dose-amount")));
  EXPECT_THAT(html, HasSubstr("point in another place"));
  EXPECT_THAT(html, HasSubstr("name=\"confirmed\" value=\"true\""));
}

TEST(Dosing, APackThatKeepsOnlySoLongIsAskedWhenItWasOpened) {
  auto story = wormed();
  auto label = lampside::testing::worm_suspension();
  label.keeps_open_d = Days{70};
  story.add(kNow, "", label);
  const Shown shown{story, kNow};
  const auto html = dosing_page(shown.view, "");
  EXPECT_THAT(testing::faults_of_page(html), ::testing::IsEmpty());
  EXPECT_THAT(html, HasSubstr("When was this pack opened?"));
  EXPECT_THAT(html, Not(HasSubstr("dose-amount")));
}

TEST(Dosing, GivenLeftOutAndRefusedEachSayWhy) {
  auto story = wormed();
  record::Dose d;
  d.product = "worm suspension";
  d.ml = Millilitres{1.2};
  const auto given = story.add(kNow - 20, "1", d);
  story.add(kNow - 10, "2", record::DoseSkipped{"worm suspension", "loose stools"});
  story.add(kNow - 5, "3", record::Temperature{Celsius{33}, {}});
  const Shown shown{story, kNow};
  const auto html = dosing_page(shown.view, "worm suspension");
  EXPECT_THAT(html, HasSubstr("given 1.2 ml"));
  EXPECT_THAT(html, HasSubstr("name=\"strike\" value=\"" + given + "\""));
  EXPECT_THAT(html, HasSubstr("left out: loose stools"));
  EXPECT_THAT(html, HasSubstr("a chilled or ill pup is not wormed"));
  EXPECT_THAT(html, Not(HasSubstr("id=\"give-")));
}

TEST(Dosing, BothNeighboursOfALeastDose) {
  auto story = wormed();
  auto p = story.litter().products.front().what;
  p.at_least = true;
  story.add(10 * kDay + 1, "", p);
  const Shown shown{story, kNow};
  const auto html = dosing_page(shown.view, "");
  EXPECT_THAT(html, HasSubstr("The label says at least"));
  EXPECT_THAT(html, HasSubstr("Given 1.2 ml"));
  EXPECT_THAT(html, HasSubstr("Given 1.3 ml"));
}

}  // namespace
}  // namespace lampside::page
