#include "measure/text.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <clocale>

namespace lampside {
namespace {

struct WeightRow {
  const char* typed;
  double grams;
};
// 1 lb = 453.59237 g exactly (international yard and pound agreement, 1959); 1 oz is its sixteenth.
constexpr WeightRow kWeights[] = {{"412", 412},
                                  {"412 g", 412},
                                  {"412g", 412},
                                  {"  412  g ", 412},
                                  {"412,5", 412.5},
                                  {"0.41 kg", 410},
                                  {"0,41kg", 410},
                                  {"14 3/8 oz", 14.375 * 28.349523125},
                                  {"14 3/8oz", 14.375 * 28.349523125},
                                  {"14.4 oz", 14.4 * 28.349523125},
                                  {"1 lb", 453.59237},
                                  {"1 lb 2 oz", 453.59237 + 2 * 28.349523125},
                                  {"1lb2.5oz", 453.59237 + 2.5 * 28.349523125},
                                  {"2 LBS", 2 * 453.59237},
                                  {"3/4 lb", 0.75 * 453.59237},
                                  {"412\xC2\xA0g", 412}};

TEST(ParseWeight, ReadsWhatKeepersType) {
  for (const auto& row : kWeights) {
    const auto got = parse_weight(row.typed);
    ASSERT_TRUE(got) << row.typed << ": " << to_text(got.error());
    EXPECT_NEAR(got->count(), row.grams, 1e-9) << row.typed;
  }
  EXPECT_NEAR(parse_weight("14 3/8", WeightUnit::ounces)->count(), 14.375 * 28.349523125, 1e-9);
  EXPECT_NEAR(parse_weight("1.5", WeightUnit::pounds)->count(), 1.5 * 453.59237, 1e-9);
}

TEST(ParseWeight, RefusesWithAdvice) {
  const std::pair<const char*, const char*> rows[] = {
      {"", "WEIGHT_FORMAT"},     {"g", "WEIGHT_FORMAT"},         {"abc", "WEIGHT_FORMAT"},
      {"-3", "WEIGHT_NEGATIVE"}, {"412 stone", "WEIGHT_UNIT"},   {"1.234,5", "WEIGHT_FORMAT"},
      {"0x1p3", "WEIGHT_UNIT"},  {"inf", "WEIGHT_FORMAT"},       {"nan", "WEIGHT_FORMAT"},
      {"1e3", "WEIGHT_UNIT"},    {"412 g 3", "WEIGHT_UNIT"},     {"2 oz 1 lb", "WEIGHT_FORMAT"},
      {"1/0", "WEIGHT_FORMAT"},  {"14 9/8 oz", "WEIGHT_FORMAT"}, {"1 2", "WEIGHT_FORMAT"}};
  for (const auto& [typed, code] : rows) {
    const auto got = parse_weight(typed);
    ASSERT_FALSE(got) << typed << " was read as " << got->count();
    EXPECT_EQ(got.error().code, code) << typed;
    EXPECT_FALSE(got.error().todo.empty()) << typed;
  }
}

TEST(ParseTemperature, ReadsBothScales) {
  EXPECT_NEAR(parse_temperature("37,2")->count(), 37.2, 1e-9);
  EXPECT_NEAR(parse_temperature("37.2 C")->count(), 37.2, 1e-9);
  EXPECT_NEAR(parse_temperature("98.9 F")->count(), (98.9 - 32) * 5 / 9, 1e-9);
  EXPECT_NEAR(parse_temperature("98.9\xC2\xB0"
                                "F")
                  ->count(),
              (98.9 - 32) * 5 / 9, 1e-9);
  EXPECT_NEAR(parse_temperature("98.6", TemperatureUnit::fahrenheit)->count(), 37, 1e-9);
  EXPECT_NEAR(parse_temperature("-5")->count(), -5, 1e-9);
  EXPECT_EQ(parse_temperature("37.2 K").error().code, "TEMP_UNIT");
  EXPECT_EQ(parse_temperature("3/8").error().code, "TEMP_FORMAT");
  EXPECT_EQ(parse_temperature("warm").error().code, "TEMP_FORMAT");
}

TEST(Say, PrintsInTheKeepersUnits) {
  EXPECT_EQ(say(Grams{412.4}), "412 g");
  EXPECT_EQ(say(Grams{1240}), "1240 g");
  EXPECT_EQ(say(Grams{14.375 * kGramsPerOunce}, WeightUnit::ounces), "14 3/8 oz");
  EXPECT_EQ(say(Grams{18 * kGramsPerOunce}, WeightUnit::ounces), "1 lb 2 oz");
  EXPECT_EQ(say(Grams{16 * kGramsPerOunce}, WeightUnit::ounces), "1 lb");
  EXPECT_EQ(say(Grams{0}, WeightUnit::ounces), "0 oz");
  EXPECT_EQ(say(Grams{kGramsPerOunce / 4}, WeightUnit::ounces), "1/4 oz");
  EXPECT_EQ(say(Grams{-2 * kGramsPerOunce}, WeightUnit::ounces), "-2 oz");
  EXPECT_EQ(say(Celsius{37.25}, TemperatureUnit::fahrenheit), "99.0 °F");
  EXPECT_EQ(say(CelsiusDelta{1}, TemperatureUnit::fahrenheit), "1.8 °F");
  EXPECT_EQ(say(Percent{-4.25}), "-4.2 %");
  EXPECT_EQ(say_number(-0.001, 1), "0");
}

RC_GTEST_PROP(Text, WeightSurvivesPrintingInGrams, ()) {
  const int grams = *rc::gen::inRange(0, 200000);
  RC_ASSERT(parse_weight(say(Grams{static_cast<double>(grams)}))->count() == grams);
}
RC_GTEST_PROP(Text, WeightSurvivesPrintingInOunces, ()) {
  const int eighths = *rc::gen::inRange(0, 16 * 8 * 100);
  const Grams g{eighths * kGramsPerOunce / 8};
  RC_ASSERT(std::abs(parse_weight(say(g, WeightUnit::ounces))->count() - g.count()) < 1e-6);
}
RC_GTEST_PROP(Text, NoInputBreaksTheParsers, (const std::string& any)) {
  (void)parse_weight(any);
  (void)parse_temperature(any);
  const auto n = parse_number(any);
  RC_ASSERT(!n || std::isfinite(*n));
}

// A German locale writes 37,2 and reads "37.2" as 37: neither may change what Lampside reads and prints.
TEST(Text, LocaleChangesNothing) {
  const char* set = std::setlocale(LC_ALL, "de_DE.UTF-8");
  EXPECT_NEAR(parse_temperature("37.2")->count(), 37.2, 1e-9);
  EXPECT_EQ(say(Celsius{37.2}), "37.2 °C");
  std::setlocale(LC_ALL, "C");
  RecordProperty("german_locale_present", set ? "yes" : "no");
}

}  // namespace
}  // namespace lampside
