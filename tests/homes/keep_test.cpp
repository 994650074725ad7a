// How long a family's data may be kept.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "homes/keep.hpp"
#include "told.hpp"

namespace lampside::homes {
namespace {

using namespace lampside::testing;

Keep of(const Story& story, const record::Person& person) {
  return keep_until(person, story.litter(), order_of(story), reference::built_in(), kNight + days(60));
}
CivilDay day(double d) { return Zone{}.day_of(kNight + days(d)); }

TEST(Keep, ByTheRuleOfWhatBecameOfThem) {
  Story story = pups(3);
  for (const char* id : {"f1", "f2", "f3"}) story.tell(kNight, "", family(id));
  story.tell(kNight + days(30), "1", choice(ChoiceMade::pick, "f1"));
  EXPECT_EQ(of(story, {.family = "f1"}).until, std::nullopt) << "their pup is still here";
  record::Handover handover{};
  handover.family = "f1";
  story.tell(kNight + days(56), "1", handover);
  EXPECT_EQ(of(story, {.family = "f1"}).until, day(56 + 1095));
  story.tell(kNight + days(31), "", family("f2", record::FamilyStatus::withdrawn));
  EXPECT_EQ(of(story, {.family = "f2"}).until, day(31 + 180));
  EXPECT_EQ(of(story, {.family = "f3"}).until, std::nullopt) << "they wait";
  EXPECT_EQ(of(story, {.family = "f3"}).rule, nullptr);
}

TEST(Keep, WhoWaitedInVainIsKeptForHalfAYear) {
  Story story = pups(1);
  for (const char* id : {"f1", "f2"}) story.tell(kNight, "", family(id));
  story.tell(kNight + days(30), "1", choice(ChoiceMade::pick, "f1"));
  EXPECT_EQ(of(story, {.family = "f2"}).until, day(180));
  EXPECT_EQ(of(story, {.family = "f2"}).rule->source.standing, reference::Standing::common_practice);
}

TEST(Keep, TheKeepersOwnDateHolds) { EXPECT_EQ(of(pups(1), {.family = "f1", .keep_until = day(99)}).until, day(99)); }

}  // namespace
}  // namespace lampside::homes
