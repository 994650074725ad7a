// On which days: across a leap day, a year's end and the changing of clocks; and how the days move.
#include <gtest/gtest.h>

#include "story.hpp"

namespace lampside::care::testing {
namespace {

struct Row {
  const char* task;
  const char* best;
};

/// The days on which windows close, too: the vet's look by day 5, early handling to day 16; and day 105 of the older
/// schedule of vaccines.
void expect_ends(const char* born, const char* day5, const char* day16, const char* day105) {
  const auto plan =
      Story{}.born(born, 2).choose("early_handling", "handling_3_16").choose("vaccination", "vac_8wk").plan(born);
  EXPECT_EQ(to_iso(item(plan, "vet_check", "2")->closes), day5);
  EXPECT_EQ(to_iso(item(plan, "handling", "2")->closes), day16);
  EXPECT_EQ(to_iso(item(plan, "vaccine_last", "2")->best), day105);
}

void expect_days(const char* born, std::initializer_list<Row> rows) {
  const auto plan = Story{}.born(born, 2).choose("early_handling", "handling_3_16").plan(born);
  for (const auto& row : rows) {
    const auto* i = item(plan, row.task, "2");
    if (!i) i = item(plan, row.task);
    ASSERT_TRUE(i) << row.task;
    EXPECT_EQ(to_iso(i->best), row.best) << row.task << " of a litter born " << born;
  }
}

// Own arithmetic on the calendar, done by hand: a leap day lies between. Day 3, 14, 28, 42, 49, 56, 84, 112, 182.
TEST(Dates, AcrossALeapDay) {
  expect_days("2024-02-20", {{"handling", "2024-02-23"},
                             {"worm", "2024-03-05"},
                             {"worm.2", "2024-03-19"},
                             {"vaccine", "2024-04-02"},
                             {"chip", "2024-04-09"},
                             {"worm.4", "2024-04-16"},
                             {"handover", "2024-04-16"},
                             {"vaccine.3", "2024-05-14"},
                             {"vaccine_last", "2024-06-11"},
                             {"vaccine_booster", "2024-08-20"}});
  expect_ends("2024-02-20", "2024-02-25", "2024-03-07", "2024-06-04");
}

TEST(Dates, AcrossAYearsEnd) {
  expect_days("2025-12-25", {{"handling", "2025-12-28"},
                             {"worm", "2026-01-08"},
                             {"worm.2", "2026-01-22"},
                             {"vaccine", "2026-02-05"},
                             {"chip", "2026-02-12"},
                             {"worm.4", "2026-02-19"},
                             {"handover", "2026-02-19"},
                             {"vaccine.3", "2026-03-19"},
                             {"vaccine_last", "2026-04-16"},
                             {"vaccine_booster", "2026-06-25"}});
  expect_ends("2025-12-25", "2025-12-30", "2026-01-10", "2026-04-09");
}

// London, 2026: clocks go forward on 29 March. Born 23:30 local on 15 March (GMT); day 14 is 29 March, day 28 12 April:
// days are counted on the calendar, not in spans of 24 hours (which would give 30 March, 00:30).
TEST(Dates, AcrossTheChangingOfClocks) {
  const Instant change = std::chrono::sys_days{std::chrono::year{2026} / 3 / 29} + std::chrono::hours{1};
  const Zone london{"Europe/London", Minutes{0}, {{change, Minutes{60}, "BST"}}};
  Story story{london};
  story.tell(std::chrono::sys_days{std::chrono::year{2026} / 3 / 15} + std::chrono::hours{23} + Minutes{30}, "1",
             record::Birth{});
  const auto plan = story.plan("2026-03-16");
  EXPECT_EQ(to_iso(item(plan, "worm")->best), "2026-03-29");
  EXPECT_EQ(to_iso(item(plan, "worm.2")->best), "2026-04-12");
  EXPECT_EQ(to_iso(*plan.day0), "2026-03-15");
  // The last day lasts until midnight on the wall, 23:00 UTC.
  const auto at = [&](int h, int m) {
    const Instant t = std::chrono::sys_days{std::chrono::year{2026} / 4 / 1} + std::chrono::hours{h} + Minutes{m};
    return care::plan(story.litter(), reference::built_in(), t, {});
  };
  EXPECT_EQ(item(at(22, 59), "worm")->state, State::last_day);
  EXPECT_EQ(item(at(23, 0), "worm")->state, State::overdue);
}

// Fenbendazole by the European guideline: pregnancy day 40 to 2 days after whelping. By hand: mated 1 June; 63 days to
// 3 August is 26 days of treatment; whelping on day 60 (31 July) leaves 23, and only the end has moved.
TEST(Dates, AWindowEndsWithTheRealWhelping) {
  Story story;
  story.on("2026-06-01", "dam", record::Mating{}).choose("worming_before_birth", "before_40_2");
  const auto length = [](const Item* i) { return (i->closes - i->opens).count() + 1; };
  const auto before = story.plan("2026-07-01", story.noon("2026-08-03"));
  EXPECT_EQ(length(item(before, "before_worming_daily_2")), 26);
  EXPECT_EQ(to_iso(item(before, "before_worming_daily_2")->opens), "2026-07-11");
  const auto after = story.born("2026-07-31", 1).plan("2026-07-31");
  EXPECT_EQ(length(item(after, "before_worming_daily_2")), 23);
  EXPECT_EQ(to_iso(item(after, "before_worming_daily_2")->opens), "2026-07-11");
  // The study in the United States: to day 14 after whelping, 38 days for a term of 63.
  Story study;
  study.on("2026-06-01", "dam", record::Mating{}).choose("worming_before_birth", "before_40_14");
  EXPECT_EQ(length(item(study.plan("2026-07-01", study.noon("2026-08-03")), "before_worming_daily_14")), 38);
}

TEST(Dates, TheForecastMovesThePlanAndTheBirthSettlesIt) {
  Story story;
  story.on("2026-06-01", "dam", record::Mating{});
  const auto early = story.plan("2026-07-20", story.noon("2026-08-02"));
  const auto late = story.plan("2026-07-20", story.noon("2026-08-05"));
  EXPECT_EQ(say(early, "xray_count"), "waiting 2026-07-25 (2026-07-21 to 2026-07-30)");
  EXPECT_EQ(say(late, "xray_count"), "waiting 2026-07-28 (2026-07-24 to 2026-08-02)");
  EXPECT_EQ(to_iso(item(early, "worm")->best), "2026-08-16");
  EXPECT_TRUE(item(early, "worm")->expected);
  EXPECT_EQ(item(early, "worm")->about, "");
  const auto born = story.born("2026-08-01", 3).plan("2026-08-01");
  EXPECT_EQ(to_iso(item(born, "worm", "3")->best), "2026-08-15");
  EXPECT_FALSE(item(born, "worm", "3")->expected);
  EXPECT_EQ(item(born, "xray_count")->state, State::missed);  // nothing to count any more
}

TEST(Dates, EuropeanWormingEndsTwoWeeksAfterWeaning) {
  Story story;
  story.born("2026-01-01", 1).choose("worming", "worm_weaning");
  // Weaned on day 49 as planned: the fortnights end on day 63, so the round of day 56 is the last.
  EXPECT_TRUE(item(story.plan("2026-01-02"), "worm.4"));
  EXPECT_FALSE(item(story.plan("2026-01-02"), "worm.5"));
  story.done("2026-02-26", "weaned", "");  // day 56: to day 70
  EXPECT_TRUE(item(story.plan("2026-02-27"), "worm.5"));
  EXPECT_EQ(to_iso(item(story.plan("2026-02-27"), "worm_monthly")->best), "2026-04-11");
}

TEST(Dates, TheLawOfThePlaceShapesThem) {
  const auto chip = [](const char* place) {
    return say(Story{}.place(place).born("2026-01-01", 1).plan("2026-01-01"), "chip");
  };
  EXPECT_EQ(chip("GB-ENG"), "waiting 2026-02-19 (2026-02-12 to 2026-02-26)");  // by 8 weeks
  EXPECT_EQ(chip("IE"), "waiting 2026-02-19 (2026-02-12 to 2026-03-26)");      // by 12 weeks
  EXPECT_EQ(chip("AU-NSW"), "waiting 2026-02-19 (2026-02-12 to 2026-03-26)");
  const auto leaves = [](const char* place) {
    return to_iso(item(Story{}.place(place).born("2026-01-01", 1).plan("2026-01-01"), "handover")->opens);
  };
  EXPECT_EQ(leaves("GB-ENG"), "2026-02-26");  // day 56
  EXPECT_EQ(leaves("FR"), "2026-02-27");      // more than 8 weeks
  EXPECT_EQ(leaves("US-VA"), "2026-02-26");   // 7 weeks by law, and the plan does not go below 8
  // England: no journeys after day 54, nor in the 48 hours after whelping; elsewhere the row is not there.
  Story story;
  story.place("GB-ENG").on("2026-06-01", "dam", record::Mating{});
  EXPECT_EQ(say(story.plan("2026-07-01", story.noon("2026-08-03")), "no_journeys"),
            "waiting 2026-07-25 (2026-07-25 to 2026-08-05)");
  Story nowhere;
  nowhere.on("2026-06-01", "dam", record::Mating{});
  EXPECT_FALSE(item(nowhere.plan("2026-07-01", nowhere.noon("2026-08-03")), "no_journeys"));
  EXPECT_FALSE(item(Story{}.place("DE").born("2026-01-01", 1).plan("2026-01-01"), "commitment"));
  EXPECT_EQ(to_iso(item(Story{}.place("FR").born("2026-01-01", 1).plan("2026-01-01"), "commitment")->best),
            "2026-02-20");
}

}  // namespace
}  // namespace lampside::care::testing
