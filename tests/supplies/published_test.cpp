// Figures in print, against the program's own: milk for a hand-fed pup, a nursing dam's food, litter sizes, worming.
#include <gtest/gtest.h>

#include "../advice/story.hpp"
#include "nest/feeding.hpp"
#include "nest/plate.hpp"
#include "supplies/plan.hpp"

namespace lampside::supplies {
namespace {

using lampside::testing::days;
using lampside::testing::kNight;
using lampside::testing::Story;
using reference::built_in;

// Energy of a pup fed only by hand, worked by hand: growth 8 % a day in week 1 and 5 % after (Small Animal Clinical
// Nutrition, 5th ed., Table 16-1), 22 kcal for each 100 g a day (hospital handout in the words of the Merck manual). A
// gram at birth makes 8.92, 13.95, 19.63 and 27.63 gram-days in the four weeks.
TEST(Published, FourWeeksOfEnergyForAPupFedByHand) {
  struct Row {
    double birth_g;
    double kcal[4];
  };
  constexpr Row kRows[] = {
      {100, {196, 503, 935, 1543}}, {300, {589, 1510, 2806, 4629}}, {500, {982, 2516, 4676, 7715}}};
  for (const auto& row : kRows)
    for (int week = 1; week <= 4; ++week)
      EXPECT_NEAR(nest::full_feeding(Grams{row.birth_g}, 0, 7 * week, built_in()).count(), row.kcal[week - 1], 1)
          << row.birth_g << " g, week " << week;
  EXPECT_NEAR(nest::full_feeding(Grams{300}, 7, 14, built_in()).count(), 1510 - 589, 1);
}

// A breeders' table counts volumes instead: 13, 17, 20, 22 ml for each 100 g a day "of milk like a bitch's"; 300 g at
// birth drink 348, 1,060, 2,238 and 4,061 ml up to the end of each week (with the same growth). Our energy in those
// volumes is a milk that is in print: 1.0 to 1.3 kcal/ml (replacers, Dog Owner's Home Veterinary Handbook, 4th ed.) up
// to 1.83 (a bitch's, Adkins 2001).
TEST(Published, ThePrintedVolumesHoldThatEnergyAsMilkInPrint) {
  constexpr double kMl100g[] = {13, 17, 20, 22}, kPrinted[] = {348, 1060, 2238, 4061};
  double grams = 300, ml = 0;
  for (std::size_t week = 0; week < 4; ++week) {
    for (int day = 0; day < 7; ++day) {
      ml += grams / 100 * kMl100g[week];
      grams *= 1 + built_in().feeding_weeks[week].gain_pct.count() / 100;
    }
    EXPECT_NEAR(ml, kPrinted[week], 1) << "week " << week + 1;
    const auto kcal = nest::full_feeding(Grams{300}, 0, 7 * (static_cast<int>(week) + 1), built_in()).count();
    EXPECT_GT(kcal / ml, 1.0) << "week " << week + 1;
    EXPECT_LT(kcal / ml, 1.83) << "week " << week + 1;
  }
}

// With a tin written down its own energy and proportion are reckoned with. By hand: 300 g at 8 % a day weigh 2,677 g
// over the seven days together; 22 kcal for each 100 g of that are 589 kcal; at 5.4 kcal a gram 109 g of powder.
// Without a tin: milk with 1.46 kcal/ml (Oftedal 1984) is 403 ml, a third of it powder.
TEST(Published, AWeekOfPowderByTheTinInUse) {
  const auto* row = row_of(built_in(), "milk replacer, powder");
  ASSERT_NE(row, nullptr);
  Basis basis{Grams{300}, {}};
  const auto grams = [&] { return std::get<Amount>(need(*row, 4, basis, built_in())).count(); };
  EXPECT_EQ(grams(), 140);
  basis.milk = record::Milk{"puppy milk", {}, Grams{30}, Millilitres{70}, 5.4};
  EXPECT_EQ(grams(), 110);
  basis.by_hand = 2.5;
  EXPECT_EQ(grams(), 280) << "two pups and a top-up drink from it";
  basis.milk->powder_kcal_g = 54;  // no milk can be that: as without a tin
  EXPECT_EQ(grams(), 340);
}

// NRC 2006 as quoted (145 kg^0.75 + kg (24 n + 12 m) L): worked by hand for 25 kg; and the book's own example bitch of
// 22 kg with eight pups, about 5,000 kcal at the peak (quoted from memory).
TEST(Published, ANursingDamsDay) {
  constexpr double kTwentyFive[][5] = {{1, 2071, 2191, 2281, 2341}, {2, 2521, 2761, 2941, 3061},
                                       {4, 3421, 3901, 4261, 4501}, {5, 3646, 4186, 4591, 4861},
                                       {6, 3871, 4471, 4921, 5221}, {8, 4321, 5041, 5581, 5941},
                                       {11, 4321, 5041, 5581, 5941}};
  for (const auto& row : kTwentyFive)
    for (int week = 1; week <= 4; ++week)
      EXPECT_NEAR(nest::nursing(Kilograms{25}, static_cast<int>(row[0]), week, built_in()).count(), row[week], 1)
          << row[0] << " pups, week " << week;
  EXPECT_NEAR(nest::nursing(Kilograms{22}, 8, 3, built_in()).count(), 4958, 1);
  EXPECT_NEAR(nest::nursing(Kilograms{22}, 8, 4, built_in()).count(), 5275, 1);
}

// The sources differ here, and the test says so: Small Animal Clinical Nutrition, 5th ed., p. 294, reckons 11,250 kcal
// a day for 65 kg and 11 pups; the formula asks 13,615 (week 3), a fifth more.
TEST(Published, AGiantsExampleIsBelowTheFormulaAndTheItemSaysSo) {
  EXPECT_NEAR(nest::nursing(Kilograms{65}, 11, 3, built_in()).count(), 13615, 2);
  const auto* row = row_of(built_in(), "dam's food while she nurses");
  ASSERT_NE(row, nullptr);
  EXPECT_NE(row->differs.find("11,250 kcal"), std::string_view::npos);
}

// Mugnier et al. 2020, BMC Vet Res 16:363, Table 1: Golden Retriever litters of 7.8, SD 2.8.
TEST(Published, BreedsLitterSizeBeforeAnyCount) {
  const auto size = litter_size(Story{}.breed("Golden Retriever").litter(), built_in(), kNight);
  double mean = 0, square = 0;
  for (std::size_t n = 0; n < size.chance.size(); ++n)
    mean += size.chance[n] * static_cast<double>(n), square += size.chance[n] * static_cast<double>(n * n);
  EXPECT_NEAR(mean, 7.8, 0.1);
  EXPECT_NEAR(std::sqrt(square - mean * mean), 2.8, 0.15);
  EXPECT_EQ(size.at(0.5), 8);
  EXPECT_EQ(size.at(0.95), 12);
}

// Lenard et al. 2007, Australian Veterinary Journal: an ultrasound count is exact in 65 % and within one in 89.5 %.
// With nothing known of the breed the count's own chances lead.
TEST(Published, AnUltrasoundCountIsOftenOffByOne) {
  Story story;
  story.tell(kNight - days(30), "dam", record::PupCount{record::CountMethod::ultrasound, 6, {}});
  const auto size = litter_size(story.litter(), built_in(), kNight);
  EXPECT_NEAR(size.chance[6], 0.65, 0.06);
  EXPECT_NEAR(size.chance[5] + size.chance[6] + size.chance[7], 0.895, 0.06);
}

// CAPC guidelines: pups and dam at 2, 4, 6 and 8 weeks.
TEST(Published, WormingCoursesForThePupsAndTheirDam) {
  const auto* row = row_of(built_in(), "wormer for pups and dam");
  ASSERT_NE(row, nullptr);
  const auto courses = [&](int age) {
    return std::get<Amount>(need(*row, 9, {Grams{400}, {}, age}, built_in())).count();
  };
  EXPECT_EQ(courses(0), 40);
  EXPECT_EQ(courses(14), 40);  // the day itself is still to come
  EXPECT_EQ(courses(15), 30);
  EXPECT_EQ(courses(57), 0);
}

// Each line below is a count or a quantity printed on one of the sixteen lists; its row in supplies.toml names it.
TEST(Published, QuantitiesAsTheListsPrintThem) {
  const auto needed = [](const char* item, int pups) {
    const auto* row = row_of(built_in(), item);
    return row ? std::get<Amount>(need(*row, pups, {Grams{400}, Kilograms{30}, 0}, built_in())).count() : -1;
  };
  EXPECT_EQ(needed("towels, small", 8), 30);                      // a Labrador breeder: 30 small towels for a litter
  EXPECT_EQ(needed("washable pads", 8), 4);                       // 3 to 4 in turn
  EXPECT_EQ(needed("bin bags", 8), 2);                            // rubbish and laundry
  EXPECT_EQ(needed("collars, coloured", 9), 9);                   // at least as many as pups
  EXPECT_NEAR(needed("food to go with each pup", 1), 2.3, 1e-9);  // 5 lb = 2.27 kg, up to a tenth
  EXPECT_EQ(needed("washing powder", 8), 35);  // once a day in week 1, twice in weeks 2 and 3: 7 + 28
}

// Fire: the university's page asks 20 inches; a notice prints 20 feet by mistake. Both are shown.
TEST(Published, ContradictionsAreShown) {
  const auto differs = [](const char* item) { return std::string(row_of(built_in(), item)->differs); };
  EXPECT_NE(differs("lamp guard and chain").find("20 feet"), std::string::npos);
  EXPECT_NE(differs("thread or floss for the cord").find("waxed"), std::string::npos);
  EXPECT_NE(differs("whelping box").find("7 to 14 days"), std::string::npos);
}

}  // namespace
}  // namespace lampside::supplies
