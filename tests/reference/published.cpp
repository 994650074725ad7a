// The tables against the printed values, typed again here and not copied from the TOML.
#include <gtest/gtest.h>

#include <fmt/format.h>
#include <array>
#include <cmath>

#include "reference/tables.hpp"

namespace lampside::reference {
namespace {

bool within(double got, double want, double tolerance) {
  return std::isfinite(got) && std::fabs(got - want) <= tolerance;
}

::testing::AssertionResult same(std::string_view what, std::string_view source, double got, double want,
                                double tolerance) {
  if (within(got, want, tolerance)) return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure() << fmt::format("{}: [{}]\n  want {} | got {} | error {} | tolerance {}", what,
                                                      source, want, got, got - want, tolerance);
}

TEST(Comparer, SeesTheSignAndRefusesNotANumber) {
  EXPECT_TRUE(within(-4.0, -4.0, 0.001));
  EXPECT_FALSE(within(-4.0, 4.0, 0.001));
  EXPECT_FALSE(within(std::nan(""), 4.0, 1e9));
}

// Mugnier et al. 2020, Low and very low birth weight in puppies, BMC Veterinary Research 16:363.
// Table 1: mean and SD of birth weight, mean and SD of litter size. Table 2: normal at or above, very low below,
// and the share of live-born dead by day 21 in the normal, low and very low class.
struct Breed {
  const char* name;
  double mean, sd, litter, litter_sd, normal, very_low, dead_normal, dead_low, dead_very_low;
};
constexpr std::array kMugnier{
    Breed{"Australian Shepherd", 363.8, 82.6, 7.6, 2.1, 375, 213, 3.4, 4.1, 45.5},
    Breed{"Bichon Frise", 180.1, 35.6, 6.4, 1.9, 181, 163.5, 15.2, 16.7, 42.4},
    Breed{"Cocker Spaniel", 262.6, 59.4, 5.7, 1.9, 280, 142.5, 3.5, 6.1, 68.4},
    Breed{"German Shepherd", 513.7, 90.8, 7.0, 2.9, 480, 338, 3.3, 12.2, 71.4},
    Breed{"Golden Retriever", 394.8, 76.8, 7.8, 2.8, 417, 177.5, 4.5, 8.1, 66.7},
    Breed{"Labrador Retriever", 409.9, 69.2, 7.8, 2.7, 406, 248, 2.8, 8.7, 57.7},
    Breed{"Maltese", 161.9, 34.2, 5.1, 1.8, 163, 115.5, 8.2, 11.7, 57.1},
    Breed{"Rottweiler", 403.8, 58.6, 8.2, 2.4, 410, 345, 10.7, 17.5, 53.3},
    Breed{"Shih Tzu", 175.5, 27.9, 5.3, 2.1, 176, 128.5, 9.0, 20.0, 75.0},
    Breed{"West Highland White Terrier", 192.1, 36.3, 5.3, 1.6, 190, 129, 5.6, 13.1, 53.8},
};

TEST(BirthWeights, AllTenBreedsAsPrinted) {
  EXPECT_EQ(built_in().birth_weights.size(), kMugnier.size());
  for (const auto& want : kMugnier) {
    const auto* got = birth_weight_class(built_in(), want.name);
    ASSERT_NE(got, nullptr) << want.name;
    const auto check = [&](const char* column, const char* table, double g, double w) {
      EXPECT_TRUE(same(fmt::format("birth_weights: {} of {}", column, want.name),
                       fmt::format("Mugnier et al. 2020, BMC Vet Res 16:363, {}, row \"{}\"", table, want.name), g, w,
                       1e-9));
    };
    check("mean", "Table 1", got->mean_g.count(), want.mean);
    check("SD", "Table 1", got->sd_g.count(), want.sd);
    check("litter size", "Table 1", got->litter_mean, want.litter);
    check("litter size SD", "Table 1", got->litter_sd, want.litter_sd);
    check("normal from", "Table 2", got->normal_from_g.count(), want.normal);
    check("very low below", "Table 2", got->very_low_below_g.count(), want.very_low);
    check("dead, normal", "Table 2", got->dead_normal_pct.count(), want.dead_normal);
    check("dead, low", "Table 2", got->dead_low_pct.count(), want.dead_low);
    check("dead, very low", "Table 2", got->dead_very_low_pct.count(), want.dead_very_low);
  }
}

TEST(BirthWeights, FoundByNameIgnoringCase) {
  const auto& reference = built_in();
  ASSERT_NE(birth_weight_class(reference, "golden RETRIEVER"), nullptr);
  EXPECT_EQ(birth_weight_class(reference, "golden RETRIEVER")->breed, "Golden Retriever");
  EXPECT_EQ(birth_weight_class(reference, "Golden"), nullptr);
  EXPECT_EQ(birth_weight_class(reference, "Golden Retriever x"), nullptr);
  EXPECT_EQ(birth_weight_class(reference, ""), nullptr);
}

// The 45-bitch study (Tsutsui and Murata 1982; names and year from memory), abstract: 38.0 °C two to three days before,
// 37.4 at 20 h, 37.0 at 10 h, 37.4 at 1 h. From the first reading of 37.5 or below to birth: 13-33 h.
TEST(TemperatureCourse, AsPrinted) {
  constexpr std::array<std::array<double, 2>, 5> want{{{72, 38.0}, {48, 38.0}, {20, 37.4}, {10, 37.0}, {1, 37.4}}};
  const auto got = built_in().temperature_course;
  ASSERT_EQ(got.size(), want.size());
  for (std::size_t i = 0; i < want.size(); ++i) {
    const auto source = fmt::format("45 bitches, abstract, {} h before", want[i][0]);
    EXPECT_TRUE(same("temperature_course: hours", source, got[i].before_h.count(), want[i][0], 1e-9));
    EXPECT_TRUE(same("temperature_course: temperature", source, got[i].celsius.count(), want[i][1], 1e-9));
  }
}

// Veronesi et al. 2009, Theriogenology 72:401-407, abstract: 0-3, 4-6, 7-10.
TEST(NewbornScore, BandsAsPrinted) {
  const auto bands = built_in().score_bands;
  ASSERT_EQ(bands.size(), 3U);
  constexpr std::array<std::array<int, 2>, 3> want{{{0, 3}, {4, 6}, {7, 10}}};
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_EQ(bands[i].from, want[i][0]) << "score_bands row " << i << " [Veronesi et al. 2009, abstract]";
    EXPECT_EQ(bands[i].to, want[i][1]) << "score_bands row " << i << " [Veronesi et al. 2009, abstract]";
    EXPECT_EQ(bands[i].source.standing, Standing::published);
  }
}

TEST(NewbornScore, FiveItemsEachFromMemoryAndSaidSo) {
  const auto criteria = built_in().score_criteria;
  constexpr std::array<std::string_view, 5> want{"heart", "breathing", "reflex", "movement", "colour"};
  ASSERT_EQ(criteria.size(), want.size());
  for (std::size_t i = 0; i < want.size(); ++i) {
    EXPECT_EQ(criteria[i].item, want[i]);
    EXPECT_EQ(criteria[i].source.standing, Standing::from_memory) << want[i];
  }
}

struct Interval {
  const char *anchor, *breed;
  double mean, sd;
  const char* source;
};
constexpr std::array kIntervals{
    Interval{"lh_surge", "", 65, 1.9, "Hollinshead and Hanlon 2017, Theriogenology 101:62-72, abstract"},
    Interval{"ovulation", "", 63.1, 2.1, "Mir et al. 2011, Reprod Dom Anim 46:994-998, abstract"},
    Interval{"progesterone_rise", "Labrador Retriever", 62.9, 1.3, "Eilts et al. 2005, Theriogenology 64, abstract"},
    Interval{"progesterone_rise", "German Shepherd", 63.6, 2.1, "Eilts et al. 2005, Theriogenology 64, abstract"},
    Interval{"progesterone_rise", "Golden Retriever", 64.7, 1.5, "Eilts et al. 2005, Theriogenology 64, abstract"},
    Interval{"mating", "", 61.4, 1.5, "Okkens et al. 2001, J Reprod Fertil Suppl 57, abstract"},
};

TEST(DueIntervals, PublishedRowsAsPrinted) {
  for (const auto& want : kIntervals) {
    bool found = false;
    for (const auto& got : built_in().due_intervals)
      found |= got.anchor == want.anchor && got.breed == want.breed && within(got.mean_d.count(), want.mean, 1e-9) &&
               within(got.sd_d.count(), want.sd, 1e-9);
    EXPECT_TRUE(found) << "due_intervals: " << want.anchor << " " << want.breed << " [" << want.source << "]\n  want "
                       << want.mean << " +/- " << want.sd << " d | got no such row";
  }
}

TEST(DueIntervals, OneChosenRowAnAnchorAndItIsForAnyBreed) {
  for (const std::string_view anchor : {"lh_surge", "ovulation", "dioestrus", "mating", "progesterone_rise"}) {
    int chosen = 0;
    for (const auto& row : built_in().due_intervals)
      if (row.anchor == anchor && row.chosen) {
        ++chosen;
        EXPECT_TRUE(row.breed.empty()) << anchor;
      }
    EXPECT_EQ(chosen, 1) << anchor;
  }
}

// The spread of the dioestrus row is ours: it must give back the shares printed by De Cramer and Nöthling 2017,
// Theriogenology 96:153-157 (n 242): 88 % within 1 day, 99 % within 2, counted as whole calendar days (k + 0.5).
TEST(DueIntervals, DioestrusSpreadGivesBackThePrintedShares) {
  for (const auto& row : built_in().due_intervals) {
    if (row.anchor != "dioestrus" || !row.chosen) continue;
    const auto share = [&](double k) { return std::erf((k + 0.5) / row.sd_d.count() / std::sqrt(2.0)); };
    EXPECT_TRUE(same("dioestrus within 1 day", "De Cramer and Nöthling 2017", share(1), 0.88, 0.02));
    EXPECT_TRUE(same("dioestrus within 2 days", "De Cramer and Nöthling 2017", share(2), 0.99, 0.01));
  }
}

// Small Animal Clinical Nutrition, 5th ed. 2010, Table 16-1, p. 297.
TEST(RectalTemperatures, PupsAsPrinted) {
  struct Want {
    double from, to, low, high;
  };
  constexpr std::array want{Want{0, 1, 35.5 - 0.8, 35.5 + 0.8}, Want{1, 14, 34.5, 37.2}, Want{14, 28, 36.0, 37.8},
                            Want{28, 56, 37.8, 38.3}};
  std::size_t i = 0;
  for (const auto& row : built_in().rectal_temperatures) {
    if (row.about != "pup") continue;
    ASSERT_LT(i, want.size());
    const auto source = fmt::format("SACN 5th ed., Table 16-1, p. 297, day {}-{}", want[i].from, want[i].to);
    EXPECT_TRUE(same("from day", source, row.from_d.count(), want[i].from, 1e-9));
    EXPECT_TRUE(same("to day", source, row.to_d.count(), want[i].to, 1e-9));
    EXPECT_TRUE(same("low", source, row.low_c.count(), want[i].low, 1e-9));
    EXPECT_TRUE(same("high", source, row.high_c.count(), want[i].high, 1e-9));
    ++i;
  }
  EXPECT_EQ(i, want.size());
}

TEST(BoxTemperatures, ChosenRowsCoverDay0To56WithoutAGap) {
  double reached = 0;
  for (const auto& row : built_in().box_temperatures) {
    EXPECT_LT(row.low_c, row.high_c);
    if (!row.chosen) continue;
    EXPECT_EQ(row.from_d.count(), reached);
    EXPECT_GT(row.to_d.count(), reached);
    reached = row.to_d.count();
  }
  EXPECT_EQ(reached, 56);
}

// What a keeper may follow instead: no line speaks twice of a day, none is narrower than a sensor's trembling, and the
// outliers (35-37 °C, 24-27 °C) are no choice.
TEST(BoxTemperatures, LinesToChooseDoNotOverlapAndOutliersAreNone) {
  const auto rows = built_in().box_temperatures;
  for (const auto& a : rows) {
    if (a.note.find("outlier") != std::string_view::npos) {
      EXPECT_EQ(a.line, "") << a.note;
    }
    if (a.line.empty()) continue;
    EXPECT_GE((a.high_c - a.low_c).count(), 1.9) << a.line;
    for (const auto& b : rows)
      if (&a != &b && a.line == b.line) {
        EXPECT_TRUE(a.to_d <= b.from_d || b.to_d <= a.from_d) << a.line;
      }
  }
}

// Dog Owner's Home Veterinary Handbook, 4th ed., incubator for pups: 85-90 °F (29.4-32.2 °C) in week 1, 80-85 °F
// (26.7-29.4 °C) in week 2, 75 °F (23.9 °C) by the end of week 4. A keeper who reads either printed figure is inside.
TEST(BoxTemperatures, ThePrintedFigureIsInsideInBothUnits) {
  const auto inside = [](double day, Celsius c) {
    for (const auto& row : built_in().box_temperatures)
      if (row.chosen && row.from_d.count() <= day && day < row.to_d.count()) return row.low_c <= c && c <= row.high_c;
    return false;
  };
  for (const auto c : {Celsius{29.4}, Celsius{32.2}, from_fahrenheit(85), from_fahrenheit(90)})
    EXPECT_TRUE(inside(3, c)) << c.count();
  for (const auto c : {Celsius{26.7}, Celsius{29.4}, from_fahrenheit(80), from_fahrenheit(85)})
    EXPECT_TRUE(inside(10, c)) << c.count();
  for (const auto c : {Celsius{26.7}, from_fahrenheit(80)}) EXPECT_TRUE(inside(17, c)) << c.count();
  for (const auto c : {Celsius{23.9}, from_fahrenheit(75)}) EXPECT_TRUE(inside(27, c)) << c.count();
  EXPECT_FALSE(inside(3, Celsius{29.3}));
  EXPECT_FALSE(inside(3, Celsius{32.3}));
  EXPECT_FALSE(inside(10, Celsius{26.6}));
  EXPECT_FALSE(inside(10, Celsius{29.5}));
}

}  // namespace
}  // namespace lampside::reference
