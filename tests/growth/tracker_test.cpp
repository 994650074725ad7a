// The litter's model at work: slips found, a faltering pup found.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "growth/alarm.hpp"
#include "growth/tracker.hpp"
#include "reference/tables.hpp"

namespace lampside::growth {
namespace {

const PaceModel kModel(reference::built_in());

/// Six pups of 300 to 500 g that gain 7 % a day, weighed daily in a tub of 120 g that is taken off.
class Nest {
 public:
  Nest() {
    for (std::size_t i = 0; i < 6; ++i) tracker_.born(i, Days{0}, Grams{400});
    for (int d = 0; d < 6; ++d) tracker_.round(Days{1.0 * d}, at(d));
  }
  static std::vector<Figure> at(double day) {
    std::vector<Figure> out;
    for (std::size_t i = 0; i < 6; ++i) {
      const double grams = std::round((300 + 40.0 * static_cast<double>(i)) * std::exp(0.07 * day));
      out.push_back({i, Grams{grams}, Grams{120}, Grams{1}, 1, false});
    }
    return out;
  }
  std::vector<RoundDoubt> next(std::vector<Figure> figures) { return tracker_.round(Days{6}, figures); }
  Tracker& tracker() { return tracker_; }

 private:
  Tracker tracker_{kModel, 6};
};
void expect(const std::vector<RoundDoubt>& got, Slip slip, std::vector<std::size_t> figures) {
  ASSERT_EQ(got.size(), 1U);
  EXPECT_EQ(name_of(got[0].likelier), name_of(slip));
  EXPECT_EQ(got[0].figures, figures);
}

TEST(Doubts, NoneOnATrueRound) { EXPECT_TRUE(Nest().next(Nest::at(6)).empty()); }
TEST(Doubts, TubLeftOn) {
  auto f = Nest::at(6);
  const Grams right = f[2].grams;
  f[2].grams = right + Grams{120}, f[2].tub = Grams{0};
  const auto got = Nest().next(f);
  expect(got, Slip::tub_left_on, {2});
  EXPECT_EQ(got[0].would_be[0], right);
}
TEST(Doubts, TwoSwapped) {
  auto f = Nest::at(6);
  std::swap(f[0].grams, f[3].grams);
  expect(Nest().next(f), Slip::swapped, {0, 3});
}
/// Two pups close to each other, mixed up: on the day it may be a good day for one and a bad one for the other.
TEST(Doubts, ASwapTooSmallToTellIsPlainFromBothSides) {
  int only_later = 0;
  for (double ratio = 1.02; ratio < 1.1; ratio += 0.002) {
    const auto at = [&](double day) {
      auto out = Nest::at(day);
      out[5].grams = Grams{std::round(out[4].grams.count() * ratio)};
      return out;
    };
    Tracker tracker(kModel, 6);
    for (std::size_t i = 0; i < 6; ++i) tracker.born(i, Days{0}, Grams{400});
    for (int d = 0; d < 6; ++d) tracker.round(Days{1.0 * d}, at(d));
    auto f = at(6);
    std::swap(f[4].grams, f[5].grams);
    if (!tracker.round(Days{6}, f).empty()) continue;
    const auto got = tracker.round(Days{7}, at(7));
    if (got.empty()) continue;
    ++only_later;
    expect(got, Slip::swapped, {4, 5});
    EXPECT_TRUE(got[0].before);
    EXPECT_EQ(got[0].would_be[0], at(6)[4].grams);
    EXPECT_NEAR(tracker.now(4).weight.count(), at(7)[4].grams.count(), 12) << "taken in again without them";
  }
  EXPECT_GT(only_later, 1);
}
TEST(Doubts, TodaysSwapIsNotBlamedOnYesterday) {
  Nest nest;
  nest.next(Nest::at(6));
  auto f = Nest::at(7);
  std::swap(f[0].grams, f[3].grams);
  const auto got = nest.tracker().round(Days{7}, f);
  expect(got, Slip::swapped, {0, 3});
  EXPECT_FALSE(got[0].before);
}
TEST(Doubts, AReadingTheKeeperStandsByIsNotAskedAboutTheNextDay) {
  Nest nest;
  auto f = Nest::at(6);
  std::swap(f[4].grams, f[5].grams);
  f[4].confirmed = f[5].confirmed = true;
  nest.next(f);
  for (const auto& d : nest.tracker().round(Days{7}, Nest::at(7))) EXPECT_FALSE(d.before);
}
TEST(Doubts, ThreeInACycle) {
  auto f = Nest::at(6);
  const Grams first = f[0].grams;
  f[0].grams = f[2].grams, f[2].grams = f[5].grams, f[5].grams = first;
  expect(Nest().next(f), Slip::swapped, {0, 2, 5});
}
TEST(Doubts, OuncesTypedAsGrams) {
  auto f = Nest::at(6);
  f[4].grams = Grams{std::round(f[4].grams.count() / kGramsPerOunce * 10) / 10}, f[4].tub = Grams{0};
  expect(Nest().next(f), Slip::wrong_unit, {4});
}
TEST(Doubts, TheRoundBeforeTypedAgain) { expect(Nest().next(Nest::at(5)), Slip::typed_again, {0, 1, 2, 3, 4, 5}); }
TEST(Doubts, WhatTheKeeperHasConfirmedIsNotAskedAgain) {
  auto f = Nest::at(6);
  f[2].grams = f[2].grams + Grams{120}, f[2].confirmed = true;
  EXPECT_TRUE(Nest().next(f).empty());
}
TEST(Doubts, ARealFallIsNotArguedAway) {
  auto f = Nest::at(6);
  f[1].grams = Grams{std::round(f[1].grams.count() * 0.87)};  // 13 % under its course
  Nest nest;
  EXPECT_TRUE(nest.next(f).empty());
  EXPECT_EQ(alarm_of(kModel, nest.tracker(), 1), Alarm::act);
  EXPECT_EQ(alarm_of(kModel, nest.tracker(), 4), Alarm::none);
}

// It fell yesterday; today the tub stays under it alone, and it seems to be back where its old course led.
TEST(Doubts, TheOnlyOneWithoutItsTubIsNoWitnessThatAFallWasASlip) {
  Nest nest;
  auto f = Nest::at(6);
  f[1].grams = Grams{std::round(f[1].grams.count() * 0.82)};
  EXPECT_TRUE(nest.next(f).empty());
  auto g = Nest::at(7);
  const Grams right = f[1].grams;  // it stands still
  g[1].grams = right + Grams{120}, g[1].tub = Grams{0};
  const auto got = nest.tracker().round(Days{7}, g);
  expect(got, Slip::tub_left_on, {1});
  EXPECT_EQ(got.at(0).would_be.at(0), right);
  EXPECT_EQ(alarm_of(kModel, nest.tracker(), 1), Alarm::act);
}

}  // namespace
}  // namespace lampside::growth
