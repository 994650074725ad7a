// Weak, infrequent contractions: Jutkowitz 2005, Vet Clin North Am Small Anim Pract 35:397-420, Box 2: over 4 h and no
// pup is suspect. A labour of short bouts must not lose its clocks in the rests between them.
#include <gtest/gtest.h>

#include "../advice/story.hpp"

namespace lampside::testing {
namespace {

Instant at(double m) { return kNight + minutes(m); }

Story bouts(Sign sign, double length, double every, int n) {
  Story s;
  s.counted(5);
  for (int i = 0; i < n; ++i) s.sign(sign, at(i * every)).sign(Sign::straining_stopped, at(i * every + length));
  return s;
}

bool rings(const Story& s, double m, Level at_least) {
  for (const auto& f : s.assess(at(m)).findings)
    if (f.about == "dam" && f.level <= at_least) return true;
  return false;
}

TEST(Infrequent, ShortBoutsAreACallByFourHoursAndStayOne) {
  struct Row {
    Sign sign;
    double length, every;
  };
  for (const auto& r : {Row{Sign::weak_straining, 10, 75}, Row{Sign::weak_straining, 15, 110},
                        Row{Sign::strong_straining, 19, 80}, Row{Sign::weak_straining, 10, 65}}) {
    const auto s = bouts(r.sign, r.length, r.every, 20);
    for (double m = 250; m <= 1400; m += 50)
      EXPECT_TRUE(rings(s, m, Level::call_vet)) << record::name_of(r.sign) << ' ' << r.every << " min, at " << m;
  }
}

TEST(Infrequent, LongLabourOfShortBoutsIsCountedFromItsFirst) {
  const auto s = bouts(Sign::weak_straining, 10, 180, 10);
  EXPECT_EQ(level_of(s.assess(at(721)), "LABOUR_LONG"), Level::watch);
  EXPECT_EQ(level_of(s.assess(at(1441)), "LABOUR_LONG"), Level::emergency);
}

TEST(Infrequent, OneFalseTapStillComesToNothing) {
  const auto s = bouts(Sign::weak_straining, 5, 75, 1);
  for (double m = 250; m <= 1500; m += 50) EXPECT_FALSE(rings(s, m, Level::watch)) << m;
}

}  // namespace
}  // namespace lampside::testing
