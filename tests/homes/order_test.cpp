// Whose turn it is and why: deposits, passes, withdrawals, deaths, the keeper's own picks, two phones.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "told.hpp"

namespace lampside::homes {
namespace {

using namespace lampside::testing;
using record::FamilyStatus;
using record::PickOrder;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// f1 noted first but paid last; f2 paid first; f3 never paid.
Story three(int litter = 5) {
  Story story = pups(litter);
  story.tell(kNight - days(30), "", family("f1")).tell(kNight - days(29), "", family("f2"));
  story.tell(kNight - days(28), "", family("f3"));
  story.tell(kNight - days(20), "", deposit("f2", 200)).tell(kNight - days(10), "", deposit("f1", 200));
  return story;
}
Story& then(Story& story, int day, const std::string& pup, record::Body body) {
  return story.tell(kNight + days(day), pup, std::move(body));
}

TEST(Order, IsByDayOfDepositAndSaysSo) {
  const auto order = order_of(three());
  ASSERT_EQ(order.families.size(), 3u);
  EXPECT_EQ(order.families[0].family, "f2");
  EXPECT_EQ(order.families[1].family, "f1");
  EXPECT_EQ(order.families[2].family, "f3");
  EXPECT_EQ(order.next, "f2");
  EXPECT_THAT(order.why, HasSubstr("deposit came on Tue 15 Sep"));
  EXPECT_THAT(order.free_pups, ElementsAre("1", "2", "3", "4", "5"));
}

TEST(Order, APickHandsTheTurnOnAndAPassKeepsThePlace) {
  Story story = three();
  then(story, 30, "3", choice(ChoiceMade::pick, "f2"));
  EXPECT_EQ(next_of(story), "f1");
  then(story, 31, "", choice(ChoiceMade::pass, "f1"));
  EXPECT_EQ(next_of(story), "f3");
  EXPECT_THAT(order_of(story).why, HasSubstr("1 before them passed and keeps the place"));
  then(story, 32, "1", choice(ChoiceMade::pick, "f3"));
  EXPECT_EQ(next_of(story), "f1") << "all others have had their turn";
  EXPECT_EQ(order_of(story).family("f1")->place, 2);
  EXPECT_THAT(order_of(story).skipped, IsEmpty());
}

TEST(Order, AWithdrawalFreesThePupAndWhoPassedIsAskedFirstAgain) {
  Story story = three();
  then(story, 30, "3", choice(ChoiceMade::pick, "f2"));
  then(story, 31, "", choice(ChoiceMade::pass, "f1"));
  then(story, 33, "", family("f2", FamilyStatus::withdrawn));
  const auto order = order_of(story);
  EXPECT_EQ(order.next, "f1");
  EXPECT_THAT(order.free_pups, ElementsAre("1", "2", "3", "4", "5"));
  EXPECT_TRUE(order.family("f2")->withdrawn);
  then(story, 34, "", family("f2", FamilyStatus::waiting));
  EXPECT_EQ(next_of(story), "f2") << "put back on the list they have their old place";
}

TEST(Order, APupThatDiesGivesItsFamilyTheTurnBack) {
  Story story = three();
  then(story, 30, "3", choice(ChoiceMade::pick, "f2"));
  then(story, 31, "3", record::Death{});
  const auto order = order_of(story);
  EXPECT_EQ(order.next, "f2");
  EXPECT_THAT(order.free_pups, ElementsAre("1", "2", "4", "5"));
}

TEST(Order, TheKeepersOwnPicksComeFirst) {
  Story story = three();
  then(story, 1, "", rule(PickOrder::deposit, 2));
  EXPECT_EQ(next_of(story), "");
  EXPECT_THAT(order_of(story).why, HasSubstr("2 of 2 still to come"));
  then(story, 2, "5", choice(ChoiceMade::pick, ""));
  EXPECT_EQ(next_of(story), "");
  then(story, 3, "", choice(ChoiceMade::pass, ""));
  EXPECT_EQ(next_of(story), "f2");
  EXPECT_EQ(order_of(story).owner("5"), std::string(kKeeper));
}

TEST(Order, NothingIsChosenBeforeTheDayThatTheRuleNames) {
  Story story = three();
  record::PickRule later = rule(PickOrder::deposit);
  later.opens = Zone{}.day_of(kNight + days(49));
  then(story, 1, "", later);
  EXPECT_EQ(order_of(story, kNight + days(48)).next, std::nullopt);
  EXPECT_THAT(order_of(story, kNight + days(48)).why, HasSubstr("opens on"));
  EXPECT_EQ(order_of(story, kNight + days(49)).next, "f2");
}

TEST(Order, UnderTheKeepersMatchNobodyIsNextAndEveryPickNeedsAReason) {
  Story story = three();
  then(story, 1, "", rule(PickOrder::match));
  const auto order = order_of(story);
  EXPECT_EQ(order.next, std::nullopt);
  const auto litter = story.litter();
  EXPECT_EQ(may_choose(order, litter, choice(ChoiceMade::pick, "f3"), "1").error().code, "HOMES_TURN");
  EXPECT_TRUE(may_choose(order, litter, choice(ChoiceMade::pick, "f3", "calm, for a calm house"), "1"));
}

TEST(Order, MorePupsThanFamiliesAndMoreFamiliesThanPups) {
  Story many = three(5);
  for (const auto& [pup, who] : {std::pair{"1", "f2"}, {"2", "f1"}, {"3", "f3"}})
    then(many, 30, pup, choice(ChoiceMade::pick, who));
  EXPECT_EQ(order_of(many).next, std::nullopt);
  EXPECT_THAT(order_of(many).free_pups, ElementsAre("4", "5"));
  Story few = three(1);
  then(few, 30, "1", choice(ChoiceMade::pick, "f2"));
  EXPECT_EQ(order_of(few).next, std::nullopt);
  EXPECT_EQ(order_of(few).why, "no pup is free");
}

TEST(Order, TwoPhonesPickOnePup) {
  Story story = three();
  then(story, 30, "3", choice(ChoiceMade::pick, "f2"));
  then(story, 30, "3", choice(ChoiceMade::pick, "f1"));
  const auto order = order_of(story);
  ASSERT_EQ(order.contested.size(), 1u);
  EXPECT_THAT(order.contested[0].by, ElementsAre("f2", "f1"));
  EXPECT_EQ(order.owner("3"), std::nullopt) << "no clock decides";
  EXPECT_EQ(may_choose(order, story.litter(), choice(ChoiceMade::pick, "f3"), "3").error().code, "HOMES_TAKEN");
  EXPECT_TRUE(may_choose(order, story.litter(), choice(ChoiceMade::release, "f1"), "3"));
  then(story, 31, "3", choice(ChoiceMade::release, "f1"));
  EXPECT_EQ(order_of(story).owner("3"), "f2");
}

TEST(Order, WhoMayNotChooseIsToldWhy) {
  Story story = three();
  then(story, 30, "3", choice(ChoiceMade::pick, "f2"));
  story.born("9", kNight, 400, false);
  const auto code = [&](const record::Choice& c, const std::string& pup) {
    const auto may = may_choose(order_of(story), story.litter(), c, pup);
    return may ? std::string{} : may.error().code;
  };
  EXPECT_EQ(code(choice(ChoiceMade::pick, "f3"), "1"), "HOMES_TURN");
  EXPECT_EQ(code(choice(ChoiceMade::pick, "f3", "f1 is abroad and agreed"), "1"), "");
  EXPECT_EQ(code(choice(ChoiceMade::pick, "f1"), "3"), "HOMES_TAKEN");
  EXPECT_EQ(code(choice(ChoiceMade::pick, "f2"), "1"), "HOMES_HAS_ONE");
  EXPECT_EQ(code(choice(ChoiceMade::pick, "f1"), "9"), "HOMES_PUP");
  EXPECT_EQ(code(choice(ChoiceMade::pick, "f1"), "77"), "HOMES_PUP");
  EXPECT_EQ(code(choice(ChoiceMade::pick, "f7"), "1"), "HOMES_FAMILY");
  EXPECT_EQ(code(choice(ChoiceMade::pass, "f2"), ""), "HOMES_FAMILY");
  EXPECT_EQ(code(choice(ChoiceMade::release, "f1"), "3"), "HOMES_NOT_THEIRS");
}

TEST(Order, WhoHasTakenItHomeDoesNotGiveItUpByATap) {
  Story story = three();
  then(story, 30, "3", choice(ChoiceMade::pick, "f2"));
  record::Handover handover{};
  handover.family = "f2";
  then(story, 56, "3", handover);
  EXPECT_TRUE(order_of(story).family("f2")->gone);
  EXPECT_EQ(may_choose(order_of(story), story.litter(), choice(ChoiceMade::release, "f2"), "3").error().code,
            "HOMES_PUP");
}

TEST(Order, ARuleChangedLaterDoesNotJudgeWhatWasRightThen) {
  Story story = three();
  then(story, 30, "3", choice(ChoiceMade::pick, "f2"));
  then(story, 31, "", rule(PickOrder::match));
  EXPECT_THAT(order_of(story).skipped, IsEmpty());
}

TEST(Order, ADepositGivenBackLosesThePlaceItBought) {
  Story story = three();
  then(story, 1, "", deposit("f2", 200, true));
  EXPECT_EQ(next_of(story), "f1");
}

}  // namespace
}  // namespace lampside::homes
