// Milk by hand over HTTP: the tin's label, the decision, a feed by one tap.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "house.hpp"
#include "server/app.hpp"

namespace lampside::server {
namespace {

using test::House;
using test::id;
using ::testing::HasSubstr;

struct FeedingTest : ::testing::Test {
  FeedingTest() { house.with_pups(); }
  House house;
};

TEST_F(FeedingTest, ATinIsUnderstoodAsTyped) {
  ASSERT_EQ(house
                .record({{"kind", "milk"},
                         {"name", "puppy milk"},
                         {"kcal_ml", ""},
                         {"powder_g", "30"},
                         {"water_ml", "70"},
                         {"powder_kcal_g", "5,4"},
                         {"back", "nest#milk"}})
                .status,
            303);
  const auto milk = *record::body_as<record::Milk>(house.last());
  EXPECT_EQ(milk.powder_kcal_g, 5.4);
  EXPECT_FALSE(milk.kcal_ml);
  ASSERT_EQ(house.record({{"kind", "milk"}, {"name", "another"}}).status, 303)
      << "a tin whose energy is not known is written down all the same";
}

TEST_F(FeedingTest, WhatNoMilkCanBeIsRefusedWithAdviceAndNothingIsLost) {
  const auto before = house.journal.all().size();
  for (const auto& [typed, why] : {std::pair{"14", "0.1 to 5"}, {"0.14", "Read the tin again"}, {"a lot", "kcal_ml"}}) {
    const auto a = house.record({{"kind", "milk"}, {"name", "puppy milk"}, {"kcal_ml", typed}, {"back", "nest#milk"}});
    EXPECT_EQ(a.status, 422) << typed;
    EXPECT_THAT(a.body, HasSubstr(why));
    EXPECT_THAT(a.body, HasSubstr(std::string("value=\"") + typed + "\""));
  }
  EXPECT_EQ(house.journal.all().size(), before);
}

TEST_F(FeedingTest, TheDecisionAndAFeedByOneTap) {
  ASSERT_EQ(house.record({{"kind", "hand_feeding"}, {"about", "1"}, {"share", "top_up"}, {"way", "bottle"}}).status,
            303);
  EXPECT_EQ(record::body_as<record::HandFeeding>(house.last())->share, record::FeedShare::top_up);
  EXPECT_EQ(house.record({{"kind", "hand_feeding"}, {"about", "1"}}).status, 422) << "which share was not said";
  const test::Fields tap{{"kind", "feed"},          {"about", "1"},   {"ml", "6.5"},
                         {"kcal_ml", "1"},          {"by", "bottle"}, {"id", id(70)},
                         {"back", "nest#milk-of-1"}};
  EXPECT_EQ(house.record(tap).header("location"), "/l/juniper-2026/nest?did=" + id(70) + "#milk-of-1");
  const auto n = house.journal.all().size();
  EXPECT_EQ(house.record(tap).status, 303);
  EXPECT_EQ(house.journal.all().size(), n) << "a double tap is one feed";
}

}  // namespace
}  // namespace lampside::server
