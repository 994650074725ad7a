// What a keeper may type of a label, and what is refused with advice.
#include <gtest/gtest.h>

#include <map>

#include "labels.hpp"

namespace lampside::testing {
namespace {

using care::Measured;
using care::parse_strength;

TEST(Strength, WaysOfTypingIt) {
  const auto is = [](std::string_view text, Measured per, std::vector<double> mg) {
    const auto got = parse_strength(text);
    ASSERT_TRUE(got) << text << ": " << to_text(got.error());
    EXPECT_EQ(got->per, per) << text;
    ASSERT_EQ(got->mg.size(), mg.size()) << text;
    for (std::size_t i = 0; i < mg.size(); ++i) EXPECT_NEAR(got->mg[i].count(), mg[i], 1e-9) << text;
  };
  is("4.54 mg/ml", Measured::ml, {4.54});
  is("4,54mg/mL", Measured::ml, {4.54});
  is(" 4.54 mg per ml ", Measured::ml, {4.54});
  is("22.7 mg/5 ml", Measured::ml, {4.54});
  is("22,7 mg/tab", Measured::tablets, {22.7});
  is("22.7 mg per tablet", Measured::tablets, {22.7});
  is("666 mg/sachet", Measured::tablets, {666});
  is("222 mg/g", Measured::grams, {222});
  is("15 + 5 mg/ml", Measured::ml, {15, 5});
  is("15 mg + 5 mg/ml", Measured::ml, {15, 5});
  is("22.7+22.7+113.4 mg/tablet", Measured::tablets, {22.7, 22.7, 113.4});
  is("100 g/l", Measured::ml, {100});
  is("900 µg/ml", Measured::ml, {0.9});
}

TEST(Strength, WhatIsRefusedSaysWhatToDo) {
  const std::map<std::string, std::pair<std::string, std::string>> cases{
      {"", {"STRENGTH_EMPTY", "4.54 mg/ml"}},          {"10 %", {"STRENGTH_PERCENT", "100 mg/ml"}},
      {"10%", {"STRENGTH_PERCENT", "100 mg/ml"}},      {"22.2 % w/w", {"STRENGTH_PERCENT", "222 mg/g"}},
      {"1:10", {"STRENGTH_RATIO", "ask your vet"}},    {"4.54", {"STRENGTH_UNIT", "mg/ml"}},
      {"4.54 mg", {"STRENGTH_UNIT", "mg/ml"}},         {"5 mg/kg", {"STRENGTH_UNIT", "mg/ml"}},
      {"5 iu/ml", {"STRENGTH_UNIT", "mg/ml"}},         {"strong", {"STRENGTH_NUMBER", "mg/ml"}},
      {"1,234.5 mg/ml", {"STRENGTH_NUMBER", "mg/ml"}}, {"-5 mg/ml", {"STRENGTH_NUMBER", "mg/ml"}},
      {"0 mg/ml", {"STRENGTH_NUMBER", "mg/ml"}},       {"5000 mg/ml", {"STRENGTH_NUMBER", "mg/ml"}}};
  for (const auto& [text, want] : cases) {
    const auto got = parse_strength(text);
    ASSERT_FALSE(got) << text;
    EXPECT_EQ(got.error().code, want.first) << text;
    EXPECT_NE(got.error().todo.find(want.second), std::string::npos) << text << ": " << got.error().todo;
  }
}

TEST(Directions, WhatIsRefused) {
  const std::map<std::string, std::string> cases{{"", "DOSE_EMPTY"},
                                                 {" ; ", "DOSE_EMPTY"},
                                                 {"1/2", "DOSE_UNIT"},
                                                 {"plenty", "DOSE_FORMAT"},
                                                 {"0 mg/kg", "DOSE_FORMAT"},
                                                 {"5 mg/ml", "DOSE_UNIT"},
                                                 {"1 ml/kg", "DOSE_UNIT"},  // the strength is per tablet
                                                 {"5 mg", "DOSE_UNIT"},
                                                 {"small dogs: 1/2", "DOSE_WEIGHTS"},
                                                 {"1.8-0.9 kg: 1/2", "DOSE_WEIGHTS"},
                                                 {"0.9 kg: 1/2", "DOSE_WEIGHTS"},
                                                 {"1-5 kg: 1; 5-10 kg: 2", "DOSE_OVERLAP"},
                                                 {"5 mg/kg; 10 mg/kg", "DOSE_OVERLAP"}};
  for (const auto& [text, want] : cases) {
    const auto got = care::parse_directions(text, Measured::tablets);
    ASSERT_FALSE(got) << text;
    EXPECT_EQ(got.error().code, want) << text;
  }
  EXPECT_TRUE(care::parse_directions("1-5 kg: 1; over 5 kg: 2", Measured::tablets));  // the good twin
}

TEST(LabelReading, NothingIsAssumed) {
  const auto code_of = [](const record::Product& p) { return care::read_label(p, reference::built_in()).error().code; };
  const auto good = product("pyrantel", "4.54 mg/ml", "5 mg/kg");
  ASSERT_TRUE(care::read_label(good, reference::built_in()));
  auto p = good;
  p.strength.reset();
  EXPECT_EQ(code_of(p), "LABEL_NO_STRENGTH");
  p = good, p.dose.reset();
  EXPECT_EQ(code_of(p), "LABEL_NO_DOSE");
  p = good, p.mark_ml.reset();
  EXPECT_EQ(code_of(p), "LABEL_MARK");
  p = good, p.active = "febantel + pyrantel";
  EXPECT_EQ(code_of(p), "LABEL_ACTIVES");
  p = good, p.strength = "15 + 5 mg/ml", p.active = "febantel + pyrantel";
  EXPECT_EQ(code_of(p), "LABEL_ACTIVES") << "one dose for two actives";
  p.dose = "5 + 15 mg/kg";
  EXPECT_EQ(code_of(p), "LABEL_DISAGREES") << "the order is turned round";
  p = good, p.parts = 3;
  EXPECT_EQ(code_of(p), "LABEL_PARTS");
}

// Pyrantel is in print as 2.27 (from memory), 4.54 (from memory), 5 and 50 mg/ml (second-hand): a typed strength beside
// all of them is asked about, with what it looks like.
TEST(LabelReading, AStrengthThatLooksLikeAnother) {
  const auto doubt = [](const char* strength, const char* active = "pyrantel") {
    return label_of(active, strength, "5 mg/kg").strength_doubt.value_or("");
  };
  for (const char* good : {"2.27 mg/ml", "4.54 mg/ml", "4.5 mg/ml", "5 mg/ml", "50 mg/ml", "22.7 mg/tablet"})
    EXPECT_EQ(doubt(good), "") << good;
  EXPECT_NE(doubt("45.4 mg/ml").find("point in another place"), std::string::npos) << doubt("45.4 mg/ml");
  EXPECT_NE(doubt("0.454 mg/ml").find("point in another place"), std::string::npos);
  EXPECT_NE(doubt("14.4 mg/ml").find("salt"), std::string::npos) << doubt("14.4 mg/ml");
  EXPECT_NE(doubt("144 mg/ml").find("salt"), std::string::npos);
  EXPECT_NE(doubt("113.5 mg/ml").find("tablet"), std::string::npos) << doubt("113.5 mg/ml");
  EXPECT_NE(doubt("7 mg/ml").find("none of the strengths in print"), std::string::npos);
  EXPECT_EQ(doubt("7 mg/ml", "a new active"), "") << "nothing in print to hold it against";
  EXPECT_NE(
      care::other_strengths(label_of("pyrantel", "2.27 mg/ml", "5 mg/kg"), reference::built_in()).find("22 times"),
      std::string::npos);
}

TEST(Actives, OneNameHoldsAnother) {
  EXPECT_TRUE(care::names_active({"pyrantel embonate"}, "pyrantel"));
  EXPECT_FALSE(care::names_active({"oxypyrantel"}, "pyrantel"));
  EXPECT_EQ(care::actives_of("Febantel + Pyrantel"), (std::vector<std::string>{"febantel", "pyrantel"}));
}

TEST(Dose, ALabelThatSaysAtLeastShowsBothNeighbours) {
  const auto label = us_pyrantel_tablets();
  const auto worked = care::dosage(label, kPound * 3);  // 0.6 tablet, halves
  const auto* dose = reference::value_of(worked);
  ASSERT_NE(dose, nullptr);
  EXPECT_DOUBLE_EQ(dose->give.count, 0.5);
  ASSERT_TRUE(dose->above);
  EXPECT_DOUBLE_EQ(dose->above->count, 1);
  EXPECT_NEAR(dose->above_gives.front().count(), 22.7 / (3 * kPound.count()), 1e-9);
  const auto whole = care::dosage(label, kPound * 5);  // just one tablet
  EXPECT_FALSE(std::get<care::Dosage>(whole).above);
}

TEST(Dose, QuartersHalvesAndTooSmall) {
  auto p = product("pyrantel", "22.7 mg/tablet", "5 mg/kg");
  p.parts = 4;
  EXPECT_DOUBLE_EQ(std::get<care::Dosage>(care::dosage(label_of(p), Kilograms{3.5})).give.count, 0.75);
  p.parts = 2;
  EXPECT_DOUBLE_EQ(std::get<care::Dosage>(care::dosage(label_of(p), Kilograms{3.5})).give.count, 0.5);
  p.parts = 1;
  EXPECT_EQ(code(label_of(p), Kilograms{3.5}), "TOO_SMALL");
  p.dose = "1-5 kg: 1/2";
  EXPECT_EQ(code(label_of(p), Kilograms{3}), "CANNOT_CUT");
  auto liquid = product("pyrantel", "50 mg/ml", "5 mg/kg");
  liquid.mark_ml = Millilitres{0.1};
  EXPECT_EQ(code(label_of(liquid), Kilograms{0.8}), "TOO_SMALL");  // 0.08 ml by a syringe that shows tenths
}

TEST(Dose, SaidForPeople) {
  EXPECT_EQ(care::say({Measured::tablets, 1.5}), "1 1/2 tablets");
  EXPECT_EQ(care::say({Measured::tablets, 0.25}), "1/4 tablet");
  EXPECT_EQ(care::say({Measured::tablets, 1}), "1 tablet");
  EXPECT_EQ(care::say({Measured::ml, 0.85}), "0.85 ml");
  EXPECT_EQ(care::say({Measured::grams, 0.225}), "0.225 g");
}

}  // namespace
}  // namespace lampside::testing
