// Warmth on the Nest screen: the sources side by side, whose is followed, the law where it holds.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "litters.hpp"
#include "markup.hpp"

namespace lampside::page {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using testing::Shown;

std::string nest_of(const testing::Story& story, int days = 3) {
  auto html = nest_page(Shown{story, days * 1440}.view);
  EXPECT_THAT(testing::faults_of_page(html), IsEmpty());
  return html;
}
testing::Story one_pup(const char* place) {
  auto story = testing::nothing();
  auto facts = testing::juniper();
  facts.place = place;
  story.facts(facts);
  story.born(0, "1", 400, "red");
  return story;
}

TEST(NestWarmth, EverySourceStandsBesideTheOneFollowed) {
  const auto html = nest_of(one_pup(""));
  for (const char* words : {"29.4 °C to 32.2 °C. Followed", "University of Minnesota", "Merck", "High outlier",
                            "Low outlier", "leaves no gap", "such as England&#39;s 26 to 28 °C"})
    EXPECT_THAT(html, HasSubstr(words));
  EXPECT_THAT(html, Not(HasSubstr("The law where you live")));
  EXPECT_THAT(html, Not(HasSubstr("value=\"whelping_area_england\"")));
}

TEST(NestWarmth, ALawStandsInSightWhereItHoldsAndCanBeFollowed) {
  auto story = one_pup("GB-ENG");
  EXPECT_THAT(nest_of(story), HasSubstr("The law where you live: 26.0 °C to 28.0 °C"));
  story.add(1440, "", record::CareChoice{"box_target", "whelping_area_england", {}});
  EXPECT_THAT(nest_of(story), HasSubstr("at their age, as you chose"));
}

TEST(NestWarmth, AChoiceThatIsSilentAtThisAgeSaysSo) {
  auto story = one_pup("");
  story.add(1440, "", record::CareChoice{"box_target", "university", {}});
  EXPECT_THAT(nest_of(story), HasSubstr("as you chose"));
  EXPECT_THAT(nest_of(story, 30), HasSubstr("It says nothing of this age."));
}

}  // namespace
}  // namespace lampside::page
