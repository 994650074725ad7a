// What the plain rules do on real newborns that failed and that did not: R's ChickWeight as a stand-in
// (tests/data/chickweight).
#include <gtest/gtest.h>

#include <cstdio>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "../advice/printed.hpp"
#include "../advice/story.hpp"
#include "growth/alarm.hpp"
#include "reference/rules.hpp"

namespace lampside::testing {
namespace {

struct Point {
  int day;
  double grams;
};
using Series = std::map<int, std::vector<Point>>;

Series chicks() {
  std::ifstream in(LAMPSIDE_SOURCE_DIR "/tests/data/chickweight/chickweight.csv");
  Series out;
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    std::istringstream row(line);
    int chick = 0, day = 0, diet = 0;
    double grams = 0;
    char comma = 0;
    if (row >> chick >> comma >> day >> comma >> grams >> comma >> diet) out[chick].push_back({day, grams});
  }
  return out;
}
bool dropped_out(const std::vector<Point>& points) { return points.back().day < 21; }

struct Counts {
  std::set<int> caught;
  int healthy_flagged = 0;
};
/// Whether `flagged(before, point)` ever holds over two days (the last interval of a whole series is one day: left
/// out).
template <class Flagged>
Counts count(const Series& series, Flagged flagged) {
  Counts out;
  for (const auto& [chick, points] : series) {
    bool ever = false;
    for (std::size_t i = 1; i < points.size(); ++i)
      if (points[i].day - points[i - 1].day == 2) ever = ever || flagged(points, i);
    if (!ever) continue;
    if (dropped_out(points))
      out.caught.insert(chick);
    else
      ++out.healthy_flagged;
  }
  return out;
}

constexpr const char* kSource =
    "R datasets::ChickWeight (Crowder and Hand 1990, example 5.3); counts worked out once from it";

TEST(ChickWeight, IsTheWholeSet) {
  const auto series = chicks();
  std::set<int> short_ones;
  std::size_t rows = 0;
  for (const auto& [chick, points] : series) {
    rows += points.size();
    if (dropped_out(points)) short_ones.insert(chick);
  }
  EXPECT_EQ(series.size(), 50U);
  EXPECT_EQ(rows, 578U);
  EXPECT_EQ(short_ones, (std::set{8, 15, 16, 18, 44}));
}

// The rule's own row and comparison, and the same with the limit moved: 3/5 and 4/45 at -2 %, 4/5 and 9/45 at 0, 5/5
// and 11/45 at +2 %, 5/5 and 17/45 at +4 %.
TEST(ChickWeight, NoGainCatchesFourOfFiveAndFlagsNineOfFortyFive) {
  const auto* row = reference::rule_of(reference::built_in().percent_rules, "NO_GAIN");
  ASSERT_NE(row, nullptr);
  const auto series = chicks();
  struct Want {
    double limit;
    std::size_t caught;
    int flagged;
  };
  for (const auto& want : {Want{-2, 3, 4}, Want{0, 4, 9}, Want{2, 5, 11}, Want{4, 5, 17}}) {
    auto rule = *row;
    if (want.limit != 0) rule.limit = Percent{want.limit};
    const auto got = count(series, [&](const auto& points, std::size_t i) {
      return reference::reached(rule, percent_change(Grams{points[i - 1].grams}, Grams{points[i].grams}));
    });
    const auto input = fmt::format("growth over two days of {} % or less", rule.limit.count());
    EXPECT_TRUE(as_printed("NO_GAIN: dropouts caught", kSource, input, static_cast<double>(want.caught),
                           static_cast<double>(got.caught.size()), 0));
    EXPECT_TRUE(as_printed("NO_GAIN: healthy ever flagged", kSource, input, want.flagged, got.healthy_flagged, 0));
  }
}

// The litter's model on the same birds, each as a litter of one: its alarms at "act" and at "watch" beside the rule "no
// gain in two days". Nothing is fitted to chicks: the paces and spreads are those for pups.
TEST(ChickWeight, TheModelCatchesNoFewerAtNoMoreFlagged) {
  const growth::PaceModel model(reference::built_in());
  const auto series = chicks();
  const auto with = [&](growth::Alarm least) {
    Counts out;
    for (const auto& [chick, points] : series) {
      growth::Tracker tracker(model, 1);
      tracker.born(0, Days{0}, Grams{41});  // the mean of the fifty at hatching
      bool ever = false;
      for (const auto& point : points) {
        if (point.day == 21) break;  // one day after the one before: the rule beside it leaves that out too
        tracker.round(Days{static_cast<double>(point.day)}, {{0, Grams{point.grams}, Grams{0}, Grams{1}, 1, true}});
        ever = ever || growth::alarm_of(model, tracker, 0) >= least;
      }
      if (ever && dropped_out(points)) out.caught.insert(chick);
      if (ever && !dropped_out(points)) ++out.healthy_flagged;
    }
    return out;
  };
  const auto watch = with(growth::Alarm::watch), act = with(growth::Alarm::act);
  std::printf("no gain in two days: 4 of 5 caught, 9 of 45 flagged; ours, act: %zu and %d; watch: %zu and %d\n",
              act.caught.size(), act.healthy_flagged, watch.caught.size(), watch.healthy_flagged);
  EXPECT_GE(act.caught.size(), 4U);
  EXPECT_LE(act.healthy_flagged, 9);
}

// The whole assessment says no less: each chick as the one pup of a litter, assessed at each of its weighings.
TEST(ChickWeight, TheAssessmentFlagsTheSameChicks) {
  const auto series = chicks();
  const auto got = count(series, [](const auto& points, std::size_t i) {
    Story story;
    story.born("1", kNight, points[0].grams);
    for (std::size_t k = 1; k <= i; ++k) story.weighed("1", points[k].grams, kNight + days(points[k].day));
    const auto a = story.assess(kNight + days(points[i].day));
    return find(a, "NO_GAIN") || find(a, "LOSS_TWO_DAYS") || find(a, "LOSS_TEN");
  });
  EXPECT_EQ(got.caught, (std::set{8, 15, 16, 18}));
  EXPECT_EQ(got.healthy_flagged, 9);
}

}  // namespace
}  // namespace lampside::testing
