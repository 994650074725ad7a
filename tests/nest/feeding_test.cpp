// Whether a pup is fed by hand, when next, what forbids it; and bad labels and weights.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "feeding.hpp"

namespace lampside::testing {
namespace {

using record::FeedShare;
using record::FeedWay;
using reference::built_in;
using ::testing::HasSubstr;

std::string why_not(const Story& s, Instant now = kNight) {
  const auto a = s.assess(now);
  const auto* why = std::get_if<reference::NotAssessed>(&pup_1(a).plan);
  return why ? why->why : "";
}

/// A pup of day 5 that lost a tenth since yesterday.
Story losing() {
  Story s;
  s.born("1", kNight - days(5), 400).weighed("1", 520, kNight - days(1)).weighed("1", 460, kNight);
  s.tell(kNight - days(1), "", milk_of(1));
  return s;
}

TEST(Decision, TheWeightsAdviseAndTheKeeperDecides) {
  Story s = losing();
  auto a = s.assess(kNight);
  EXPECT_EQ(pup_1(a).advised, FeedShare::top_up);
  EXPECT_EQ(pup_1(a).share, FeedShare::top_up) << "worked out before the keeper has decided";
  EXPECT_FALSE(pup_1(a).keepers);
  EXPECT_THAT(pup_1(a).because, HasSubstr("520 g"));
  EXPECT_NE(pup_1(a).source.work, "");
  EXPECT_EQ(find(a, "FEED_DUE"), nullptr) << "no clock runs before the keeper has decided";
  by_hand(s, kNight, FeedShare::none);
  a = s.assess(kNight);
  EXPECT_EQ(pup_1(a).share, FeedShare::none);
  EXPECT_EQ(pup_1(a).advised, FeedShare::top_up) << "still shown";
  EXPECT_EQ(no_plan_1(s), "NOT_FED");
}

TEST(Decision, AThrivingPupIsLeftToItsMotherAndAnOrphanIsNot) {
  Story s;
  s.born("1", kNight - days(3), 400).weighed("1", 480, kNight - hours(13)).weighed("1", 500, kNight);
  EXPECT_EQ(pup_1(s.assess(kNight)).advised, FeedShare::none);
  s.tell(kNight, "dam", record::Death{});
  EXPECT_EQ(pup_1(s.assess(kNight)).advised, FeedShare::full);
  EXPECT_EQ(pup_1(s.assess(kNight + days(26))).advised, FeedShare::none) << "it eats by then";
}

TEST(Share, ATopUpIsHalfOfAFullFeed) {
  Story full = hand_fed(500, 4), half = hand_fed(500, 4);
  by_hand(half, kNight - days(4) + minutes(1), FeedShare::top_up);
  EXPECT_NEAR(plan_1(half).today.kcal.count(), plan_1(full).today.kcal.count() / 2, 1e-9);
}

// "A gradual rise over 2 to 3 days" (veterinary hospital hand-out): low line, then a third of the way each day.
TEST(Rise, FromTheLowLineToTheHighOneInThreeDays) {
  const auto need = [](double days_fed) {
    Story s;
    s.born("1", kNight - days(5));
    s.weighed("1", 500, kNight - minutes(1));
    s.tell(kNight - days(5), "", milk_of(1));
    by_hand(s, kNight - days(days_fed));
    return plan_1(s).today.need.count();
  };
  EXPECT_NEAR(need(0), 13.23, 1e-9);
  EXPECT_NEAR(need(0.99), 13.23, 1e-9);
  EXPECT_NEAR(need(1), 13.23 + (22 - 13.23) / 3, 1e-9);
  EXPECT_NEAR(need(2.5), 13.23 + (22 - 13.23) * 2 / 3, 1e-9);
  EXPECT_NEAR(need(3), 22, 1e-9);
  EXPECT_NEAR(need(5), 22, 1e-9);
}

TEST(Rise, TheKeepersLineAndLooseStoolHoldIt) {
  const auto choose = [](const char* line) {
    Story s = hand_fed(500, 5);
    s.tell(kNight, "", record::CareChoice{"feeding_line", line, {}});
    return plan_1(s).today.need.count();
  };
  EXPECT_NEAR(choose("low"), 13.23, 1e-9);
  EXPECT_NEAR(choose("high"), 22, 1e-9);
  EXPECT_NEAR(choose("something else"), 22, 1e-9);
  Story s = hand_fed(500, 5);
  s.tell(kNight - hours(2), "1", record::SignSeen{Sign::loose_stool});
  EXPECT_NEAR(plan_1(s).today.need.count(), 13.23, 1e-9);
  EXPECT_THAT(plan_1(s).rise_says, HasSubstr("ask your vet"));
  EXPECT_NEAR(plan_1(s, kNight + hours(22)).today.need.count(), 22, 1e-9) << "a day later";
  EXPECT_EQ(find(s.assess(kNight), "PUP_ILL"), nullptr) << "told once, by its own name";
  ASSERT_NE(find(s.assess(kNight), "FEED_LOOSE"), nullptr);
}

TEST(Next, ADayDividedByTheFeedsAfterTheLastOne) {
  Story s = hand_fed(500, 5);
  EXPECT_EQ(plan_1(s).today.feeds, 8);
  EXPECT_EQ(pup_1(s.assess(kNight)).next, kNight - days(5)) << "never fed yet: since it was decided";
  fed(s, 10, kNight - hours(1));
  EXPECT_EQ(pup_1(s.assess(kNight)).next, kNight + hours(2));
  s.tell(kNight - minutes(30), "1", record::Feed{Millilitres{0}, FeedWay::nursing, {}});
  EXPECT_EQ(pup_1(s.assess(kNight)).next, kNight + hours(2)) << "what it sucked itself is no feed by hand";
}

TEST(Next, OverdueFeedsAreOneWalkAndOneADayDividedByTheFeedsOn) {
  Story s = hand_fed(500, 5);
  auto rounds = nest::feed_rounds(s.assess(kNight).feeding, kNight);
  ASSERT_EQ(rounds.size(), 8U) << "never fed yet, for five days: what is due is due once";
  EXPECT_EQ(rounds.front().at, kNight);
  fed(s, 10, kNight - hours(4));
  rounds = nest::feed_rounds(s.assess(kNight).feeding, kNight);
  EXPECT_EQ(rounds.front().at, kNight - hours(1)) << "an hour late";
  EXPECT_EQ(rounds.back().at, kNight + hours(23));
  s.tell(kNight, "1", record::SignSeen{Sign::belly_taut});
  EXPECT_TRUE(nest::feed_rounds(s.assess(kNight).feeding, kNight).empty());
}

TEST(Next, SmallOnesOftenerInTheFirstDays) {
  Story s;
  s.breed("Golden Retriever").born("1", kNight - days(1), 200).tell(kNight - days(1), "", milk_of(1));
  by_hand(s, kNight - days(1));
  EXPECT_EQ(plan_1(s).today.feeds, 12);
}

TEST(Due, SeveralPupsAreOneFinding) {
  Story s;
  for (const char* label : {"1", "2", "3"}) {
    s.born(label, kNight - days(2), 400).weighed(label, 420, kNight);
    by_hand(s, kNight - days(1), FeedShare::full, FeedWay::bottle, label);
  }
  s.tell(kNight - days(1), "", milk_of(1));
  fed(s, 5, kNight - hours(1), 1, "2");
  const auto a = s.assess(kNight);
  ASSERT_NE(find(a, "FEED_DUE"), nullptr) << codes(a);
  EXPECT_THAT(find(a, "FEED_DUE")->because, HasSubstr("pups 1, 3"));
  EXPECT_EQ(find(a, "FEED_DUE")->about, "litter");
}

TEST(Stop, AColdPupIsNotFedAtAnyAgesLimit) {
  struct At {
    double age, celsius;
    const char* want;
  };
  for (const auto& c : {At{3, 34.9, "FEED_COLD"}, At{3, 35, ""}, At{10, 35.9, "FEED_COLD"}, At{10, 36, ""},
                        At{25, 36.9, "FEED_COLD"}, At{25, 37, ""}}) {
    Story s = hand_fed(500, c.age);
    s.temperature("1", c.celsius, kNight - minutes(5));
    EXPECT_EQ(stops_1(s), c.want) << c.age << " days, " << c.celsius;
  }
  Story s = hand_fed(500, 3);
  s.temperature("1", 33.5, kNight - hours(8));
  EXPECT_EQ(stops_1(s), "FEED_COLD") << "nobody warms by waiting";
  EXPECT_NE(find(s.assess(kNight), "FEED_COLD"), nullptr);
  s.temperature("1", 36, kNight - hours(1));
  EXPECT_EQ(stops_1(s), "");
}

TEST(Stop, NoSuckTautBellyAndTheirOpposites) {
  Story s = hand_fed(500, 3);
  s.tell(kNight - hours(3), "1", record::SignSeen{Sign::no_suck});
  s.tell(kNight - hours(2), "1", record::SignSeen{Sign::belly_taut});
  EXPECT_EQ(stops_1(s), "FEED_TAUT FEED_NO_SUCK");
  EXPECT_EQ(level_of(s.assess(kNight), "FEED_NO_SUCK"), Level::call_vet);
  EXPECT_EQ(find(s.assess(kNight), "FEED_DUE"), nullptr) << "nothing is due that must not be given";
  s.tell(kNight - minutes(3), "1", record::SignSeen{Sign::sucks_well});
  s.tell(kNight - minutes(2), "1", record::SignSeen{Sign::belly_soft});
  EXPECT_EQ(stops_1(s), "");
  EXPECT_EQ(find(s.assess(kNight), "PUP_ILL"), nullptr) << "sucking well is no illness";
}

TEST(Stop, ATubeOnlyOnceAVetHasShownIt) {
  Story s = hand_fed(500, 3);
  by_hand(s, kNight - hours(1), FeedShare::full, FeedWay::tube);
  EXPECT_EQ(stops_1(s), "FEED_TUBE");
  s.tell(kNight, "", record::CareChoice{"tube_feeding", "shown", {}});
  EXPECT_EQ(stops_1(s), "FEED_TUBE") << "without a name it is nobody's word";
  s.tell(kNight, "", record::CareChoice{"tube_feeding", "shown", "Dr Vale"});
  EXPECT_EQ(stops_1(s), "");
  s.tell(kNight, "", record::CareChoice{"tube_feeding", "not_shown", {}});
  EXPECT_EQ(stops_1(s), "FEED_TUBE") << "and it can be taken back";
}

TEST(Label, MissingEnergyGivesNoVolume) {
  Story s;
  s.born("1", kNight - days(3), 400);
  by_hand(s, kNight - days(1));
  EXPECT_EQ(no_plan_1(s), "NO_MILK");
  s.tell(kNight, "", milk_of({}));
  EXPECT_EQ(no_plan_1(s), "NO_ENERGY");
  EXPECT_NE(find(s.assess(kNight), "FEED_UNKNOWN"), nullptr);
  EXPECT_THAT(why_not(s), HasSubstr("type it from the tin"));
}

TEST(Label, FourteenKcalIsRefusedWithAdvice) {
  const auto entry = record::decode_line(
      R"({"id":"00000000-0000-4000-8000-0000000000ff","litter":"juniper-2026","at":"2026-10-05T00:00:00Z","kind":"milk","name":"puppy milk","kcal_ml":14})");
  ASSERT_FALSE(entry);
  EXPECT_EQ(entry.error().code, "ENTRY_IMPLAUSIBLE");
  EXPECT_THAT(to_text(entry.error()), HasSubstr("kcal per ml as mixed"));
}

// 30 g of powder with 5.4 kcal/g in 70 ml of water: 162 kcal in 70 + 24 ml.
TEST(Label, WorkedOutFromPowderAndWater) {
  record::Milk m = milk_of({});
  m.powder_g = Grams{30}, m.water_ml = Millilitres{70}, m.powder_kcal_g = 5.4;
  const auto milk = std::get<nest::Milk>(nest::read(m, built_in()));
  EXPECT_NEAR(milk.density.count(), 162.0 / 94, 1e-9);
  EXPECT_TRUE(milk.worked_out);
  m.kcal_ml = KcalPerMl{1.6};
  EXPECT_NEAR(std::get<nest::Milk>(nest::read(m, built_in())).density.count(), 1.6, 1e-9)
      << "the tin's own figure holds";
  m.kcal_ml = KcalPerMl{0.9};
  EXPECT_EQ(std::get<reference::NotAssessed>(nest::read(m, built_in())).code, "MILK_DISAGREES");
}

TEST(Label, TheLastOneWrittenDownIsInUse) {
  Story s = hand_fed(500, 3);
  record::Milk other = milk_of(1.3);
  other.name = "another";
  s.tell(kNight, "", other);
  EXPECT_EQ(std::get<nest::Milk>(s.assess(kNight).feeding.milk).name, "another");
}

TEST(Weight, ATwoKilogramNewbornIsRefused) {
  Story s;
  s.born("1", kNight - hours(5), 2000).tell(kNight - hours(5), "", milk_of(1));
  by_hand(s, kNight - hours(5));
  EXPECT_EQ(no_plan_1(s), "TOO_HEAVY");
  EXPECT_THAT(why_not(s), HasSubstr("2000 g on day 1 is more than any pup weighs"));
  EXPECT_NE(find(s.assess(kNight), "FEED_UNKNOWN"), nullptr);
  Story giant;
  giant.born("1", kNight - hours(5), 800).tell(kNight - hours(5), "", milk_of(1));
  by_hand(giant, kNight - hours(5));
  EXPECT_EQ(no_plan_1(giant), "planned") << "the heaviest newborns there are";
}

TEST(Weight, NeverAStaleNorADoubtedOne) {
  Story s = hand_fed(500, 5);
  EXPECT_EQ(no_plan_1(s, kNight + hours(23)), "planned");
  EXPECT_EQ(no_plan_1(s, kNight + hours(24)), "STALE_WEIGHT");
  Story slip;
  slip.born("1", kNight - days(4), 400).tell(kNight - days(4), "", milk_of(1));
  by_hand(slip, kNight - days(4));
  for (int d = 3; d >= 1; --d) slip.weighed("1", 400 + 30 * (4 - d), kNight - days(d));
  slip.weighed("1", 5200, kNight);
  EXPECT_EQ(no_plan_1(slip), "DOUBTED_WEIGHT");
  Story none;
  none.born("1", kNight - hours(1)).tell(kNight - hours(1), "", milk_of(1));
  by_hand(none, kNight - hours(1));
  EXPECT_EQ(no_plan_1(none), "NO_WEIGHT");
}

TEST(Weight, TheSmoothedOneIsReckonedWith) {
  Story s = hand_fed(500, 5);
  s.weighed("1", 470, kNight - hours(12));
  const auto a = s.assess(kNight);
  const auto plan = std::get<nest::Plan>(pup_1(a).plan);
  EXPECT_TRUE(plan.weight.smoothed);
  EXPECT_EQ(plan.weight.grams, std::get<growth::Pace>(a.pups.at(0).pace).weight);
}

TEST(Day, WhatWasFedIsAddedUpWithTheMilkOfEachFeed) {
  Story s = hand_fed(500, 5);
  fed(s, 9, kNight - hours(25), 1);
  fed(s, 10, kNight - hours(20), 1);
  fed(s, 10, kNight - hours(10), 1.3);
  fed(s, 10, kNight - hours(2), {});
  const auto f = s.assess(kNight).feeding.pups.at(0).fed;
  EXPECT_EQ(f.feeds, 3);
  EXPECT_EQ(f.ml, Millilitres{30});
  EXPECT_NEAR(f.kcal.count(), 23, 1e-9);
  EXPECT_EQ(f.without_energy, 1);
  EXPECT_EQ(find(s.assess(kNight), "FED_SHORT"), nullptr) << "one feed's energy is not known: cannot tell";
}

TEST(Age, FromFourWeeksOnItEatsAndNobodyIsToldToBottleIt) {
  Story s = hand_fed(1500, 28.5);
  EXPECT_EQ(no_plan_1(s), "NO_REFERENCE");
  EXPECT_EQ(find(s.assess(kNight), "FEED_UNKNOWN"), nullptr);
}

}  // namespace
}  // namespace lampside::testing
