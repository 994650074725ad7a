// The plan of care over HTTP: a litter ticked with exceptions, a task refused as too early, the calendar and its feed.
#include <gtest/gtest.h>

#include "house.hpp"

namespace lampside::server::test {
namespace {

class CareTest : public ::testing::Test {
 protected:
  // Born in the night to 1 March; 15 March is day 14.
  House house{"2026-03-15T10:00:00+01:00"};
  void SetUp() override { house.with_pups(); }
  std::vector<record::Entry> done() {
    auto all = house.journal.all();
    std::erase_if(all, [](const auto& e) { return !record::body_as<record::Done>(e); });
    return all;
  }
  static Fields both(const std::string& task) {
    return {{"back", "care"}, {"task-0", task}, {"about-0", "1"}, {"on-0", "true"},
            {"task-1", task}, {"about-1", "2"}, {"id-1", id(501)}};
  }
};

TEST_F(CareTest, OneFormTicksManyAndLeavesTheExceptions) {
  const auto page = house.get("/l/juniper-2026/care");
  EXPECT_EQ(page.status, 200);
  EXPECT_TRUE(holds(page, "Worm the pups"));
  auto fields = both("worm");
  EXPECT_EQ(house.post("/l/juniper-2026/tick", fields).status, 303);
  ASSERT_EQ(done().size(), 1U);
  EXPECT_EQ(done().front().about, "1");
  fields.emplace_back("on-1", "true");
  EXPECT_EQ(house.post("/l/juniper-2026/tick", fields).status, 303);
  ASSERT_EQ(done().size(), 2U);  // pup 1 is done already and passed over
  EXPECT_EQ(done().back().about, "2");
}

TEST_F(CareTest, WhatOneTapTickedOneTapTakesBack) {
  auto fields = both("worm");
  fields.emplace_back("on-1", "true");
  fields.emplace_back("id", id(500));
  const auto where = house.post("/l/juniper-2026/tick", fields).header("location");
  const auto page = house.get(where);
  EXPECT_TRUE(holds(page, ", and 1 more")) << where;
  EXPECT_TRUE(holds(page, "name=\"strike-1\""));
  house.post("/l/juniper-2026/strike",
             {{"back", "care"}, {"id", id(510)}, {"strike", id(500)}, {"id-1", id(511)}, {"strike-1", id(501)}});
  int strikes = 0;
  for (const auto& e : house.journal.all()) strikes += record::body_as<record::Strike>(e) != nullptr;
  EXPECT_EQ(strikes, 2);
  EXPECT_TRUE(holds(house.get("/l/juniper-2026/care"), "name=\"task-0\"")) << "both are to be done again";
}

TEST_F(CareTest, AnOwnTaskForEachPupForTheBoxForOne) {
  const auto plan = [&](const std::string& what, const std::string& about) {
    return house
        .record({{"kind", "care_own"}, {"about", about}, {"what", what}, {"day", "2026-03-15"}, {"back", "care"}})
        .status;
  };
  EXPECT_EQ(plan("photograph", "pups"), 303);
  const auto* own = record::body_as<record::CareOwn>(house.last());
  ASSERT_TRUE(own);
  EXPECT_EQ(own->each_pup, true);
  EXPECT_EQ(house.last().about, "");
  EXPECT_EQ(plan("oil the door", "box"), 303);
  EXPECT_EQ(house.last().about, "box");
  EXPECT_EQ(plan("look at the eye", "2"), 303);
  EXPECT_EQ(plan("call the insurer", ""), 303);
  const auto page = house.get("/l/juniper-2026/care");
  for (const char* said :
       {"photograph: all 2 pups", "oil the door: the box", "look at the eye: pup 2", "call the insurer</h3>"})
    EXPECT_TRUE(holds(page, said)) << said;
}

TEST_F(CareTest, OnNowAReminderIsTickedAndPutOffWhereItStands) {
  house.turn_clock("2026-03-19T10:00:00+01:00");
  const auto page = house.get("/l/juniper-2026/now");
  EXPECT_TRUE(holds(page, "Tick it, or put it off"));
  EXPECT_TRUE(holds(page, "id=\"tick-worm-1\"")) << "the form that ticks with exceptions";
  EXPECT_TRUE(holds(page, "id=\"later-worm-1\"")) << "the form that puts off, with a reason";
  auto fields = both("worm");
  fields.front() = {"back", "now"};
  fields.emplace_back("on-1", "true");
  EXPECT_TRUE(house.post("/l/juniper-2026/tick", fields).header("location").starts_with("/l/juniper-2026/now"));
  EXPECT_FALSE(holds(house.get("/l/juniper-2026/now"), "id=\"tick-worm-1\""));
}

TEST_F(CareTest, TheSameFormTwiceIsOneEntryEach) {
  auto fields = both("worm");
  fields.emplace_back("on-1", "true");
  fields.emplace_back("id", id(500));
  house.post("/l/juniper-2026/tick", fields);
  EXPECT_EQ(house.post("/l/juniper-2026/tick", fields).status, 303);
  EXPECT_EQ(done().size(), 2U);
}

TEST_F(CareTest, AVaccineBeforeItsMinimumAgeIsRefusedUnlessItReallyWasGiven) {
  Fields fields{{"back", "care"}, {"task-0", "vaccine"}, {"about-0", "1"}, {"on-0", "true"}};
  const auto refused = house.post("/l/juniper-2026/tick", fields);
  EXPECT_EQ(refused.status, 422);
  EXPECT_TRUE(holds(refused, "CARE_TOO_EARLY"));
  EXPECT_TRUE(holds(refused, "is before Sun 12 Apr")) << "day 42";
  EXPECT_TRUE(done().empty());
  fields.emplace_back("anyway", "true");
  EXPECT_EQ(house.post("/l/juniper-2026/tick", fields).status, 303);
  EXPECT_TRUE(holds(house.get("/l/juniper-2026/now"), "Done before it counts"));
}

TEST_F(CareTest, NobodyTickedAndNoTask) {
  EXPECT_TRUE(holds(house.post("/l/juniper-2026/tick", {{"task-0", "worm"}, {"about-0", "1"}}), "Nobody is ticked"));
  EXPECT_EQ(house.post("/l/juniper-2026/tick", {}).status, 422);
  EXPECT_EQ(house.post("/l/juniper-2026/tick", {{"task-0", "no_such"}, {"about-0", "1"}, {"on-0", "true"}}).status,
            422);
  EXPECT_EQ(house.get("/l/juniper-2026/tick").status, 405);
}

TEST_F(CareTest, PutOffWithAReasonAndWithoutOne) {
  Fields fields{{"kind", "later"}, {"about", "1"}, {"back", "care"}, {"task", "worm"}, {"until", "2026-03-17"}};
  EXPECT_EQ(house.record(fields).status, 422);
  fields.emplace_back("why", "loose stool");
  EXPECT_EQ(house.record(fields).status, 303);
  EXPECT_TRUE(holds(house.get("/l/juniper-2026/care"), "put off to Tue 17 Mar"));
}

TEST_F(CareTest, TheCalendarAndItsFeed) {
  const auto file = house.get("/l/juniper-2026/calendar.ics");
  EXPECT_EQ(file.status, 200);
  EXPECT_TRUE(holds(file, "BEGIN:VCALENDAR juniper-2026"));
  EXPECT_EQ(file.headers.find("content-type")->second, "text/calendar; charset=utf-8");
  EXPECT_EQ(house.get("/feed/" + kFeed + "/juniper-2026.ics").body, file.body);
  EXPECT_TRUE(holds(house.get("/l/juniper-2026/care"), "/feed/" + kFeed + "/juniper-2026.ics"));
  EXPECT_EQ(house.get("/feed/" + std::string(32, 'a') + "/juniper-2026.ics").status, 404);
  EXPECT_EQ(house.get("/feed/" + kFeed + "/other.ics").status, 404);
  EXPECT_EQ(house.get("/feed/" + kFeed + "/juniper-2026").status, 404);
  EXPECT_EQ(house.get("/feed/" + kFeed).status, 404);
}

TEST_F(CareTest, RecordsSayWhatIsMissing) {
  const auto page = house.get("/l/juniper-2026/records");
  EXPECT_EQ(page.status, 200);
  EXPECT_TRUE(holds(page, "missing for all 2"));
}

}  // namespace
}  // namespace lampside::server::test
