// Supplies over HTTP: amounts as typed, what is refused, and what an earlier litter left.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "house.hpp"
#include "server/app.hpp"

namespace lampside::server {
namespace {

using test::House;
using test::id;
using ::testing::HasSubstr;
using ::testing::Not;

struct SuppliesTest : ::testing::Test {
  SuppliesTest() { house.with_pups(); }
  record::Stock last() { return *record::body_as<record::Stock>(house.last()); }
  House house;
};

TEST_F(SuppliesTest, AmountsAreUnderstoodAsTyped) {
  ASSERT_EQ(house
                .record({{"kind", "stock"},
                         {"item", "milk replacer, powder"},
                         {"pack", "400 g"},
                         {"have", "2 packs"},
                         {"cost", "12,50"},
                         {"expires", "2027-01-31"},
                         {"back", "supplies?item=milk#item"}})
                .status,
            303);
  EXPECT_EQ(last().have, Amount{800});
  EXPECT_EQ(last().cost, Money{12.5});
  EXPECT_EQ(to_iso(*last().expires), "2027-01-31");
  EXPECT_THAT(house.get("/l/juniper-2026/log").body, HasSubstr("800 g in the house"));
  EXPECT_THAT(house.get("/l/juniper-2026/supplies?item=milk+replacer%2C+powder").body, HasSubstr("value=\"12.50\""));
  // The size of a pack is remembered.
  ASSERT_EQ(house.record({{"kind", "stock"}, {"item", "Milk replacer, g"}, {"have", "0,5 packs"}}).status, 303);
  EXPECT_EQ(last().have, Amount{200});
}

TEST_F(SuppliesTest, BackLeadsToTheSamePlaceOnTheScreen) {
  const auto a =
      house.record({{"kind", "stock"}, {"item", "torch"}, {"have", "1"}, {"back", "supplies#shop"}, {"id", id(50)}});
  EXPECT_EQ(a.header("location"), "/l/juniper-2026/supplies?did=" + id(50) + "#shop");
}

TEST_F(SuppliesTest, WhatCannotBeIsRefusedAndNothingTypedIsLost) {
  const auto before = house.journal.all().size();
  const auto refused = [&](test::Fields fields, const char* why) {
    fields.emplace_back("kind", "stock");
    fields.emplace_back("back", "supplies?item=towels%2C%20small");
    const auto a = house.record(std::move(fields));
    EXPECT_EQ(a.status, 422) << why;
    EXPECT_THAT(a.body, HasSubstr(why));
    return a;
  };
  refused({{"item", "towels, small"}, {"have", "2 packs"}}, "how much is in one pack is not known");
  EXPECT_THAT(refused({{"item", "towels, small"}, {"have", "-3"}}, "less than nothing").body,
              HasSubstr("value=\"-3\""));
  refused({{"item", "towels, small"}, {"have", "a few"}}, "have");
  refused({{"item", "towels, small"}, {"have", "3 kg"}}, "counted in pieces");
  refused({{"item", ""}, {"have", "3"}}, "no name");
  refused({{"item", "Oxytocin 10 IU"}, {"have", "1"}}, "for a vet to give");
  refused({{"item", "towels, small"}, {"expires", "31.1.2027"}}, "date");
  EXPECT_EQ(house.journal.all().size(), before);
}

TEST_F(SuppliesTest, WhatThePageShowedAndTheKeeperEmptiedIsCleared) {
  house.record({{"kind", "stock"}, {"item", "torch"}, {"have", "2"}, {"expires", "2027-01-31"}, {"days_before", "40"}});
  const auto page = house.get("/l/juniper-2026/supplies?item=torch");
  EXPECT_THAT(page.body, HasSubstr("name=\"shown\" value=\"expires days_before\""));
  EXPECT_THAT(page.body, HasSubstr("value=\"2027-01-31\""));
  // In the same second the later id is the later word.
  const test::Fields emptied{{"kind", "stock"},   {"item", "torch"}, {"shown", "expires days_before"},
                             {"have_shown", "2"}, {"have", "2"},     {"expires", ""},
                             {"days_before", ""}, {"cost", ""},      {"id", id(60000)}};
  ASSERT_EQ(house.record(emptied).status, 303);
  EXPECT_EQ(last().cleared, "expires days_before");
  EXPECT_FALSE(last().have) << "sent back as it was shown it is no new count";
  EXPECT_THAT(house.get("/l/juniper-2026/log").body,
              HasSubstr("no longer written down: when it goes out of date, how early"));
  EXPECT_EQ(house.record(emptied).status, 303) << "a double tap is a replay";
  EXPECT_THAT(house.get("/l/juniper-2026/supplies?item=torch").body, Not(HasSubstr("2027-01-31")));
}

TEST_F(SuppliesTest, IntoTheCarOrOutOfItOnlyWhenTheKeeperSaysSo) {
  const auto saved = [&](const char* car) {
    EXPECT_EQ(house.record({{"kind", "stock"}, {"item", "torch"}, {"cost", "9"}, {"car_shown", "false"}, {"car", car}})
                  .status,
              303);
    return last().car;
  };
  EXPECT_FALSE(saved("false").has_value()) << "as it was shown: nothing is said";
  EXPECT_EQ(saved("true"), true);
}

TEST_F(SuppliesTest, OneTapTakesOneOffAndPacksAreUnderstood) {
  house.record({{"kind", "stock"}, {"item", "gloves, disposable"}, {"have", "10"}, {"where", "kit"}});
  EXPECT_THAT(house.get("/l/juniper-2026/supplies").body, HasSubstr("name=\"used\" value=\"1\""));
  ASSERT_EQ(house.record({{"kind", "stock"}, {"item", "gloves, disposable"}, {"used", "1"}}).status, 303);
  EXPECT_THAT(house.get("/l/juniper-2026/supplies?item=gloves%2C%20disposable").body, HasSubstr("Now: 9 pairs"));
  house.record({{"kind", "stock"}, {"item", "milk replacer, powder"}, {"pack", "400"}, {"have", "2 packs"}});
  ASSERT_EQ(house.record({{"kind", "stock"}, {"item", "milk replacer, powder"}, {"used", "1 pack"}}).status, 303);
  EXPECT_EQ(last().used, Amount{400});
  EXPECT_EQ(house.record({{"kind", "stock"}, {"item", "torch"}, {"used", "-1"}}).status, 422);
  EXPECT_EQ(house.record({{"kind", "stock"}, {"item", "torch"}, {"used", "0"}}).status, 422);
}

TEST_F(SuppliesTest, ATinThatIsBegunIsAskedSinceWhen) {
  house.record({{"kind", "stock"}, {"item", "milk replacer, powder"}, {"have", "800"}, {"keeps_open_d", "30"}});
  EXPECT_THAT(house.get("/l/juniper-2026/supplies").body, Not(HasSubstr("When was it opened?")));
  house.record({{"kind", "stock"}, {"item", "milk replacer, powder"}, {"used", "50"}});
  EXPECT_THAT(house.get("/l/juniper-2026/supplies").body, HasSubstr("When was it opened?"));
  house.record({{"kind", "stock"}, {"item", "milk replacer, powder"}, {"opened", "2026-02-01"}});
  EXPECT_THAT(house.get("/l/juniper-2026/supplies").body, Not(HasSubstr("When was it opened?")));
  EXPECT_THAT(house.get("/l/juniper-2026/supplies?item=milk%20replacer%2C%20powder").body, HasSubstr("Open since"));
}

TEST_F(SuppliesTest, TheNextLitterTakesOverWhatWasLeftAndOnlyOnce) {
  house.record({{"kind", "stock"}, {"item", "torch"}, {"have", "2"}});
  house.record({{"kind", "stock"}, {"item", "fleece"}, {"have", "3"}, {"need_per_pup", "1"}, {"unit", "m"}});
  house.record({{"kind", "stock"}, {"item", "antiseptic for the cord"}, {"have", "1"}, {"expires", "2026-05-01"}});
  house.post("/start", {{"dam_name", "Sorrel"}, {"zone", "Europe/Berlin"}, {"litter", "sorrel"}});
  // The earlier litter is two days old and needs its things itself.
  EXPECT_THAT(house.get("/l/sorrel/supplies").body, Not(HasSubstr("Take it over")));
  house.turn_clock("2026-06-01T10:00:00+02:00");
  EXPECT_THAT(house.get("/l/sorrel/supplies").body, HasSubstr("Take it over"));
  for (int tap = 0; tap < 2; ++tap) EXPECT_EQ(house.post("/l/sorrel/carry", {{"from", "juniper-2026"}}).status, 303);
  std::map<std::string, record::Stock> over;
  for (const auto& e : house.journal.all())
    if (const auto* s = record::body_as<record::Stock>(e); s && e.litter == "sorrel") {
      EXPECT_TRUE(over.emplace(s->item, *s).second) << s->item << " was taken over twice";
      EXPECT_EQ(s->from, "juniper-2026");
    }
  ASSERT_EQ(over.size(), 3U);
  EXPECT_EQ(over["torch"].have, Amount{2});
  EXPECT_EQ(over["fleece"].need_per_pup, Amount{1});
  EXPECT_EQ(over["antiseptic for the cord"].have, Amount{0});  // out of date
  EXPECT_THAT(house.get("/l/sorrel/supplies").body, Not(HasSubstr("Take it over")));
}

}  // namespace
}  // namespace lampside::server
