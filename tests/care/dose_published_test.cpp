// Doses against printed labels and rules, and against arithmetic from them. Each block names its source; a figure that
// is only our arithmetic from stated figures says so, and one written from memory says so.
#include <gtest/gtest.h>

#include <cmath>

#include "labels.hpp"

namespace lampside::testing {
namespace {

using care::Measured;

// 21 CFR 520.2042 (2019), pyrantel pamoate tablets: the least dose falls by half on crossing 5 lb, and 5 lb itself is
// in the class of small dogs. 5.0 lb -> 22.7 mg, 5.1 lb -> 11.58 mg; a 3 lb pup 13.62 mg (arithmetic).
TEST(DosePublished, TheFivePoundStep) {
  const auto label = us_pyrantel_tablets();
  const auto milligrams = [&](double lb) { return exact(label, kPound * lb) * 22.7; };
  EXPECT_NEAR(milligrams(5.0), 22.7, 0.005);
  EXPECT_NEAR(milligrams(5.1), 11.58, 0.005);
  EXPECT_NEAR(milligrams(3.0), 13.62, 0.005);
  EXPECT_NEAR((milligrams(5.0) / (5 * kPound.count())), 10.0,
              0.01);  // 4.54 mg/lb is 10.0 mg/kg, the regulation's figure
  EXPECT_NEAR((milligrams(20.0) / (20 * kPound.count())), 5.0, 0.01);
}

// The same pup by the over-the-counter liquid label: 1.5 ml = 6.81 mg, half of what the tablet rule asks for. Both are
// in print: the rule belongs to the product, not to the molecule. (Label text second-hand, strength from memory.)
TEST(DosePublished, TwoLabelsOfOneActiveDisagreeAndBothAreKept) {
  const double ml = exact(us_pyrantel_double(), kPound * 3);
  EXPECT_NEAR(ml, 1.5, 1e-9);
  EXPECT_NEAR(ml * 4.54, 6.81, 1e-9);
  EXPECT_NEAR(exact(us_pyrantel_tablets(), kPound * 3) * 22.7 / (ml * 4.54), 2.0, 1e-9);
}

// 21 CFR 520.1872, praziquantel + pyrantel + febantel tablets, number 1 (22.7 + 22.7 + 113.4 mg) and number 2.
// The weights are the regulation's kilograms. Between two lines it says nothing, and neither do we.
struct Band {
  double from, to, tablets;
};
constexpr Band kNumber1[] = {{0.9, 1.8, 0.5}, {2.3, 3.2, 1}, {3.6, 5.4, 1.5}, {5.9, 8.2, 2}, {8.6, 11.4, 2.5}};
constexpr Band kNumber2[] = {{11.8, 13.6, 1}, {14.1, 20.0, 1.5}, {20.4, 27.2, 2}};
void table_holds(const care::Label& label, std::span<const Band> bands) {
  for (const auto& band : bands)
    for (const double kg : {band.from, (band.from + band.to) / 2, band.to})
      EXPECT_DOUBLE_EQ(exact(label, Kilograms{kg}), band.tablets) << kg;
  for (std::size_t i = 0; i + 1 < bands.size(); ++i)
    for (const double kg : {bands[i].to + 0.001, (bands[i].to + bands[i + 1].from) / 2, bands[i + 1].from - 0.001})
      EXPECT_EQ(code(label, Kilograms{kg}), "BAND_GAP") << kg;
  EXPECT_EQ(code(label, Kilograms{bands.front().from - 0.001}), "BAND_GAP");
  EXPECT_EQ(code(label, Kilograms{bands.back().to + 0.001}), "BAND_GAP");
}
TEST(DosePublished, TabletBandsAndTheirGaps) {
  table_holds(label_of("praziquantel + pyrantel + febantel", "22.7 + 22.7 + 113.4 mg/tablet",
                       "0.9-1.8 kg: 1/2; 2.3–3.2 kg: 1; 3.6 to 5.4 kg: 1½\n5.9-8.2 kg: 2 tablets; 8.6-11.4 kg: 2 1/2"),
              kNumber1);
  table_holds(label_of("praziquantel + pyrantel + febantel", "68 + 68 + 340.2 mg/tablet",
                       "11,8-13,6 kg: 1; 14.1-20.0 kg: 1 1/2; 20.4-27.2 kg: 2"),
              kNumber2);
}
// The regulation's own column in pounds: 2-4 lb, 5-7 lb. 4.5 lb lies between.
TEST(DosePublished, TheSameBandsInPounds) {
  const auto label = label_of("praziquantel + pyrantel + febantel", "22.7 + 22.7 + 113.4 mg/tablet",
                              "2-4 lb: 1/2; 5-7 lb: 1; 8-12 lb: 1 1/2; 13-18 lb: 2; 19-25 lb: 2 1/2");
  EXPECT_DOUBLE_EQ(exact(label, kPound * 4), 0.5);
  EXPECT_EQ(code(label, kPound * 4.5), "BAND_GAP");
  EXPECT_DOUBLE_EQ(exact(label, kPound * 5), 1);
}

// Milbemycin 2.5 mg + praziquantel 25 mg, EU and UK: 0.5 + 5 mg/kg at least (21 CFR 520.1445), from 0.5 kg and two
// weeks (product text); its table of weights is from memory.
TEST(DosePublished, ATableThatTouches) {
  auto p = product("milbemycin + praziquantel", "2.5 + 25 mg/tablet", "0.5-1 kg: 1/2; >1-5 kg: 1; >5-10 kg: 2");
  p.min_kg = Kilograms{0.5};
  const auto label = label_of(p);
  EXPECT_EQ(code(label, Kilograms{0.499}), "UNDER_WEIGHT");
  EXPECT_DOUBLE_EQ(exact(label, Kilograms{1.0}), 0.5);
  EXPECT_DOUBLE_EQ(exact(label, Kilograms{1.001}), 1);
  EXPECT_DOUBLE_EQ(exact(label, Kilograms{5}), 1);
  EXPECT_DOUBLE_EQ(exact(label, Kilograms{5.001}), 2);
  // Every line of it gives at least the regulation's least dose.
  for (double kg = 0.5; kg <= 10; kg += 0.05) EXPECT_GE(exact(label, Kilograms{kg}) * 2.5 / kg, 0.5 - 1e-9) << kg;
}

// UK and Irish product text (second-hand copy): 14.4 mg pyrantel embonate = 5.0 mg pyrantel, factor 2.88.
TEST(DosePublished, SaltToBase) {
  auto p = product("pyrantel embonate", "14.4 mg/ml", "5 mg/kg");
  p.strength_as = record::Basis::salt;
  p.dose_as = record::Basis::base;
  p.salt_per_base = 2.88;
  const auto label = label_of(p);
  EXPECT_NEAR(label.strength.mg.front().count(), 5.0, 1e-12);
  EXPECT_FALSE(label.strength_doubt);
  EXPECT_NEAR(exact(label, Kilograms{2}), 2.0, 1e-12);
  p.dose_as = record::Basis::salt;  // and a dose given in salt is converted too
  p.dose = "14.4 mg/kg";
  EXPECT_NEAR(exact(label_of(p), Kilograms{2}), 2.0, 1e-12);
  p.salt_per_base.reset();
  EXPECT_EQ(care::read_label(p, reference::built_in()).error().code, "LABEL_SALT");
  EXPECT_DOUBLE_EQ(reference::parameter(reference::built_in(), "embonate_per_pyrantel"), 14.4 / 5.0);
}

// 21 CFR 520.905b: fenbendazole granules 22.2 % (222 mg/g), 50 mg/kg a day on three days: 0.2252 g/kg, one gram for
// 4.44 kg (9.79 lb, the label's "10 lb") (arithmetic from it).
TEST(DosePublished, Granules) {
  auto p = product("fenbendazole", "222 mg/g", "50 mg/kg");
  p.mark_g = Grams{0.1};
  const auto label = label_of(p);
  EXPECT_NEAR(exact(label, Kilograms{1}), 0.2252, 0.00005);
  EXPECT_NEAR(exact(label, Kilograms{4.44}), 1.0, 0.0005);
  EXPECT_NEAR(exact(label, kPound * 9.79), 1.0, 0.0005);
}

// UK pack text, 666 mg sachets for pups of 12 weeks to 6 months: 6.6-13.2 kg one, 13.3-26.4 kg two, on three days. The
// text gives 6.5 and 6.6 kg as its floor; the higher is the cautious one. Comes to 50.5-100.9 mg/kg (arithmetic).
TEST(DosePublished, Sachets) {
  auto p = product("fenbendazole", "666 mg/sachet", "6.6-13.2 kg: 1 sachet; 13.3-26.4 kg: 2 sachets");
  p.min_kg = Kilograms{6.6};
  const auto label = label_of(p);
  EXPECT_EQ(code(label, Kilograms{6.5}), "UNDER_WEIGHT");
  EXPECT_EQ(code(label, Kilograms{13.25}), "BAND_GAP");
  EXPECT_NEAR(exact(label, Kilograms{6.6}) * 666 / 6.6, 100.9, 0.05);
  EXPECT_NEAR(exact(label, Kilograms{13.2}) * 666 / 13.2, 50.5, 0.05);
  // and the adults' 888.8 mg sachet, one for 8.8 kg: 101 mg/kg (same source)
  EXPECT_NEAR(exact(label_of("fenbendazole", "888,8 mg/sachet", "1 sachet per 8.8 kg"), Kilograms{8.8}) * 888.8 / 8.8,
              101, 0.05);
}

// Piperazine adipate 500 mg, Czech leaflet (second-hand): one tablet for 2.5 kg (200 mg/kg), at most six at once,
// another product under 1.25 kg.
TEST(DosePublished, APiperazineTablet) {
  auto p = product("piperazine adipate", "500 mg/tablet", "1 tablet per 2.5 kg");
  p.min_kg = Kilograms{1.25};
  p.at_most = 6;
  const auto label = label_of(p);
  EXPECT_NEAR(exact(label, Kilograms{2.5}) * 500 / 2.5, 200, 1e-9);
  EXPECT_DOUBLE_EQ(exact(label, Kilograms{15}), 6);
  EXPECT_EQ(code(label, Kilograms{15.1}), "OVER_MOST");
  EXPECT_EQ(code(label, Kilograms{1.24}), "UNDER_WEIGHT");
}

// Human strength of pyrantel, 50 mg/ml (article on a worked dose, second-hand): 0.9 ml for a dog of 20 lb, which is
// 5 mg/kg. 22 times the single and 11 times the double strength.
TEST(DosePublished, TheStrengthForPeople) {
  const auto label = label_of("pyrantel", "50 mg/ml", "5 mg/kg");
  EXPECT_NEAR(exact(label, kPound * 20), 0.9, 0.01);
  EXPECT_EQ(std::lround(50 / 2.27), 22);
  EXPECT_EQ(std::lround(50 / 4.54), 11);
}

// One table over nine weights, computed from the labels above (our arithmetic, three decimals). Columns: kg; pyrantel 5
// mg/kg in mg; ml of 4.54; ml of 2.27; 10 mg/kg as ml of 4.54 (0: over 5 lb); ml of 50; febantel + pyrantel (0:
// refused); fenbendazole ml a day; over three days; emodepside + toltrazuril.
struct Row {
  double kg, mg, ml_454, ml_227, ten_454, ml_50, febantel, fenbendazole, three_days, emodepside;
};
constexpr Row kRows[] = {{0.4, 2.0, 0.441, 0.881, 0.881, 0.040, 0, 0.20, 0.60, 0.20},
                         {0.6, 3.0, 0.661, 1.322, 1.322, 0.060, 0.6, 0.30, 0.90, 0.30},
                         {0.8, 4.0, 0.881, 1.762, 1.762, 0.080, 0.8, 0.40, 1.20, 0.40},
                         {1.0, 5.0, 1.101, 2.203, 2.203, 0.100, 1.0, 0.50, 1.50, 0.50},
                         {1.5, 7.5, 1.652, 3.304, 3.304, 0.150, 1.5, 0.75, 2.25, 0.75},
                         {2.0, 10.0, 2.203, 4.405, 4.405, 0.200, 2.0, 1.00, 3.00, 1.00},
                         {2.268, 11.34, 2.498, 4.996, 4.996, 0.227, 2.268, 1.134, 3.402, 1.134},
                         {3.0, 15.0, 3.304, 6.608, 0, 0.300, 3.0, 1.50, 4.50, 1.50},
                         {5.0, 25.0, 5.507, 11.013, 0, 0.500, 5.0, 2.50, 7.50, 2.50}};
TEST(DosePublished, NineWeights) {
  auto fine = product("pyrantel", "50 mg/ml", "5 mg/kg");
  fine.mark_ml = Millilitres{0.001};  // the smallest of these doses is 0.04 ml
  const auto strong = label_of(fine);
  const auto double_strength = label_of("pyrantel", "4.54 mg/ml", "5 mg/kg");
  const auto single = label_of("pyrantel", "2.27 mg/ml", "5 mg/kg");
  const auto ten = label_of("pyrantel", "4.54 mg/ml", "up to 5.0003 lb: 10 mg/kg");  // 2.268 kg is a hair over 5 lb
  for (const auto& row : kRows) {
    const Kilograms kg{row.kg};
    EXPECT_NEAR(exact(double_strength, kg) * 4.54, row.mg, 0.0005) << row.kg;
    EXPECT_NEAR(exact(double_strength, kg), row.ml_454, 0.0006) << row.kg;
    EXPECT_NEAR(exact(single, kg), row.ml_227, 0.0006) << row.kg;
    if (row.ten_454 > 0)
      EXPECT_NEAR(exact(ten, kg), row.ten_454, 0.0006) << row.kg;
    else
      EXPECT_EQ(code(ten, kg), "BAND_GAP") << row.kg;
    EXPECT_NEAR(exact(strong, kg), row.ml_50, 0.0006) << row.kg;
    if (row.febantel > 0)
      EXPECT_NEAR(exact(febantel_pyrantel(), kg), row.febantel, 0.0006) << row.kg;
    else
      EXPECT_EQ(code(febantel_pyrantel(), kg), "UNDER_WEIGHT") << row.kg;
    EXPECT_NEAR(exact(fenbendazole_suspension(), kg), row.fenbendazole, 0.0006) << row.kg;
    const std::vector<std::vector<care::WeightThen>> one{{{kg, kg}}};
    EXPECT_NEAR(care::to_buy(fenbendazole_suspension(), one).likely.count, row.three_days, 0.0006) << row.kg;
    EXPECT_NEAR(exact(emodepside_toltrazuril(), kg), row.emodepside, 0.0006) << row.kg;
  }
}

// Six pups of 0.55-0.81 kg, 4.08 kg together (our arithmetic): fenbendazole 2.04 ml a day and 6.12 ml over three,
// pyrantel 4.49 ml; the pup of 0.55 kg is under the febantel label's floor, the other five need 3.53 ml.
TEST(DosePublished, ALittersVolume) {
  std::vector<std::vector<care::WeightThen>> litter;
  double febantel = 0, daily = 0;
  int refused = 0;
  for (const double kg : {0.55, 0.62, 0.66, 0.70, 0.74, 0.81}) {
    litter.push_back({{Kilograms{kg}, Kilograms{kg}}});
    daily += exact(fenbendazole_suspension(), Kilograms{kg});
    if (code(febantel_pyrantel(), Kilograms{kg}) == "UNDER_WEIGHT")
      ++refused;
    else
      febantel += exact(febantel_pyrantel(), Kilograms{kg});
  }
  EXPECT_NEAR(daily, 2.04, 1e-9);
  const auto need = care::to_buy(fenbendazole_suspension(), litter);
  EXPECT_NEAR(need.likely.count, 6.12, 1e-9);
  EXPECT_EQ(need.doses, 18);
  EXPECT_NEAR(care::to_buy(label_of("pyrantel", "4.54 mg/ml", "5 mg/kg"), litter).likely.count, 4.49, 0.005);
  EXPECT_EQ(refused, 1);
  EXPECT_NEAR(febantel, 3.53, 1e-9);
}

// The dam (arithmetic): 25 mg/kg, 20 kg, 100 mg/ml are 5.0 ml a day. Daily from pregnancy day 40: to two days after a
// whelping on day 63, 26 doses and 130 ml (ESCCAP Guideline 1, reproduced); to day 14 after it at 50 mg/kg, 38 doses
// and 380 ml (Burke and Roberson 1983, abstract; names from memory). Whelped on day 60: 23. The end moves with the real
// whelping.
TEST(DosePublished, TheDamsCourse) {
  const CivilDay zero{std::chrono::days{20'000}};
  const auto day = [&](int n) { return zero + std::chrono::days{n}; };
  auto p = product("fenbendazole", "100 mg/ml", "25 mg/kg");
  const auto total = [&](int last) {
    p.days_in_row = care::daily_doses(day(40), day(last));
    const std::vector<std::vector<care::WeightThen>> dam{{{Kilograms{20}, Kilograms{20}}}};
    return care::to_buy(label_of(p), dam);
  };
  EXPECT_NEAR(exact(label_of(p), Kilograms{20}), 5.0, 1e-12);
  EXPECT_EQ(total(63 + 2).doses, 26);
  EXPECT_NEAR(total(63 + 2).likely.count, 130, 1e-9);
  EXPECT_EQ(total(60 + 2).doses, 23);
  p.dose = "50 mg/kg";
  EXPECT_EQ(total(63 + 14).doses, 38);
  EXPECT_NEAR(total(63 + 14).likely.count, 380, 1e-9);
  EXPECT_EQ(care::daily_doses(day(5), day(4)), 0);
}

// Small Animal Clinical Nutrition, 5th ed., Table 16-1: 3.5-6 % a day in weeks 2-4. Compounded (our arithmetic): a
// weight three days old makes the dose 10 to 16 % too little, one of the dose 14 days before leaves 44 to 62 % of what
// is needed.
TEST(DosePublished, HowWrongAnOldWeightIs) {
  const auto three = care::too_little(std::chrono::hours{72}, reference::built_in());
  EXPECT_NEAR(three.least.count(), 10, 0.5);
  EXPECT_NEAR(three.most.count(), 16, 0.5);
  const auto fourteen = care::too_little(std::chrono::hours{14 * 24}, reference::built_in());
  EXPECT_NEAR(100 - fourteen.least.count(), 62, 0.5);
  EXPECT_NEAR(100 - fourteen.most.count(), 44, 0.5);
}

// International pound of 1959, exact; 2.27 mg/lb is 5.0045 mg/kg (arithmetic).
TEST(DosePublished, Constants) {
  static_assert(kKilogramsPerPound > 0.4535923699 && kKilogramsPerPound < 0.4535923701);
  EXPECT_NEAR(2.27 / kKilogramsPerPound, 5.0045, 0.00005);
}

}  // namespace
}  // namespace lampside::testing
