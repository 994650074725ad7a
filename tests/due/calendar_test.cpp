// Due window, getting ready, overdue and early: what is told, of which date, and when it ends.
#include <gtest/gtest.h>

#include "../advice/story.hpp"
#include "due/told.hpp"

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
  EXPECT_NE(find(a, "DUE_WINDOW")->because.find(say_day_time(Zone{}, due::told(due->p05))), std::string::npos)
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

// Known only by a test or a scan: overdue all the same, and for ever; a date judged in the cycle takes their place.
TEST(Overdue, KnownOnlyFromProgesteroneOrAScan) {
  const auto rise = [](double d) {
    return Story{}
        .tell(kNight - days(d + 2), "", record::Progesterone{NgPerMl{0.9}})
        .tell(kNight - days(d), "", record::Progesterone{NgPerMl{2.7}})
        .tell(kNight - days(d - 2), "", record::Progesterone{NgPerMl{5}});
  };
  const auto scan = [](double d) {
    return Story{}.tell(kNight - days(d - 32), "", record::FoetalMeasure{"ICC", Millimetres{20}});
  };
  for (const double d : {67.5, 70.0, 90.0, 150.0}) {
    EXPECT_EQ(level_of(rise(d).assess(kNight), "OVERDUE_PROGESTERONE"), Level::call_vet) << d;
    EXPECT_EQ(level_of(scan(d).assess(kNight), "OVERDUE_SCAN"), Level::call_vet) << d;
  }
  for (const double d : {60.0, 66.5}) {
    EXPECT_EQ(find(rise(d).assess(kNight), "OVERDUE_PROGESTERONE"), nullptr) << d;
    EXPECT_EQ(find(scan(d).assess(kNight), "OVERDUE_SCAN"), nullptr) << d;
  }
  const auto judged = rise(69).tell(kNight - days(63), "", record::Ovulation{}).assess(kNight);
  EXPECT_EQ(find(judged, "OVERDUE_PROGESTERONE"), nullptr) << "the vet's ovulation is the better date";
  // First seen when it was already far up: the surge lies at least three days behind.
  const auto high = Story{}
                        .tell(kNight - days(70), "", record::Progesterone{NgPerMl{0.6}})
                        .tell(kNight - days(64), "", record::Progesterone{NgPerMl{25}})
                        .assess(kNight);
  EXPECT_EQ(level_of(high, "OVERDUE_PROGESTERONE"), Level::call_vet);
}
// The day to ring by is the published line, or the far end of the window where that comes first: never later.
TEST(Overdue, TheDayToRingByIsNeverLaterThanTheLine) {
  const auto ring_by = [](Story story, Instant now) {
    const auto a = story.assess(now);
    const auto* f = reference::value_of(a.due);
    EXPECT_NE(f, nullptr);
    return f ? f->ring_by : Instant::max();
  };
  const Instant then = kNight - days(30);
  EXPECT_EQ(ring_by(Story{}.tell(then, "", record::Ovulation{}), kNight), then + days(65));
  EXPECT_EQ(ring_by(Story{}.tell(then, "", record::Ovulation{}), then + days(67)), then + days(65)) << "and stays";
  EXPECT_LT(ring_by(Story{}.mated(then), kNight), then + days(70));
  EXPECT_EQ(ring_by(Story{}.tell(kNight, "", record::FoetalMeasure{"ICC", Millimetres{20}}), kNight),
            kNight + days(33 + 2));
}

// What stands beside the forecast must not say a later hour than the clock that runs.
TEST(Overdue, ADropOfHerTemperatureBringsTheHourToRingForward) {
  auto s = Story{}.tell(kNight - days(60), "", record::Ovulation{}).temperature("dam", 38.2, kNight - hours(12));
  s.temperature("dam", 37.2, kNight);
  const auto by = [&](Instant now) {
    const auto a = s.assess(now);
    const auto* f = reference::value_of(a.due);
    EXPECT_NE(f, nullptr);
    return f ? advice::ring_by(a, *f, reference::built_in()) : Instant::max();
  };
  EXPECT_EQ(by(kNight + hours(1)), kNight + hours(24));
  EXPECT_EQ(by(kNight + hours(24)), kNight + hours(24)) << "the call runs: now";
  EXPECT_EQ(by(kNight + hours(30)), kNight + hours(30));
  const auto said = [&](Instant now) {
    const auto a = s.assess(now);
    return advice::say_ring_by(a, *reference::value_of(a.due), reference::built_in(), Zone{});
  };
  EXPECT_EQ(said(kNight - hours(1)), "Sat 10 Oct") << "65 days from ovulation, the forecast's day";
  EXPECT_EQ(said(kNight + hours(1)), "Tue 6 Oct 00:00");
  EXPECT_EQ(said(kNight + hours(24)), "now");
}

