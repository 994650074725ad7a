// Due window, getting ready, overdue and early: what is told, of which date, and when it ends.
#include <gtest/gtest.h>

#include "../advice/story.hpp"

namespace lampside::testing {
namespace {

TEST(DueDate, NothingDatedIsSaidAndNotGuessed) {
  const auto a = Story{}.breed("Golden Retriever").assess(kNight);
  EXPECT_EQ(level_of(a, "NO_DUE_DATE"), Level::note);
  EXPECT_EQ(find(a, "DUE_WINDOW"), nullptr);
  ASSERT_TRUE(std::holds_alternative<reference::NotAssessed>(a.due));
  EXPECT_EQ(std::get<reference::NotAssessed>(a.due).code, "NO_DATA");
}
TEST(DueDate, NoneIsNotSaidToBeUnrecordedBecauseItIsLongPast) {
  const auto a = Story{}
                     .tell(kNight - days(101), "", record::Progesterone{NgPerMl{0.9}})
                     .tell(kNight - days(100), "", record::Progesterone{NgPerMl{2.6}})
                     .tell(kNight - days(98), "", record::Progesterone{NgPerMl{6.0}})
                     .assess(kNight);
  ASSERT_TRUE(std::holds_alternative<reference::NotAssessed>(a.due));
  EXPECT_EQ(std::get<reference::NotAssessed>(a.due).code, "NO_REFERENCE");
  EXPECT_EQ(find(a, "NO_DUE_DATE"), nullptr) << codes(a);
}
TEST(DueDate, TheWindowIsTheForecastsAndHoldsTheMating) {
  const auto a = Story{}.mated(kNight - days(40)).assess(kNight);
  const auto* due = reference::value_of(a.due);
  ASSERT_NE(due, nullptr);
  ASSERT_NE(find(a, "DUE_WINDOW"), nullptr);
  EXPECT_NE(find(a, "DUE_WINDOW")->because.find(say_day_time(Zone{}, due->p05)), std::string::npos)
      << find(a, "DUE_WINDOW")->because;
  // 57-72 days from a single mating (Romagnoli 2005): the window must lie within.
  EXPECT_GT(due->p05, kNight - days(40) + days(56));
  EXPECT_LT(due->p95, kNight - days(40) + days(72));
  EXPECT_LE(due->p05, due->p25);
  EXPECT_LE(due->p25, due->p50);
  EXPECT_LE(due->p50, due->p75);
  EXPECT_LE(due->p75, due->p95);
}
TEST(DueDate, IsNoLongerTalkedOfOnceShePupped) {
  const auto a = Story{}
                     .mated(kNight - days(71))
                     .temperature("dam", 37.2, kNight - hours(40))
                     .born("1", kNight, 400)
                     .assess(kNight);
  for (const auto& f : a.findings)
    for (const std::string_view ended :
         {"DUE_", "OVERDUE_", "DROP_", "DAM_TEMP_DROP", "DAM_UNDER", "BOX_READY", "VET_NUMBER", "NO_DUE"})
      EXPECT_FALSE(f.code.starts_with(ended)) << f.code;
}
// A forecast never lowers a red flag: later than anything published she is overdue, forecast or none.
TEST(Overdue, StaysHoweverLate) {
  for (const double d : {70.0, 73.0, 80.0, 120.0}) {
    const auto a = Story{}.mated(kNight - days(d)).assess(kNight);
    EXPECT_EQ(level_of(a, "OVERDUE_MATING"), Level::call_vet) << d << " days\n" << codes(a);
    EXPECT_EQ(find(a, "NO_DUE_DATE"), nullptr);
  }
}
TEST(Overdue, IsCountedFromTheFirstMating) {
  const auto a = Story{}.mated(kNight - days(66)).mated(kNight - days(62)).assess(kNight);
  EXPECT_EQ(level_of(a, "OVERDUE_MATING"), Level::watch);
}
TEST(Overdue, TwoDatesForOneThingAreReadTheStricterWay) {
  const auto two = [](auto body) {
    return Story{}.tell(kNight - days(68), "", body).tell(kNight - days(58), "", body).assess(kNight);
  };
  EXPECT_EQ(level_of(two(record::Ovulation{}), "OVERDUE_OVULATION"), Level::call_vet);
  EXPECT_EQ(level_of(two(record::LhSurge{}), "OVERDUE_LH"), Level::call_vet);
  EXPECT_EQ(level_of(two(record::Dioestrus{}), "OVERDUE_DIOESTRUS"), Level::call_vet);
}

TEST(GettingReady, ABoxThatStandsAndANumberThatIsKnownAreNotAskedFor) {
  Story s;
  s.mated(kNight - days(58));
  EXPECT_EQ(level_of(s.assess(kNight), "BOX_READY", "box"), Level::note);
  EXPECT_EQ(level_of(s.assess(kNight), "VET_NUMBER_MISSING"), Level::act);
  s.vet().tell(kNight - days(1), "", record::Done{"box_ready"});
  EXPECT_EQ(find(s.assess(kNight), "BOX_READY"), nullptr);
  EXPECT_EQ(find(s.assess(kNight), "VET_NUMBER_MISSING"), nullptr);
}

TEST(Early, SignsOfLabourBeforeDay56AreTold) {
  for (const Sign s :
       {Sign::weak_straining, Sign::strong_straining, Sign::waters, Sign::green_discharge, Sign::pup_visible})
    EXPECT_EQ(level_of(Story{}.mated(kNight - days(50)).sign(s, kNight).assess(kNight), "LABOUR_EARLY"),
              Level::call_vet)
        << record::name_of(s);
  for (const Sign s : {Sign::nesting, Sign::panting, Sign::mucus, Sign::off_food})
    EXPECT_EQ(find(Story{}.mated(kNight - days(50)).sign(s, kNight).assess(kNight), "LABOUR_EARLY"), nullptr)
        << record::name_of(s);
}

TEST(Drop, ADipLongBeforeHerTimeStartsNoClock) {
  const auto a = Story{}.mated(kNight - days(45)).temperature("dam", 37.4, kNight - hours(30)).assess(kNight);
  for (const auto code : {"DAM_TEMP_DROP", "DROP_CLOCK", "DROP_RETURNED"}) EXPECT_EQ(find(a, code), nullptr) << code;
}
TEST(Drop, BackToNormalWithNoLabourIsToldWithBothReadings) {
  const auto a = Story{}
                     .mated(kNight - days(62))
                     .temperature("dam", 37.1, kNight - hours(10))
                     .temperature("dam", 38.1, kNight - hours(1))
                     .assess(kNight);
  ASSERT_NE(find(a, "DROP_RETURNED"), nullptr);
  EXPECT_NE(find(a, "DROP_RETURNED")->because.find("37.1 °C"), std::string::npos);
  EXPECT_NE(find(a, "DROP_RETURNED")->because.find("38.1 °C"), std::string::npos);
  EXPECT_EQ(find(a, "DAM_TEMP_DROP"), nullptr);
}
// One more reading must not quiet it: low, normal, low again within a day is one fall, and its clock goes on.
TEST(Drop, ASecondLowReadingDoesNotStartTheClockAgain) {
  Story s;
  s.mated(kNight - days(62)).temperature("dam", 37.2, kNight - hours(26)).temperature("dam", 37.9, kNight - hours(14));
  EXPECT_EQ(level_of(s.assess(kNight), "DROP_CLOCK"), Level::call_vet);
  s.temperature("dam", 37.3, kNight - hours(2));
  EXPECT_EQ(level_of(s.assess(kNight), "DROP_CLOCK"), Level::call_vet) << codes(s.assess(kNight));
  // Normal for a day and more between: the first was a false one.
  const auto apart = Story{}
                         .mated(kNight - days(62))
                         .temperature("dam", 37.2, kNight - hours(60))
                         .temperature("dam", 38.1, kNight - hours(50))
                         .temperature("dam", 38.2, kNight - hours(26))
                         .temperature("dam", 37.3, kNight - hours(2))
                         .assess(kNight);
  EXPECT_EQ(find(apart, "DROP_CLOCK"), nullptr);
  EXPECT_EQ(level_of(apart, "DAM_TEMP_DROP"), Level::watch);
}

}  // namespace
}  // namespace lampside::testing
