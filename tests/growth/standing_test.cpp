// Where a pup stands: its place, when it doubles, and what earlier litters of the house say of the gain to expect.
#include <gtest/gtest.h>

#include <cmath>

#include "../advice/story.hpp"
#include "growth/tracker.hpp"
#include "reference/rules.hpp"

namespace lampside::testing {
namespace {

Instant day(double d) { return kNight + days(d); }

/// Four pups that gain `factor` times what is usual, weighed daily.
Story gaining(double factor, int to_day) {
  const growth::PaceModel usual(reference::built_in());
  Story s;
  for (int pup = 1; pup <= 4; ++pup) s.born(std::to_string(pup), day(0), 380 + 10 * pup);
  for (int d = 1; d <= to_day; ++d)
    for (int pup = 1; pup <= 4; ++pup) {
      const double change = usual.expected_change(Days{0}, Days{static_cast<double>(d)});
      s.weighed(std::to_string(pup), std::round((380 + 10 * pup) * std::exp(factor * change)), day(d));
    }
  return s;
}
double foreseen(const Story& s, double at) {
  const auto a = s.assess(day(at));
  const auto* pace = reference::value_of(a.pups.at(0).pace);
  return pace ? pace->ahead.back().count() / pace->weight.count() : 0;
}
Story& earlier(Story& s, double gain_pct) {
  return s.tell(kNight - days(90), "",
                record::EarlierLitter{record::Anchor::mating, Days{63}, {}, {}, {}, Percent{gain_pct}});
}

TEST(Gain, OfTheLitterAgainstTheUsual) {
  for (const double factor : {0.8, 1.0, 1.2}) {
    const auto a = gaining(factor, 21).assess(day(21));
    const auto* gain = reference::value_of(a.gain);
    ASSERT_NE(gain, nullptr);
    EXPECT_NEAR(gain->count(), 100 * factor, 3);
  }
  const auto early = gaining(1, 8).assess(day(8));
  EXPECT_EQ(reference::value_of(early.gain), nullptr) << "not yet a week after day 2";
}

// The published figures weigh as two litters: (2 + 1.2) / 3 and (2 + 3 * 1.2) / 5.
TEST(Gain, EarlierLittersMoveWhatIsExpected) {
  auto s = gaining(1, 3);
  EXPECT_DOUBLE_EQ(growth::house_factor(s.litter(), day(3)), 1);
  const double usual = foreseen(s, 3);
  earlier(s, 120);
  EXPECT_NEAR(growth::house_factor(s.litter(), day(3)), 3.2 / 3, 1e-12);
  EXPECT_GT(foreseen(s, 3), usual * 1.005);
  earlier(earlier(s, 120), 120);
  EXPECT_NEAR(growth::house_factor(s.litter(), day(3)), 5.6 / 5, 1e-12);
  EXPECT_DOUBLE_EQ(growth::house_factor(s.litter(), kNight - days(91)), 1) << "not known yet";
}
TEST(Gain, APupNeedsNoLessWhereEarlierLittersGainedBadly) {
  const growth::PaceModel usual(reference::built_in()), poor(reference::built_in(), 0.7);
  for (const double age : {0.0, 3.0, 10.0, 20.0, 40.0})
    EXPECT_DOUBLE_EQ(poor.need(Days{age}), usual.need(Days{age})) << age;
}

TEST(Doubling, IsDatedByTheCurveElseForeseen) {
  const auto s = gaining(1, 12);
  const auto then = s.assess(day(12)).pups.at(1).doubled;
  ASSERT_NE(reference::value_of(then), nullptr);
  EXPECT_FALSE(reference::value_of(then)->foreseen);
  const growth::PaceModel usual(reference::built_in());
  const double age = reference::days_between(day(0), reference::value_of(then)->at);
  EXPECT_NEAR(std::exp(usual.expected_change(Days{0}, Days{age})), 2, 0.05);
  const auto before = s.assess(day(age - 2)).pups.at(1).doubled;
  ASSERT_NE(reference::value_of(before), nullptr);
  EXPECT_TRUE(reference::value_of(before)->foreseen);
  EXPECT_NEAR(reference::days_between(day(0), reference::value_of(before)->at), age, 0.7);
  const auto young = s.assess(day(1)).pups.at(1).doubled;
  EXPECT_EQ(reference::value_of(young), nullptr) << "a week ahead at most";
}

TEST(Place, HeaviestFirstAmongThoseInTheBox) {
  auto s = gaining(1, 5);
  const auto place = [&](const char* label) -> std::optional<int> {
    const auto a = s.assess(day(5.1));
    for (const auto& p : a.pups)
      if (p.label == label) return p.place ? std::optional{p.place->place} : std::nullopt;
    return -1;
  };
  EXPECT_EQ(place("4"), 1);
  EXPECT_EQ(place("1"), 4);
  s.tell(day(5), "4", record::Departure{});
  EXPECT_EQ(place("4"), std::nullopt);
  EXPECT_EQ(place("3"), 1);
}

}  // namespace
}  // namespace lampside::testing