TEST(GettingReady, TheDatesOfThePlanFollowTheWindow) {
  const auto a = Story{}.mated(kNight - days(30)).assess(kNight);
  const auto* f = reference::value_of(a.due);
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->home_from, f->p05 - hours(18));
  EXPECT_EQ(f->box_by, f->opens - days(14));
  EXPECT_LT(std::chrono::abs(f->opens - f->p05), minutes(1)) << "long before, the dates are all there is";
  // A cold evening brings the window forward, and the dates alone do not move.
  const auto near = Story{}.mated(kNight - days(61)).temperature("dam", 37.0, kNight - hours(1)).assess(kNight);
  const auto* late = reference::value_of(near.due);
  ASSERT_NE(late, nullptr);
  EXPECT_EQ(late->opens - f->opens, -days(31));
  EXPECT_LT(late->p50, kNight + days(2));
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
// A low reading in the ten days before her window is told, but starts no clock before the last three of them.
TEST(Drop, AnEarlyDipIsToldAndNeverRings) {
  const Instant mated = kNight - days(52);  // her window opens about day 58.5
  Story s;
  s.mated(mated).temperature("dam", 38.0, kNight - hours(12)).temperature("dam", 37.3, kNight);
  EXPECT_EQ(level_of(s.assess(kNight), "DAM_TEMP_DROP"), Level::watch);
  EXPECT_NE(find(s.assess(kNight), "DAM_TEMP_DROP")->because.find("false"), std::string::npos);
  for (const double h : {12.0, 25.0, 37.0, 60.0})
    for (const auto code : {"DROP_CLOCK", "DROP_RETURNED"})
      EXPECT_EQ(find(s.assess(kNight + hours(h)), code), nullptr) << code << " after " << h << " h";
}
// The dates do not move while she waits: a clock once started is never lost because the window slides on.
TEST(Drop, AClockStartedRunsOnForDays) {
  Story s;
  s.mated(kNight - days(60)).temperature("dam", 38.0, kNight - hours(8)).temperature("dam", 37.1, kNight);
  EXPECT_EQ(level_of(s.assess(kNight + hours(25)), "DROP_CLOCK"), Level::call_vet);
  for (double d = 1.6; d < 12; d += 0.7)
    EXPECT_EQ(level_of(s.assess(kNight + days(d)), "DROP_CLOCK"), Level::emergency) << d << " days";
}
// "Go now" is for a fall that stands: one that went back and stayed there rings the vet, and one reading is not enough.
TEST(Drop, ADipThatWentBackRingsTheVetAndNoMore) {
  Story s;
  s.mated(kNight - days(62)).temperature("dam", 37.2, kNight - hours(40)).temperature("dam", 38.0, kNight - hours(20));
  EXPECT_EQ(level_of(s.assess(kNight), "DROP_CLOCK"), Level::emergency) << "one normal reading may be a slip";
  s.temperature("dam", 38.1, kNight - hours(6));
  EXPECT_EQ(level_of(s.assess(kNight), "DROP_CLOCK"), Level::call_vet);
  EXPECT_EQ(level_of(s.assess(kNight), "DROP_RETURNED"), Level::call_vet);
  s.temperature("dam", 37.1, kNight - hours(1));
  EXPECT_EQ(level_of(s.assess(kNight), "DROP_CLOCK"), Level::emergency) << "low again within the day: it is one fall";
}
TEST(Drop, OneWhoRunsLowHasNotFallen) {
  Story s;
  s.mated(kNight - days(60));
  for (int h = -24 * 9; h <= 0; h += 12) s.temperature("dam", 37.4, kNight + hours(h));
  EXPECT_EQ(level_of(s.assess(kNight), "DROP_CLOCK"), Level::call_vet) << "her vet hears of it";
  Story fell;
  fell.mated(kNight - days(60));
  for (int h = -24 * 9; h <= 0; h += 12) fell.temperature("dam", h < -40 ? 38.0 : 37.2, kNight + hours(h));
  EXPECT_EQ(level_of(fell.assess(kNight), "DROP_CLOCK"), Level::emergency);
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
