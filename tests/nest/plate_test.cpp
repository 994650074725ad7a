// The dam's plate and her milk against printed figures, typed again here with their sources.
#include "nest/plate.hpp"

#include <gtest/gtest.h>

#include <array>

#include "../advice/printed.hpp"
#include "../advice/story.hpp"
#include "nest/supply_of_milk.hpp"

namespace lampside::testing {
namespace {

using reference::built_in;

Story dam_of(double kg, int pups, double born_days_ago, double grams = 400) {
  Story s;
  record::LitterFacts f;
  f.dam = record::Parent{"Juniper", {}, {}, Kilograms{kg}, {}};
  s.facts(f);
  for (int n = 1; n <= pups; ++n) s.born(std::to_string(n), kNight - days(born_days_ago) + minutes(n), grams);
  return s;
}
double kcal_today(const Story& s, Instant now = kNight) {
  const auto a = s.assess(now);
  const auto* need = reference::value_of(a.plate.today);
  return need ? need->kcal.count() : -1;
}

// NRC 2006, Nutrient Requirements of Dogs and Cats, table of the nutrient needs of a nursing bitch: 22 kg, 8 pups, at
// the peak of lactation about 5,000 kcal a day (from memory). The formula gives 4,958 in week 3, 5,275 in week 4.
TEST(Plate, TwentyTwoKilogramsAndEightPups) {
  const char* source = "NRC 2006, example bitch of the nutrient tables: about 5,000 kcal; from memory";
  EXPECT_NEAR(kcal_today(dam_of(22, 8, 17.5)), 5000, 0.01 * 5000) << source;
  EXPECT_NEAR(kcal_today(dam_of(22, 8, 24.5)), 5000, 0.06 * 5000) << source;
}

// Small Animal Clinical Nutrition, 5th ed. 2010, p. 294: 65 kg, 11 pups, 1.9 x RER of about 3,000 (exactly 3,045) and a
// quarter of it for each pup, 8,250: 11,250 kcal in all. The formula gives 13,615 to 14,551: shown beside, with a
// caution.
TEST(Plate, AGiantOvershootsAndSaysSo) {
  const auto a = dam_of(65, 11, 17.5, 600).assess(kNight);
  const auto& need = std::get<nest::Need>(a.plate.today);
  EXPECT_NEAR(need.kcal.count(), 13615, 2);
  EXPECT_NEAR(need.book->count(), 11250, 0.02 * 11250) << "the book rounds 3,045 to 3,000 before it multiplies";
  EXPECT_TRUE(a.plate.giant);
  EXPECT_FALSE(dam_of(45, 11, 17.5).assess(kNight).plate.giant) << "45 kg is not over 45 kg";
  const double over = need.kcal / *need.book - 1;
  EXPECT_TRUE(over > 0.15 && over < 0.30) << "the overshoot in print is 20 to 30 %, we find " << over;
}

// n stops at the fourth pup, m at the eighth (NRC 2006 as quoted).
TEST(Plate, TheFifthCountsHalfTheNinthNothing) {
  const auto kcal = [](int pups) { return nest::nursing(Kilograms{25}, pups, 3, built_in()).count(); };
  EXPECT_NEAR(kcal(4) - kcal(3), 25 * 24 * 1.1, 1e-6);
  EXPECT_NEAR(kcal(5) - kcal(4), 25 * 12 * 1.1, 1e-6);
  EXPECT_DOUBLE_EQ(kcal(8), kcal(9));
  EXPECT_DOUBLE_EQ(kcal(8), kcal(16));
  EXPECT_GT(kcal(8), kcal(7));
}

TEST(Plate, PregnantTheLastFiveWeeksAskForMore) {
  // 132 kg^0.75 + 26 kg in the last five weeks (FEDIAF, NRC; from memory): 25 kg, 1,476 and 2,126 kcal.
  EXPECT_NEAR(nest::pregnant(Kilograms{25}, false, built_in()).count(), 1476, 1);
  EXPECT_NEAR(nest::pregnant(Kilograms{25}, true, built_in()).count(), 2126, 1);
  Story s = dam_of(25, 0, 0);
  s.mated(kNight - days(10));
  EXPECT_NEAR(kcal_today(s), 1476, 1);
  EXPECT_NEAR(kcal_today(s, kNight + days(30)), 2126, 1);
  const auto plate = s.assess(kNight).plate;
  ASSERT_EQ(plate.ahead.size(), 2U) << "until they are born nobody knows for how many she will eat";
  EXPECT_EQ((plate.ahead[1].to - plate.ahead[1].from).count() + 1, 35);
}

TEST(Plate, GrowsAndShrinksWithThePupsAliveThatDay) {
  Story s = dam_of(25, 8, 9.5);
  EXPECT_NEAR(kcal_today(s), 5041, 1);  // the table of the formula for 25 kg, week 2, 8 pups
  s.tell(kNight - days(2), "8", record::Death{});
  s.tell(kNight - days(1), "7", record::Departure{});
  const auto a = s.assess(kNight);
  EXPECT_NEAR(std::get<nest::Need>(a.plate.today).kcal.count(), 4471, 1) << "6 pups";
  ASSERT_GE(a.plate.past.size(), 4U);
  EXPECT_EQ(std::get<nest::Need>(a.plate.past[3].need).pups, 8) << "four days ago all were there";
  s.tell(kNight - hours(2), "6", record::HandFeeding{record::FeedShare::full, {}});
  EXPECT_NEAR(kcal_today(s), 4186, 1) << "one fed only by hand costs her nothing";
}

TEST(Plate, GramsOnlyFromTheLabel) {
  Story s = dam_of(22, 8, 17.5);
  EXPECT_EQ(std::get<reference::NotAssessed>(s.assess(kNight).plate.grams).code, "NO_FOOD");
  s.tell(kNight - days(1), "", record::Food{"Puppy food", {}});
  EXPECT_EQ(std::get<reference::NotAssessed>(s.assess(kNight).plate.grams).code, "NO_ENERGY");
  s.tell(kNight - hours(1), "", record::Food{"Puppy food", Kilocalories{400}});
  EXPECT_NEAR(std::get<Grams>(s.assess(kNight).plate.grams).count(), 4958 / 4.0, 1);
  s.tell(kNight - days(1), "dam", record::DamMeal{{}, Grams{500}, "Puppy food"});
  s.tell(kNight - days(1) + hours(4), "dam", record::DamMeal{Kilocalories{900}, {}, {}});
  const auto day = s.assess(kNight).plate.past.front();
  EXPECT_NEAR(day.given.count(), 2900, 1e-6);
  EXPECT_EQ(day.meals, 2);
  EXPECT_EQ(day.unknown, 0);
  s.tell(kNight - days(1) + hours(6), "dam", record::DamMeal{{}, Grams{200}, "Scraps"});
  EXPECT_EQ(s.assess(kNight).plate.past.front().unknown, 1) << "no label, no energy";
  EXPECT_EQ(find(s.assess(kNight), "DAM_EATS_LITTLE"), nullptr) << "what is not known is not held against her";
}

TEST(Plate, AfterWeekFourItCannotTell) {
  EXPECT_NEAR(kcal_today(dam_of(25, 8, 27)), 5941, 1);
  EXPECT_EQ(std::get<reference::NotAssessed>(dam_of(25, 8, 28).assess(kNight).plate.today).code, "NO_REFERENCE");
  Story s;
  EXPECT_EQ(std::get<reference::NotAssessed>(s.assess(kNight).plate.today).code, "NO_DATA");
}

TEST(Plate, WeaningFromWeekThreeToSeven) {
  const auto steps = dam_of(25, 8, 10).assess(kNight).plate.weaning;
  ASSERT_EQ(steps.size(), 5U);
  const auto born = Zone{}.day_of(kNight - days(10));
  EXPECT_EQ((steps.front().from - born).count(), 14);
  EXPECT_EQ((steps.back().to - born).count(), 48);
  double before = 0;
  for (const auto& step : steps) EXPECT_GT(step.row->value, before), before = step.row->value;
}

// A German breeders' page after Meyer: 4-6 pups, 3.3 / 4.3 / 5.5 / about 6 % of her weight in weeks 1 to 4. The
// formula, (n + m/2) L, lies within 10 % of it for the middle of 5 and 6 pups; 4 pups alone give up to 20 % less:
// shown, not hidden.
TEST(Milk, YieldByWeekWithinTenPercentOfThePrintedOne) {
  constexpr std::array printed{3.3, 4.3, 5.5, 6.0};
  for (int week = 1; week <= 4; ++week) {
    const double middle =
        (nest::milk_pct(5, week, built_in()).count() + nest::milk_pct(6, week, built_in()).count()) / 2;
    const double want = printed[static_cast<std::size_t>(week - 1)];
    EXPECT_NEAR(middle, want, 0.1 * want) << "week " << week;
    EXPECT_NEAR(reference::parameter(built_in(), "milk_measured_pct_week_" + std::to_string(week)), want, 1e-9);
  }
}

// Rüsse 1961, quoted in Small Animal Clinical Nutrition, 5th ed., p. 283: a German Shepherd with 6 pups, about 1.7 l a
// day in weeks 3 and 4 (at 32 kg: 5.5-6 %, 1.76-1.92). Oftedal 1984, J Nutr 114:803-812: beagles of 12.7 kg with 5-7
// pups 964 g at day 19: 1.4 times the formula, as printed beside the figure.
TEST(Milk, TwoMeasuredBitches) {
  EXPECT_NEAR(32 * nest::milk_pct(6, 3, built_in()).count() / 100, 1.7, 0.1 * 1.7);
  EXPECT_NEAR(964 / (12'700 * nest::milk_pct(6, 3, built_in()).count() / 100), 1.4, 0.05);
}

// Our own derivation on the figures above it (30 kg; pups of 0.55 / 0.85 / 1.3 / 1.8 kg in weeks 1-4): 8 pups are just
// covered, 10 are short by 10 % in week 3 and 18 % in week 4, 12 by 1, 25 and 31 % from week 2 on.
TEST(Milk, WhenItRunsShortAndByHowMuch) {
  constexpr std::array kilos{0.55, 0.85, 1.3, 1.8};
  const auto short_of = [&](int pups, int week) {
    const Grams need = nest::drinks(Grams{1000 * kilos[static_cast<std::size_t>(week - 1)]}, week, built_in()) * pups;
    return nest::shortage(Grams{30'000} * (nest::milk_pct(pups, week, built_in()).count() / 100), need).count();
  };
  for (int week = 1; week <= 4; ++week) EXPECT_EQ(short_of(8, week), 0);
  EXPECT_NEAR(short_of(10, 3), 10, 1);
  EXPECT_NEAR(short_of(10, 4), 18, 1);
  EXPECT_NEAR(short_of(12, 2), 1, 1);
  EXPECT_NEAR(short_of(12, 3), 25, 1);
  EXPECT_NEAR(short_of(12, 4), 31, 1);
}

TEST(Milk, ForecastOfALitterSaysTheFirstWeekThatIsShort) {
  const auto a = dam_of(30, 12, 2, 520).assess(kNight);
  const auto* milk = reference::value_of(a.milk);
  ASSERT_NE(milk, nullptr);
  ASSERT_EQ(milk->weeks.size(), 4U);
  const auto* first = milk->runs_short();
  ASSERT_NE(first, nullptr);
  for (const auto& w : milk->weeks) {
    EXPECT_GE(w.short_worst, w.short_pct);
    EXPECT_NEAR((w.need - w.supply).count() > 0 ? (w.need - w.supply).count() : 0, w.lacking.count(), 1e-6);
    EXPECT_NEAR(w.lacking_kcal.count(), 1.46 * w.lacking.count(), 1e-6);
  }
  EXPECT_EQ(std::get<reference::NotAssessed>(Story{}.born("1", kNight - days(1), 400).assess(kNight).milk).code,
            "NO_DATA")
      << "without her weight";
  auto late = dam_of(30, 8, 29);
  EXPECT_EQ(std::get<reference::NotAssessed>(late.assess(kNight).milk).code, "STALE") << "weighed weeks ago";
  for (const auto& pup : late.assess(kNight).pups) late.weighed(pup.label, 2000, kNight - hours(1));
  EXPECT_EQ(std::get<reference::NotAssessed>(late.assess(kNight).milk).code, "NO_REFERENCE");
}

TEST(Calcium, BeforeWhelpingOnly) {
  Story s = dam_of(5, 0, 0);
  s.mated(kNight - days(55));
  record::Dose d{};
  d.product = "Calcium tablets";
  s.tell(kNight - days(1), "dam", d);
  ASSERT_NE(find(s.assess(kNight), "CALCIUM_BEFORE_WHELPING"), nullptr);
  s.born("1", kNight - hours(1), 200);
  EXPECT_EQ(find(s.assess(kNight), "CALCIUM_BEFORE_WHELPING"), nullptr);
}

}  // namespace
}  // namespace lampside::testing
