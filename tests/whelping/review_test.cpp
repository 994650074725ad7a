// What a reading of the rules by strangers found: silences that were unsafe, and alarms that were false.
#include <gtest/gtest.h>

#include "../advice/story.hpp"

namespace lampside::testing {
namespace {

Instant at(double m) { return kNight + minutes(m); }
std::optional<Level> level(const Story& s, double m, std::string_view code) { return level_of(s.assess(at(m)), code); }
Story pup() { return Story{}.born("1", kNight, 400); }

TEST(Pup, AFeverIsACallAtAnyAge) {
  for (const double age : {0.01, 3.0, 20.0, 40.0}) {
    const auto s = [&](double c) {
      return Story{}.born("1", kNight - days(age), 400).temperature("1", c, kNight).assess(kNight);
    };
    EXPECT_EQ(level_of(s(39.5), "PUP_FEVER", "1"), Level::call_vet) << age;
    EXPECT_EQ(level_of(s(39.3), "PUP_FEVER", "1"), std::nullopt) << age;
  }
}

TEST(Pup, HasItsDamsWarmthOnItsFirstDay) {
  const auto minutes_old = pup().temperature("1", 37.5, at(5));
  EXPECT_EQ(level(minutes_old, 6, "PUP_HOT_TO_14D"), std::nullopt);
  const auto day_old = pup().temperature("1", 37.5, at(24 * 60));
  EXPECT_EQ(level(day_old, 24 * 60, "PUP_HOT_TO_14D"), Level::watch);
}

TEST(Pup, WhatIsNotedOfItIsAssessed) {
  for (const Sign s : {Sign::panting, Sign::shivering, Sign::off_food, Sign::vomiting, Sign::bleeding,
                       Sign::foul_discharge, Sign::twitching}) {
    auto story = pup();
    story.tell(at(60), "1", record::SignSeen{s});
    EXPECT_EQ(level_of(story.assess(at(61)), "PUP_ILL", "1"), Level::call_vet) << record::name_of(s);
    EXPECT_EQ(level(story, 61, "SIGN_TWITCHING"), std::nullopt) << "the pup, not the dam";
  }
  auto limp = pup();
  limp.tell(at(60), "1", record::SignSeen{Sign::collapse});
  limp.tell(at(70), "1", record::SignSeen{Sign::off_food});
  EXPECT_EQ(level_of(limp.assess(at(80)), "PUP_COLLAPSE", "1"), Level::emergency);
  EXPECT_EQ(level(limp, 80, "PUP_ILL"), std::nullopt) << "told once, by the worse";
  auto dead = limp;
  dead.tell(at(90), "1", record::Death{});
  EXPECT_EQ(level(dead, 91, "PUP_COLLAPSE"), std::nullopt);
}

TEST(Pup, ASignOfLabourNotedOfAPupIsNotLost) {
  auto s = pup();
  s.tell(at(10), "1", record::SignSeen{Sign::strong_straining});
  ASSERT_EQ(s.litter().misfits.size(), 1U);
  EXPECT_EQ(s.litter().misfits.front().code, "DAM_SIGN");
  EXPECT_EQ(level(s, 11, "MISFIT"), Level::act);
}

TEST(Dam, HerDeathIsToldAndEndsHerClocks) {
  auto s = Story{}.counted(4).sign(Sign::strong_straining, at(0)).born("1", at(10), 400);
  s.sign(Sign::strong_straining, at(15)).tell(at(60), "dam", record::Death{});
  EXPECT_EQ(level(s, 57, "STRONG_STRAINING"), Level::call_vet);
  EXPECT_EQ(level(s, 61, "STRONG_STRAINING"), std::nullopt);
  EXPECT_EQ(level(s, 61, "DAM_DIED"), Level::emergency);
  EXPECT_EQ(level(s, 61, "PUPS_ORPHANED"), Level::act);
  EXPECT_EQ(level(s, 60 + 24 * 60, "DAM_DIED"), std::nullopt);
  EXPECT_EQ(level(s, 60 + 24 * 60, "PUPS_ORPHANED"), Level::act);
  EXPECT_EQ(level(s, 10 + 28 * 24 * 60, "PUPS_ORPHANED"), std::nullopt);
  EXPECT_EQ(s.assess(at(61)).whelping.stage, whelping::Stage::done);
  auto before = Story{}.mated(kNight - days(71)).tell(kNight, "dam", record::Death{});
  EXPECT_EQ(level(before, 1, "OVERDUE_MATING"), std::nullopt);
  EXPECT_EQ(level(before, 1, "DAM_DIED"), Level::emergency);
}

TEST(Clock, OfAPhoneMayRunTwoMinutesFast) {
  const auto s = Story{}.sign(Sign::collapse, kNight + minutes(2));
  EXPECT_EQ(level(s, 0, "SIGN_COLLAPSE"), Level::emergency);
  EXPECT_EQ(level(s, 0, "FUTURE_ENTRY"), std::nullopt);
  const auto birth = Story{}.counted(3).born("1", kNight + minutes(1), 400).assess(kNight);
  EXPECT_EQ(birth.whelping.born, 1);
  EXPECT_EQ(birth.whelping.since_last_pup, Minutes{0}) << "not before its time";
  const auto later = Story{}.sign(Sign::collapse, kNight + minutes(2) + Span{1});
  EXPECT_EQ(level(later, 0, "SIGN_COLLAPSE"), std::nullopt);
  EXPECT_EQ(level(later, 0, "FUTURE_ENTRY"), Level::act);
}

TEST(LabourLong, NotFromOneTapThatCameToNothing) {
  const auto tap = Story{}.sign(Sign::weak_straining, at(0)).sign(Sign::straining_stopped, at(5));
  EXPECT_EQ(level(tap, 13 * 60, "LABOUR_LONG"), std::nullopt);
  EXPECT_EQ(level(tap, 25 * 60, "LABOUR_LONG"), std::nullopt);
  auto later = tap;
  later.sign(Sign::weak_straining, at(20 * 60));
  EXPECT_EQ(level(later, 25 * 60, "LABOUR_LONG"), std::nullopt) << "five hours, not twenty-five";
  EXPECT_EQ(level(later, 32 * 60, "LABOUR_LONG"), Level::watch);
  // What was real effort, or waters, counts from its beginning whatever came between.
  auto real = Story{}.sign(Sign::weak_straining, at(0)).sign(Sign::straining_stopped, at(30));
  real.sign(Sign::weak_straining, at(10 * 60));
  EXPECT_EQ(level(real, 12 * 60, "LABOUR_LONG"), Level::watch);
  auto waters = tap;
  waters.sign(Sign::waters, at(10));
  EXPECT_EQ(level(waters, 24 * 60, "LABOUR_LONG"), Level::emergency);
}

TEST(Uncounted, ALitterIsRungAboutNotDrivenOffFor) {
  const auto s = Story{}.sign(Sign::strong_straining, at(0)).born("1", at(20), 400).born("2", at(60), 400);
  EXPECT_EQ(level(s, 60 + 120, "GAP_RESTING"), Level::call_vet);
  EXPECT_EQ(level(s, 60 + 10 * 60, "GAP_RESTING"), Level::call_vet);
  EXPECT_EQ(level(s, 24 * 60, "LABOUR_LONG"), Level::watch);
  EXPECT_NE(find(s.assess(at(200)), "GAP_RESTING")->because.find("tap Settled"), std::string::npos);
  auto counted = s;
  counted.counted(3);
  EXPECT_EQ(level(counted, 60 + 240, "GAP_RESTING"), Level::emergency);
  auto straining = s;
  straining.sign(Sign::weak_straining, at(70));
  EXPECT_EQ(level(straining, 60 + 120, "GAP_STRAINING"), Level::emergency);
}

TEST(Green, AfterTheLastOfTheCountIsTheUsualFlow) {
  const auto s = Story{}.counted(1).born("1", at(0), 400).sign(Sign::green_discharge, at(5));
  EXPECT_EQ(level(s, 5, "GREEN_BETWEEN"), Level::note);
  EXPECT_EQ(level(s, 119, "GREEN_BETWEEN"), Level::note);
  EXPECT_EQ(level(s, 64, "GREEN_AFTER_COUNT"), std::nullopt);
  EXPECT_EQ(level(s, 65, "GREEN_AFTER_COUNT"), Level::watch) << "a count is a minimum";
  EXPECT_EQ(level(s, 119, "GAP_RESTING"), std::nullopt);
  auto straining = s;
  straining.sign(Sign::weak_straining, at(30));
  EXPECT_EQ(level(straining, 65, "GREEN_BETWEEN"), Level::call_vet) << "a count can be one too few";
  auto more = Story{}.counted(2).born("1", at(0), 400).sign(Sign::green_discharge, at(5));
  EXPECT_EQ(level(more, 65, "GREEN_BETWEEN"), Level::call_vet);
}

TEST(Stopped, AShortWeakEffortIsAnOrdinaryRest) {
  const auto weak = [](double m) {
    return Story{}
        .counted(4)
        .born("1", at(-5), 400)
        .sign(Sign::weak_straining, at(0))
        .sign(Sign::straining_stopped, at(m));
  };
  EXPECT_EQ(level(weak(20), 21, "STOPPED_STRAINING"), std::nullopt);
  EXPECT_EQ(level(weak(59), 60, "STOPPED_STRAINING"), std::nullopt);
  EXPECT_EQ(level(weak(60), 61, "STOPPED_STRAINING"), Level::call_vet);
  const auto strong = Story{}.counted(4).born("1", at(-5), 400).sign(Sign::strong_straining, at(0));
  EXPECT_EQ(level(Story{strong}.sign(Sign::straining_stopped, at(20)), 21, "STOPPED_STRAINING"), Level::call_vet);
  EXPECT_EQ(level(Story{strong}.sign(Sign::straining_stopped, at(19)), 20, "STOPPED_STRAINING"), std::nullopt);
}

TEST(DamTemperature, WordsFitTheMomentTheyAreToldIn) {
  for (const double birth : {-100.0, 100.0}) {  // hours before and after the reading
    auto s = Story{}.temperature("dam", 39.8, kNight);
    if (birth < 0) s.born("1", kNight + hours(birth), 400);
    ASSERT_EQ(level(s, 0, "DAM_FEVER"), Level::call_vet);
    EXPECT_NE(find(s.assess(kNight), "DAM_FEVER")->why.find("Before or during labour"), std::string::npos);
    EXPECT_EQ(find(s.assess(kNight), "DAM_FEVER")->professional.find("Post-partum"), std::string::npos);
  }
}

TEST(DamTemperature, IsAskedForTwiceADayForTwoWeeksAfterWhelping) {
  Story s;
  s.counted(1).born("1", kNight, 400).sign(Sign::settled, at(10));
  EXPECT_EQ(level(s, 12 * 60 - 1, "DAM_TEMP_OLD"), std::nullopt);
  EXPECT_EQ(level(s, 12 * 60, "DAM_TEMP_OLD"), Level::note);
  s.temperature("dam", 38.6, at(13 * 60));
  EXPECT_EQ(level(s, 14 * 60, "DAM_TEMP_OLD"), std::nullopt);
  EXPECT_EQ(level(s, 25 * 60, "DAM_TEMP_OLD"), Level::note);
  EXPECT_EQ(level(s, 14 * 24 * 60 - 1, "DAM_TEMP_OLD"), Level::note);
  EXPECT_EQ(level(s, 14 * 24 * 60, "DAM_TEMP_OLD"), std::nullopt);
  EXPECT_EQ(level(Story{}.counted(5).born("1", kNight, 400), 13 * 60, "DAM_TEMP_OLD"), std::nullopt) << "in labour";
}

TEST(Early, ByTheBestDateAndStillWhenAPupIsBorn) {
  const auto sign = [](record::Body date, double d) {
    return Story{}.tell(kNight - days(d), "", std::move(date)).sign(Sign::waters, kNight);
  };
  EXPECT_EQ(level(sign(record::Ovulation{}, 56.9), 0, "LABOUR_EARLY_OVULATION"), Level::call_vet);
  EXPECT_EQ(level(sign(record::LhSurge{}, 58.9), 0, "LABOUR_EARLY_LH"), Level::call_vet);
  EXPECT_EQ(level(sign(record::Dioestrus{}, 53.9), 0, "LABOUR_EARLY_DIOESTRUS"), Level::call_vet);
  // Day 50 from the mating, in time by the surge: one of the dates is wrong, so the vet is rung.
  auto late = sign(record::LhSurge{}, 63);
  late.mated(kNight - days(50));
  EXPECT_EQ(level(late, 0, "LABOUR_EARLY_LH"), std::nullopt);
  EXPECT_EQ(level(late, 0, "LABOUR_EARLY"), Level::call_vet);
  const auto born = Story{}.mated(kNight - days(52)).born("1", kNight, 200);
  EXPECT_EQ(level(born, 0, "LABOUR_EARLY"), Level::call_vet);
  EXPECT_EQ(level(born, 72 * 60 - 1, "LABOUR_EARLY"), Level::call_vet);
  EXPECT_EQ(level(born, 72 * 60, "LABOUR_EARLY"), std::nullopt);
}

}  // namespace
}  // namespace lampside::testing
