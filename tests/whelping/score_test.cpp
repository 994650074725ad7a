// Newborn scores against the printed bands.
#include <gtest/gtest.h>

#include "../advice/printed.hpp"
#include "../advice/story.hpp"

namespace lampside::testing {
namespace {

// Veronesi et al. 2009, Theriogenology 72:401-407, abstract: 0-3 severe distress, 4-6 moderate distress, 7-10 none.
std::string printed(int total) {
  if (total <= 3) return "emergency SCORE_SEVERE";
  return total <= 6 ? "act SCORE_MODERATE" : "";
}

TEST(NewbornScore, EveryTotalFallsInItsPrintedBand) {
  for (int total = 0; total <= 10; ++total) {
    const auto a = Story{}.born("1", kNight - minutes(10), 400).scored("1", total, kNight - minutes(5)).assess(kNight);
    std::string got;
    for (const auto& f : a.findings)
      if (f.code.starts_with("SCORE_"))
        got += (got.empty() ? "" : " and ") + fmt::format("{} {}", name_of(f.level), f.code);
    EXPECT_TRUE(as_printed("newborn score",
                           "Veronesi et al. 2009, Theriogenology 72:401-407, abstract: bands 0-3, 4-6, 7-10",
                           fmt::format("total {}", total), printed(total), got));
  }
}

// All 3^5 ways of scoring five items 0, 1 or 2.
TEST(NewbornScore, AllCombinationsGiveThePrintedBand) {
  int n = 0;
  for (int code = 0; code < 243; ++code) {
    int items[5], rest = code, total = 0;
    for (int& item : items) item = rest % 3, rest /= 3, total += item;
    Story s;
    s.born("1", kNight - minutes(10), 400);
    s.tell(kNight - minutes(5), "1", record::NewbornScore{items[0], items[1], items[2], items[3], items[4]});
    const auto a = s.assess(kNight);
    std::string got;
    for (const auto& f : a.findings)
      if (f.code.starts_with("SCORE_")) got += fmt::format("{} {}", name_of(f.level), f.code);
    EXPECT_EQ(got, printed(total)) << "combination " << code;
    ++n;
  }
  EXPECT_EQ(n, 243);
}

TEST(NewbornScore, ALaterScoreTakesTheEarliersPlace) {
  Story s;
  s.born("1", kNight - minutes(10), 400).scored("1", 2, kNight - minutes(9));
  EXPECT_EQ(level_of(s.assess(kNight), "SCORE_SEVERE", "1"), Level::emergency);
  s.scored("1", 8, kNight - minutes(4));
  EXPECT_EQ(find(s.assess(kNight), "SCORE_SEVERE"), nullptr);
  EXPECT_EQ(find(s.assess(kNight), "SCORE_MODERATE"), nullptr);
}

TEST(NewbornScore, IsOfTheFirstDayOnly) {
  const auto s = Story{}.born("1", kNight, 400).scored("1", 2, kNight);
  EXPECT_NE(find(s.assess(kNight + hours(24) - Span{1}), "SCORE_SEVERE"), nullptr);
  EXPECT_EQ(find(s.assess(kNight + hours(24)), "SCORE_SEVERE"), nullptr);
}

}  // namespace
}  // namespace lampside::testing
