// Turns, the dam's food, the lamp and whose warmth is followed over HTTP: taken as typed, refused with advice and
// nothing lost.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "house.hpp"
#include "server/app.hpp"

namespace lampside::server {
namespace {

using test::House;
using ::testing::HasSubstr;

struct NestTurnsTest : ::testing::Test {
  NestTurnsTest() { house.with_pups(); }
  House house;
};

TEST_F(NestTurnsTest, TeatsSessionAndNight) {
  ASSERT_EQ(house
                .record({{"kind", "teat_turns"},
                         {"on", "true"},
                         {"teats", "8"},
                         {"session_min", "45"},
                         {"night_from_h", "22"},
                         {"night_to_h", "5"},
                         {"back", "nest#turns"}})
                .status,
            303);
  const auto t = *record::body_as<record::TeatTurns>(house.last());
  EXPECT_EQ(t.teats, 8);
  EXPECT_EQ(t.night_from_h, 22);
  for (const auto& [typed, why] : {std::pair{"0", "1 to 14"}, {"40", "1 to 14"}, {"eight", "teats"}}) {
    const auto a = house.record({{"kind", "teat_turns"}, {"on", "true"}, {"teats", typed}, {"back", "nest#turns"}});
    EXPECT_EQ(a.status, 422) << typed;
    EXPECT_THAT(a.body, HasSubstr(why));
  }
}

TEST_F(NestTurnsTest, HerFoodFromItsLabel) {
  ASSERT_EQ(house.record({{"kind", "food"}, {"name", "Dry food"}, {"kcal_100g", "395"}, {"back", "nest#plate"}}).status,
            303);
  EXPECT_EQ(record::body_as<record::Food>(house.last())->kcal_100g, Kilocalories{395});
  const auto before = house.journal.all().size();
  EXPECT_EQ(house.record({{"kind", "food"}, {"name", "Dry food"}, {"kcal_100g", "39500"}}).status, 422);
  EXPECT_EQ(house.record({{"kind", "food"}, {"kcal_100g", "395"}}).status, 422) << "a food has a name";
  EXPECT_EQ(house.journal.all().size(), before);
}

TEST_F(NestTurnsTest, ALampOfNoWattsIsRefusedAndSaysWhatWould) {
  for (const char* watts : {"0", "-5", "0,2", "2500", "bright"}) {
    const auto before = house.journal.all().size();
    const auto a = house.record({{"kind", "lamp"}, {"watts", watts}, {"cm", "80"}, {"back", "nest"}});
    EXPECT_EQ(a.status, 422) << watts;
    EXPECT_EQ(house.journal.all().size(), before);
    EXPECT_THAT(a.body, HasSubstr("80")) << "what was typed is not lost";
  }
  EXPECT_THAT(house.record({{"kind", "lamp"}, {"watts", "0"}, {"cm", "80"}, {"back", "nest"}}).body,
              HasSubstr("1 to 1000"));
  EXPECT_EQ(house.record({{"kind", "lamp"}, {"watts", "150"}, {"cm", "80"}, {"back", "nest"}}).status, 303);
}

TEST_F(NestTurnsTest, WhoseWarmthIsFollowed) {
  ASSERT_EQ(
      house
          .record(
              {{"kind", "care_choice"}, {"topic", "box_target"}, {"set", "university"}, {"back", "nest#box-sources"}})
          .status,
      303);
  EXPECT_EQ(record::body_as<record::CareChoice>(house.last())->set, "university");
}

}  // namespace
}  // namespace lampside::server
