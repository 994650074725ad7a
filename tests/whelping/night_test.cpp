// Nights told step by step: which clock runs, what ends it, and what must not go quiet.
#include <gtest/gtest.h>

#include "../advice/story.hpp"

namespace lampside::testing {
namespace {

Instant at(double m) { return kNight + minutes(m); }
std::optional<Level> level(const Story& s, double m, std::string_view code) { return level_of(s.assess(at(m)), code); }
whelping::Stage stage(const Story& s, double m) { return s.assess(at(m)).whelping.stage; }
Level worst(const Story& s, double m) {
  const auto a = s.assess(at(m));
  return a.findings.empty() ? Level::note : a.findings.front().level;
}

TEST(Strong, AWeakerTapBetweenDoesNotStartTheClockAgain) {
  const auto s = Story{}
                     .sign(Sign::strong_straining, at(0))
                     .sign(Sign::weak_straining, at(15))
                     .sign(Sign::strong_straining, at(25));
  EXPECT_EQ(level(s, 29, "STRONG_STRAINING"), Level::act);
  EXPECT_EQ(level(s, 30, "STRONG_STRAINING"), Level::call_vet);
  EXPECT_EQ(level(s, 60, "STRONG_STRAINING"), Level::emergency);
}

TEST(Strong, WhatItHasReachedStaysWhenSheTires) {
  for (const Sign eased : {Sign::weak_straining, Sign::straining_stopped}) {
    const auto s = Story{}.sign(Sign::strong_straining, at(0)).sign(eased, at(65));
    EXPECT_EQ(level(s, 66, "STRONG_STRAINING"), Level::emergency) << record::name_of(eased);
    EXPECT_EQ(worst(s, 300), Level::emergency) << record::name_of(eased);
  }
  const auto eased = Story{}.sign(Sign::strong_straining, at(0)).sign(Sign::weak_straining, at(35));
  EXPECT_EQ(level(eased, 36, "STRONG_STRAINING"), Level::call_vet);
  EXPECT_EQ(level(eased, 100, "STRONG_STRAINING"), Level::call_vet) << "it does not grow while she strains weakly";
  EXPECT_EQ(level(eased, 120, "WEAK_STRAINING"), Level::call_vet) << "the run began with the strong straining";
  EXPECT_EQ(level(eased, 120, "STRONG_STRAINING"), std::nullopt) << "one straining is not two warning signs";
  EXPECT_EQ(level(eased, 120, "TWO_FLAGS"), std::nullopt);
  const auto little = Story{}.sign(Sign::strong_straining, at(0)).sign(Sign::weak_straining, at(10));
  EXPECT_EQ(level(little, 60, "STRONG_STRAINING"), std::nullopt);
}

TEST(Strong, APauseOfLessThanAnHourIsNotANewBeginning) {
  Story s;
  s.sign(Sign::strong_straining, at(0)).sign(Sign::straining_stopped, at(25)).sign(Sign::strong_straining, at(40));
  EXPECT_EQ(level(s, 41, "STRONG_STRAINING"), Level::call_vet);
  EXPECT_EQ(level(s, 41, "STOPPED_STRAINING"), std::nullopt) << "one straining is not two warning signs";
  EXPECT_EQ(level(s, 41, "TWO_FLAGS"), std::nullopt);
  EXPECT_EQ(level(s, 60, "STRONG_STRAINING"), Level::emergency);
  const auto rested = Story{}
                          .sign(Sign::strong_straining, at(0))
                          .sign(Sign::straining_stopped, at(10))
                          .sign(Sign::strong_straining, at(70));
  EXPECT_EQ(level(rested, 89, "STRONG_STRAINING"), std::nullopt);
  EXPECT_EQ(level(rested, 90, "STRONG_STRAINING"), Level::act);
}

TEST(Strong, WhatStoppedWithoutAPupIsNotForgottenWhenSheBeginsAgain) {
  Story s;
  s.sign(Sign::strong_straining, at(0)).sign(Sign::straining_stopped, at(25)).sign(Sign::strong_straining, at(200));
  EXPECT_EQ(level(s, 199, "STOPPED_STRAINING"), Level::call_vet);
  EXPECT_EQ(worst(s, 201), Level::call_vet) << "a minute of new straining is no all-clear";
}

TEST(Weak, TurningStrongDoesNotStartTheNightAgain) {
  Story s;
  s.sign(Sign::weak_straining, at(0));
  EXPECT_EQ(worst(s, 250), Level::emergency);
  s.sign(Sign::strong_straining, at(250));
  EXPECT_EQ(level(s, 251, "WEAK_STRAINING"), Level::emergency);
  EXPECT_EQ(level(s, 251, "STRONG_STRAINING"), std::nullopt) << "the worse of the two is told";
}

TEST(Birth, StartsEveryClockAgain) {
  Story s;
  s.counted(4);
  for (const Sign sign : {Sign::strong_straining, Sign::waters, Sign::green_discharge, Sign::pup_visible})
    s.sign(sign, at(0));
  EXPECT_EQ(worst(s, 119), Level::emergency);
  s.born("1", at(120), 400);
  for (const auto code : {"STRONG_STRAINING", "WATERS_NO_PUP", "GREEN_BEFORE_FIRST", "GREEN_BETWEEN", "PUP_VISIBLE",
                          "TWO_FLAGS", "GAP_RESTING"})
    EXPECT_EQ(level(s, 120, code), std::nullopt) << code;
  const auto watch = s.assess(at(120)).whelping;
  EXPECT_EQ(watch.stage, whelping::Stage::between_pups);
  EXPECT_EQ(watch.effort, whelping::Effort::none);
  EXPECT_EQ(watch.since_last_pup, Minutes{0});
  s.sign(Sign::strong_straining, at(125));
  EXPECT_EQ(level(s, 144, "STRONG_STRAINING"), std::nullopt);
  EXPECT_EQ(level(s, 145, "STRONG_STRAINING"), Level::act);
  s.born("2", at(150), 0.0 + 380, false);
  EXPECT_EQ(level(s, 150, "STRONG_STRAINING"), std::nullopt) << "a stillborn pup is a birth too";
  EXPECT_EQ(s.assess(at(150)).whelping.born, 2);
  EXPECT_EQ(s.assess(at(150)).whelping.alive, 1);
}

TEST(Settled, EndsTheAlarmsOfLabourButNotAShortCount) {
  Story s;
  s.counted(4)
      .born("1", at(0), 400)
      .born("2", at(30), 400)
      .sign(Sign::strong_straining, at(60))
      .sign(Sign::waters, at(60));
  EXPECT_EQ(worst(s, 180), Level::emergency);
  s.sign(Sign::settled, at(181));
  EXPECT_EQ(stage(s, 182), whelping::Stage::done);
  for (const auto code :
       {"STRONG_STRAINING", "WATERS_NO_PUP", "GAP_RESTING", "GAP_STRAINING", "LABOUR_LONG", "STOPPED_STRAINING"})
    EXPECT_EQ(level(s, 600, code), std::nullopt) << code;
  EXPECT_EQ(level(s, 182, "COUNT_SHORT"), Level::call_vet);
  EXPECT_NE(find(s.assess(at(182)), "COUNT_SHORT")->because.find("2 born of at least 4"), std::string::npos);
  EXPECT_EQ(level(s, 30 + 72 * 60 - 1, "COUNT_SHORT"), Level::call_vet);
  s.born("3", at(200), 400).born("4", at(220), 400).sign(Sign::settled, at(240));
  EXPECT_EQ(level(s, 241, "COUNT_SHORT"), std::nullopt);
}

TEST(Settled, APupShowingOrWatersAfterItOpenTheNightAgain) {
  for (const Sign sign : {Sign::pup_visible, Sign::waters, Sign::strong_straining}) {
    const auto s =
        Story{}.counted(2).born("1", at(0), 400).born("2", at(30), 400).sign(Sign::settled, at(60)).sign(sign, at(300));
    EXPECT_NE(stage(s, 301), whelping::Stage::done) << record::name_of(sign);
    EXPECT_LE(worst(s, 300 + 60), Level::call_vet) << record::name_of(sign);
  }
  // Green discharge after the last pup is the usual lochia.
  const auto green = Story{}
                         .counted(2)
                         .born("1", at(0), 400)
                         .born("2", at(30), 400)
                         .sign(Sign::settled, at(60))
                         .sign(Sign::green_discharge, at(300));
  EXPECT_EQ(stage(green, 500), whelping::Stage::done);
}

TEST(Settled, BeforeTheFirstPupDoesNotUndoTheWaters) {
  for (const auto& [sign, code] : {std::pair{Sign::waters, "WATERS_NO_PUP"},
                                   {Sign::green_discharge, "GREEN_BEFORE_FIRST"},
                                   {Sign::pup_visible, "PUP_VISIBLE"},
                                   {Sign::strong_straining, "STRONG_STRAINING"}}) {
    const auto s = Story{}.sign(sign, at(0)).sign(Sign::settled, at(70));
    EXPECT_LE(level(s, 71, code).value_or(Level::note), Level::call_vet) << record::name_of(sign);
  }
}

TEST(Over, NotWhileAPupShowsThoughTheCountIsReached) {
  const auto s = Story{}.counted(1).born("1", at(0), 400).sign(Sign::pup_visible, at(150));
  EXPECT_EQ(level(s, 150, "PUP_VISIBLE"), Level::act);
  EXPECT_EQ(level(s, 160, "PUP_VISIBLE"), Level::emergency);
  const auto late = Story{}.counted(4).born("1", at(0), 400).sign(Sign::pup_visible, at(25 * 60));
  EXPECT_EQ(level(late, 25 * 60 + 10, "PUP_VISIBLE"), Level::emergency);
  const auto waters = Story{}.counted(1).born("1", at(0), 400).sign(Sign::waters, at(100));
  EXPECT_EQ(level(waters, 100 + 120, "WATERS_NO_PUP"), Level::emergency);
}

TEST(Over, TwoQuietHoursAfterTheCountOrADayWithoutOne) {
  const auto counted = Story{}.counted(1).born("1", at(0), 400);
  EXPECT_EQ(stage(counted, 119), whelping::Stage::between_pups);
  EXPECT_EQ(stage(counted, 120), whelping::Stage::done);
  EXPECT_EQ(level(counted, 119, "GAP_RESTING"), std::nullopt) << "no more are expected";
  const auto unknown = Story{}.born("1", at(0), 400);
  EXPECT_EQ(level(unknown, 24 * 60 - 1, "GAP_RESTING"), Level::call_vet) << "the number is not known: more may come";
  EXPECT_EQ(stage(unknown, 24 * 60), whelping::Stage::done);
}

TEST(FirstStage, RunsFromItsFirstSignAndEndsTwoDaysAfterItsLast) {
  const auto s = Story{}.sign(Sign::panting, at(0)).sign(Sign::shivering, at(47 * 60));
  EXPECT_EQ(level(s, 48 * 60 + 30, "FIRST_STAGE_LONG"), Level::call_vet)
      << "not milder because the first sign is two days old";
  EXPECT_EQ(level(s, 95 * 60, "FIRST_STAGE_LONG"), Level::call_vet);
  EXPECT_EQ(level(s, 95 * 60 + 1, "FIRST_STAGE_LONG"), std::nullopt);
  const auto straining = Story{}.sign(Sign::panting, at(0)).sign(Sign::weak_straining, at(600));
  EXPECT_EQ(level(straining, 601, "FIRST_STAGE_LONG"), std::nullopt);
}

TEST(Labour, CountsFromTheWatersToo) {
  const auto s =
      Story{}.counted(9).sign(Sign::waters, at(0)).born("1", at(60), 400).sign(Sign::strong_straining, at(80));
  EXPECT_EQ(level(s, 719, "LABOUR_LONG"), std::nullopt);
  EXPECT_EQ(level(s, 720, "LABOUR_LONG"), Level::watch);
}

TEST(Watch, SaysWhichClocksRunAndSinceWhen) {
  const auto running = [](const Story& s, double m) {
    std::string out;
    for (const auto& c : s.assess(at(m)).whelping.clocks)
      out += fmt::format("{} {} ", c.kind, (c.since - kNight) / Minutes{1});
    return out;
  };
  Story s;
  s.sign(Sign::waters, at(0)).sign(Sign::weak_straining, at(5)).sign(Sign::strong_straining, at(10));
  EXPECT_EQ(running(s, 11), "strong_straining 10 waters 0 labour 0 ");
  s.sign(Sign::straining_stopped, at(12));
  EXPECT_EQ(running(s, 13), "waters 0 labour 0 ") << "what has stopped does not run";
  s.born("1", at(20), 400).sign(Sign::weak_straining, at(30)).sign(Sign::green_discharge, at(31));
  EXPECT_EQ(running(s, 32), "weak_straining 30 green_discharge 31 last_pup 20 labour 0 ");
  s.sign(Sign::settled, at(90));
  EXPECT_EQ(running(s, 91), "");
}

TEST(Vomiting, WithinTwelveHours) {
  const auto s = Story{}.sign(Sign::vomiting, at(0)).sign(Sign::vomiting, at(12 * 60));
  EXPECT_EQ(level(s, 12 * 60, "REPEATED_VOMITING"), std::nullopt);
  const auto closer = Story{}.sign(Sign::vomiting, at(0)).sign(Sign::vomiting, at(12 * 60 - 1));
  EXPECT_EQ(level(closer, 12 * 60 - 1, "REPEATED_VOMITING"), Level::call_vet);
}

TEST(DamTemperature, ALowOneIsNeverPassedOverBecauseLabourIsOn) {
  Story s;
  s.counted(5).born("1", at(0), 400).temperature("dam", 35.0, at(30));
  EXPECT_EQ(level(s, 31, "DAM_TEMP_LOW"), Level::act) << "between pups";
  s.sign(Sign::settled, at(40));
  EXPECT_EQ(level(s, 41, "DAM_TEMP_LOW"), Level::act) << "after whelping, where low can mean blood loss";
  EXPECT_EQ(level(s, 41, "DAM_TEMP_LOW_AFTER"), std::nullopt) << "one of the two is enough";
}

TEST(DamTemperature, ALittleWarmOnTheFirstDayIsUsualAFeverNever) {
  const auto day = [](double h, double c) {
    return Story{}.born("1", kNight, 400).sign(Sign::settled, at(10)).temperature("dam", c, kNight + hours(h));
  };
  EXPECT_EQ(level(day(23, 39.3), 23 * 60, "DAM_WARM"), std::nullopt);
  EXPECT_EQ(level(day(24, 39.3), 24 * 60, "DAM_WARM"), Level::watch);
  EXPECT_EQ(level(day(1, 39.4), 60, "DAM_FEVER"), Level::call_vet);
  EXPECT_EQ(level(day(24, 40), 24 * 60, "DAM_WARM"), std::nullopt) << "the fever says it";
  EXPECT_EQ(level(day(23, 39.4), 47 * 60 - 1, "DAM_FEVER"), Level::call_vet);
  EXPECT_EQ(level(day(23, 39.4), 47 * 60, "DAM_FEVER"), std::nullopt) << "a day old: no longer her temperature";
}

// The hour that comes twice: the clocks run on instants, only the words are local.
TEST(ClockChange, TheNightWithTwentyFiveHours) {
  const Instant back = std::chrono::sys_days{std::chrono::year{2026} / 10 / 25} + std::chrono::hours{1};
  const Zone berlin{"Europe/Berlin", Minutes{120}, {{back, Minutes{60}, "CET"}}};
  Story s{berlin};
  s.sign(Sign::strong_straining, back - minutes(10));  // 02:50 summer time
  const auto before = s.assess(back + minutes(9)), after = s.assess(back + minutes(20));
  EXPECT_EQ(find(before, "STRONG_STRAINING"), nullptr) << "the wall clock says 02:09, nineteen minutes after 02:50";
  ASSERT_EQ(level_of(s.assess(back + minutes(10)), "STRONG_STRAINING"), Level::act);
  ASSERT_EQ(level_of(after, "STRONG_STRAINING"), Level::call_vet);
  EXPECT_NE(find(after, "STRONG_STRAINING")->because.find("02:50, 30 min ago"), std::string::npos)
      << find(after, "STRONG_STRAINING")->because;
  // 35 hours of the clock on the wall are 36 in truth.
  Story drop{berlin};
  drop.temperature("dam", 37.2, back - hours(12));
  EXPECT_EQ(level_of(drop.assess(back + hours(24)), "DROP_CLOCK"), Level::emergency);
  EXPECT_EQ(level_of(drop.assess(back + hours(24) - Span{1}), "DROP_CLOCK"), Level::call_vet);
}
TEST(ClockChange, TheNightWithTwentyThreeHours) {
  const Instant on = std::chrono::sys_days{std::chrono::year{2026} / 3 / 29} + std::chrono::hours{1};
  const Zone berlin{"Europe/Berlin", Minutes{60}, {{on, Minutes{120}, "CEST"}}};
  Story s{berlin};
  s.counted(5).born("1", on - minutes(30), 400);  // 01:30; an hour later the wall clock says 03:30
  EXPECT_EQ(find(s.assess(on + minutes(30) - Span{1}), "GAP_RESTING"), nullptr);
  EXPECT_EQ(level_of(s.assess(on + minutes(30)), "GAP_RESTING"), Level::watch);
}

}  // namespace
}  // namespace lampside::testing
