// The pace, what it foretells, when it is silent; the house's limits and the drive; the stage set by hand.
#include <gtest/gtest.h>

#include "../advice/story.hpp"
#include "advice/call.hpp"
#include "whelping/pace.hpp"

namespace lampside::testing {
namespace {

Instant at(double m) { return kNight + minutes(m); }
Story births(std::initializer_list<double> when, int counted = 9) {
  Story s;
  s.counted(counted);
  int n = 0;
  for (const double m : when) s.born(std::to_string(++n), at(m), 400);
  return s;
}
whelping::NextPup next_of(const Story& s, double m) {
  const auto a = s.assess(at(m));
  const auto* next = reference::value_of(a.whelping.next_pup);
  EXPECT_NE(next, nullptr) << std::get<reference::NotAssessed>(a.whelping.next_pup).why;
  return next ? *next : whelping::NextPup{};
}

// By hand from the printed parameters: prior middle 40 min, ln spreads 0.95 and 0.3. With no gap seen the spread is
// sqrt(0.95^2 + 0.3^2) = 0.9962; the upper tenth is 40 exp(1.2816 x 0.9962) = 143.4, the quarter 40 exp(-0.6745 x ...)
// = 20.4.
TEST(Pace, ThePriorIsThePrintedOne) {
  const auto next = next_of(births({0}), 0);
  EXPECT_EQ(next.p25.count(), 20);
  EXPECT_EQ(next.p50.count(), 40);
  EXPECT_EQ(next.p90.count(), 143);
}

// Four gaps of 20 min: the litter's ln pace is (4/0.95^2)(ln 20 - ln 40) / (1/0.3^2 + 4/0.95^2) = -0.1976 off the
// prior: middle 32.8.
TEST(Pace, LearnsThisLabours) {
  EXPECT_EQ(next_of(births({0, 20, 40, 60, 80}), 80).p50.count(), 33);
  EXPECT_GT(next_of(births({0, 90, 180, 270}), 270).p50, next_of(births({0, 20, 40, 60}), 60).p50);
}

TEST(Pace, EveryQuantileIsInOrderAndWaitingNeverBringsItNearerThanNow) {
  for (double waited = 0; waited < 3000; waited += 7) {
    double before = 0;
    for (const double q : {0.05, 0.25, 0.5, 0.75, 0.9, 0.99}) {
      const double wait = whelping::wait_quantile({std::log(40), 1.0, 0.3}, waited, q);
      EXPECT_GE(wait, before) << waited << " " << q;
      before = wait;
    }
  }
}

TEST(Outlook, IsSilentBesideAFlagAndOnceAllAreBorn) {
  auto s = births({0, 40});
  s.sign(Sign::strong_straining, at(50));
  next_of(s, 60);
  const auto flagged = s.assess(at(81));
  ASSERT_TRUE(std::holds_alternative<reference::NotAssessed>(flagged.whelping.next_pup));
  EXPECT_EQ(std::get<reference::NotAssessed>(flagged.whelping.next_pup).code, "SILENCED");
  EXPECT_EQ(std::get<reference::NotAssessed>(flagged.whelping.last_pup).code, "SILENCED");
  const auto all = births({0, 40}, 2).assess(at(50));
  EXPECT_EQ(std::get<reference::NotAssessed>(all.whelping.next_pup).code, "NO_DATA");
  EXPECT_EQ(std::get<reference::NotAssessed>(Story{}.counted(3).assess(kNight).whelping.next_pup).code, "NO_DATA");
}

TEST(Outlook, TheLastComesAfterTheNext) {
  const auto a = births({0, 40, 80}, 9).assess(at(85));
  const auto* next = reference::value_of(a.whelping.next_pup);
  const auto* last = reference::value_of(a.whelping.last_pup);
  ASSERT_TRUE(next && last);
  EXPECT_GT(last->p50, next->p50 * 4);
  EXPECT_LT(last->p25, last->p50);
  EXPECT_LT(last->p50, last->p90);
}

TEST(OneLeft, IsNeverNothingAndFallsWithQuietOnlyToItsFloor) {
  const auto chance = [](const Story& s, double m) {
    const auto a = s.assess(at(m));
    const auto* left = reference::value_of(a.whelping.one_left);
    return left ? left->chance : -1;
  };
  const auto all = births({0, 40}, 2);
  EXPECT_NEAR(chance(all, 40), 0.045, 0.001) << "6 % wrong counts, three in four too low";
  double before = 1;
  for (double m = 40; m < 6000; m += 60) {
    const double now = chance(all, m);
    EXPECT_LE(now, before);
    EXPECT_GT(now, 0.002) << "a pup that is stuck does not come, however long one waits";
    before = now;
  }
  EXPECT_GT(chance(births({0, 40}, 3), 41), 0.9) << "one short of the count";
  EXPECT_EQ(chance(Story{}.born("1", kNight, 400), 10), -1) << "nobody counted";
  auto straining = all;
  straining.sign(Sign::strong_straining, at(60));
  EXPECT_GT(chance(straining, 70), 0);
  EXPECT_EQ(chance(straining, 100), -1) << "a warning stands: no forecast beside it";
}

TEST(House, ALimitOfItsOwnOnlyRingsEarlier) {
  const auto told = [](int min, double m) {
    auto s = Story{}.counted(5).sign(Sign::strong_straining, kNight);
    s.tell(kNight - days(2), "", record::HouseLimit{"STRONG_STRAINING", min, "the vet, by telephone"});
    return s.assess(at(m));
  };
  EXPECT_EQ(level_of(told(15, 14), "STRONG_STRAINING"), std::nullopt);
  EXPECT_EQ(level_of(told(15, 15), "STRONG_STRAINING"), Level::call_vet);
  const auto a = told(15, 15);
  EXPECT_NE(find(a, "STRONG_STRAINING")->because.find("said by the vet, by telephone"), std::string::npos);
  EXPECT_EQ(level_of(told(500, 29), "STRONG_STRAINING"), Level::act);
  EXPECT_EQ(level_of(told(500, 30), "STRONG_STRAINING"), Level::call_vet) << "never later than the table";
  EXPECT_EQ(level_of(told(500, 60), "STRONG_STRAINING"), Level::emergency);
}

TEST(House, ALongDriveRingsEarlierAndShowsTheSum) {
  const auto told = [](int drive, double m) {
    record::LitterFacts f;
    f.vet = record::Vet{"0000 000", {}, drive};
    return Story{}.facts(f).counted(5).sign(Sign::strong_straining, kNight).assess(at(m));
  };
  EXPECT_EQ(level_of(told(45, 19), "STRONG_STRAINING"), std::nullopt) << "nobody in print rings before 20 minutes";
  EXPECT_EQ(level_of(told(45, 20), "STRONG_STRAINING"), Level::call_vet);
  const auto a = told(45, 20);
  EXPECT_NE(find(a, "STRONG_STRAINING")->because.find("1 h less 45 min leaves 15 min"), std::string::npos)
      << find(a, "STRONG_STRAINING")->because;
  EXPECT_EQ(level_of(told(35, 24), "STRONG_STRAINING"), Level::act);
  EXPECT_EQ(level_of(told(35, 25), "STRONG_STRAINING"), Level::call_vet);
  EXPECT_EQ(level_of(told(10, 29), "STRONG_STRAINING"), Level::act);
  const auto near = told(10, 31);
  EXPECT_NE(find(near, "STRONG_STRAINING")->because.find("leave by 00:50"), std::string::npos)
      << find(near, "STRONG_STRAINING")->because;
}

TEST(Stage, SetByHandHoldsUntilTheNextSign) {
  auto s = Story{}.counted(5).sign(Sign::strong_straining, kNight);
  s.tell(at(50), "dam", record::StageSaid{record::LabourStage::first_stage});
  EXPECT_EQ(s.assess(at(60)).whelping.stage, whelping::Stage::first_stage);
  EXPECT_EQ(level_of(s.assess(at(70)), "STRONG_STRAINING"), std::nullopt);
  s.sign(Sign::weak_straining, at(80));
  EXPECT_EQ(s.assess(at(81)).whelping.stage, whelping::Stage::straining);
  auto done = births({0, 30});
  done.tell(at(60), "dam", record::StageSaid{record::LabourStage::done});
  EXPECT_EQ(done.assess(at(61)).whelping.stage, whelping::Stage::done);
  EXPECT_EQ(level_of(done.assess(at(61)), "COUNT_SHORT"), Level::call_vet) << "a short count is still told";
}

TEST(Call, SaysWhoWhatSinceWhenAndWhatIsAsked) {
  record::LitterFacts f;
  f.dam = record::Parent{"Juniper", "Golden Retriever", {}, Kilograms{31}, 0};
  f.vet = record::Vet{"0000 111", "0000 222", 45};
  auto s = Story{}.facts(f).counted(5).born("1", at(-40), 400).sign(Sign::strong_straining, kNight);
  const auto litter = s.litter();
  const auto a = s.assess(at(65));
  const auto text = advice::call_text(advice::call_sheet(litter, a), litter, at(65));
  for (const auto* part : {"Juniper, Golden Retriever, 31 kg, first litter", "strong straining and no pup since 00:00",
                           "1 born, 1 alive, at least 5 counted", "45 minutes away", "May we come now?", "0000 222",
                           "pup 1 born, 400 g", "strong straining"})
    EXPECT_NE(text.find(part), std::string::npos) << part << "\n" << text;
  const auto calm = advice::call_sheet(Story{}.litter(), Story{}.assess(kNight));
  EXPECT_FALSE(calm.urgent);
  EXPECT_NE(calm.asked.find("If you are uneasy, ring"), std::string::npos);
}

TEST(Call, WhatAsksForAHandIsNotPassedOverInSilence) {
  auto s = births({0, 30}, 2);
  s.temperature("2", 34.3, at(100));
  const auto sheet = advice::call_sheet(s.litter(), s.assess(at(101)));
  EXPECT_FALSE(sheet.urgent);
  ASSERT_FALSE(sheet.what.empty());
  EXPECT_NE(sheet.what.front().find("pup 2: "), std::string::npos) << sheet.what.front();
  EXPECT_NE(sheet.what.front().find("34.3"), std::string::npos) << sheet.what.front();
  EXPECT_EQ(sheet.asked.find("Nothing on record"), std::string::npos) << sheet.asked;
  EXPECT_NE(sheet.asked.find("ring"), std::string::npos);
}

TEST(Suckle, IsTakenFromOneTapForAllAndFromAFeed) {
  auto s = births({0, 30}, 2);
  EXPECT_EQ(level_of(s.assess(at(241)), "FIRST_SUCKLE"), Level::act);
  auto all = s;
  all.tell(at(100), "", record::Suckled{});
  EXPECT_EQ(level_of(all.assess(at(241)), "FIRST_SUCKLE"), std::nullopt);
  auto one = s;
  one.tell(at(100), "1", record::Suckled{});
  EXPECT_NE(find(one.assess(at(241)), "FIRST_SUCKLE")->because.find("pup 2"), std::string::npos);
  EXPECT_EQ(find(one.assess(at(241)), "FIRST_SUCKLE")->because.find("pup 1"), std::string::npos);
  EXPECT_EQ(level_of(s.assess(at(30 + 16 * 60)), "FIRST_SUCKLE"), std::nullopt) << "the gut has closed";
}

TEST(Care, IsAskedHourlyAndCanBeSwitchedOff) {
  auto s = Story{}.counted(5).sign(Sign::weak_straining, kNight);
  EXPECT_EQ(level_of(s.assess(at(60)), "LABOUR_CARE"), Level::note);
  s.tell(at(61), "dam", record::Done{"labour_care"});
  EXPECT_EQ(level_of(s.assess(at(120)), "LABOUR_CARE"), std::nullopt);
  EXPECT_EQ(level_of(s.assess(at(121)), "LABOUR_CARE"), Level::note);
  s.tell(at(122), "dam", record::Done{"no_prompts"});
  EXPECT_EQ(level_of(s.assess(at(400)), "LABOUR_CARE"), std::nullopt);
}

}  // namespace
}  // namespace lampside::testing
