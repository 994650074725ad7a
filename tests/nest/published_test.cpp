// The box and the pups' temperature by age, against the printed ranges, typed again.
#include <gtest/gtest.h>

#include <array>

#include "../advice/printed.hpp"
#include "../advice/story.hpp"

namespace lampside::testing {
namespace {

std::string box_at(double age_days, double celsius) {
  const auto a = Story{}.born("1", kNight - days(age_days), 400).air(celsius, kNight - minutes(1)).assess(kNight);
  if (find(a, "BOX_COLD")) return "cold";
  return find(a, "BOX_HOT") ? "hot" : "right";
}

// Dog Owner's Home Veterinary Handbook, 4th ed. 2007, incubator for pups: 85-90 °F (29.4-32.2 °C) in week 1, 80-85 °F
// (26.7-29.4 °C) in week 2, falling to 75 °F (23.9 °C) by the end of week 4; about 80 °F (26.7 °C) in weeks 2-4 by
// handouts.
TEST(Box, AtJustUnderJustOverEachLimitAtEachAge) {
  struct Range {
    double from_day, to_day, low, high;
  };
  constexpr std::array ranges{Range{0, 7, 29.4, 32.3}, Range{7, 14, 26.6, 29.5}, Range{14, 21, 25.5, 27.8},
                              Range{21, 28, 23.8, 26.7}, Range{28, 56, 21, 24}};
  const char* source =
      "Eldredge, Carlson, Carlson and Giffin 2007, Dog Owner's Home Veterinary Handbook, 4th ed., and notes";
  for (const auto& r : ranges)
    for (const double day : {r.from_day + 0.01, (r.from_day + r.to_day) / 2, r.to_day - 0.01}) {
      const auto check = [&](double celsius, const char* want) {
        EXPECT_TRUE(as_printed("box temperature", source, fmt::format("day {}, {} C under the lamp", day, celsius),
                               want, box_at(day, celsius)));
      };
      // The printed whole degrees Fahrenheit lie within 0.1 °C of these; either printed figure is right.
      check(r.low - 0.15, "cold");
      check(r.low + 0.1, "right");
      check(r.high - 0.1, "right");
      check(r.high + 0.15, "hot");
    }
  for (const double f : {85.0, 90.0})
    EXPECT_EQ(box_at(3, from_fahrenheit(f).count()), "right") << f << " F in week 1 [" << source << "]";
  for (const double f : {80.0, 85.0})
    EXPECT_EQ(box_at(10, from_fahrenheit(f).count()), "right") << f << " F in week 2 [" << source << "]";
  EXPECT_EQ(box_at(27, from_fahrenheit(75).count()), "right");
}

TEST(Box, SaysWhoseRangeItIs) {
  const auto a = Story{}.born("1", kNight - days(3), 400).air(25, kNight - minutes(1)).assess(kNight);
  ASSERT_NE(find(a, "BOX_COLD"), nullptr);
  EXPECT_NE(find(a, "BOX_COLD")->source.locator.find("week 1"), std::string_view::npos);
  EXPECT_NE(find(a, "BOX_COLD")->because.find("25.0 °C"), std::string::npos) << find(a, "BOX_COLD")->because;
}

// The keeper follows another source: the warnings, the time in the band and the lamp go by it, at the ages it speaks
// of. Merck Veterinary Manual, owners' version, as quoted: 80 °F on days 5 to 10; nothing after week 4.
TEST(Box, TheKeepersSourceIsFollowedWhereItSpeaks) {
  const auto at = [](double age, std::string_view line, double celsius) {
    Story s;
    s.born("1", kNight - days(age), 400).air(celsius, kNight - minutes(1));
    s.tell(kNight - hours(2), "", record::CareChoice{"box_target", std::string(line), {}});
    s.tell(kNight - hours(2), "", record::Lamp{Watts{150}, Centimetres{90}, {}});
    s.tell(kNight - hours(1), "", record::Air{Celsius{19}, record::AirPlace::room, {}});
    return s.assess(kNight);
  };
  const auto theirs = at(6, "owners_manual", 26.7), usual = at(6, "handbook", 26.7);
  EXPECT_EQ(find(theirs, "BOX_COLD"), nullptr);
  EXPECT_NE(find(usual, "BOX_COLD"), nullptr);
  EXPECT_EQ(theirs.warmth.below, Span{0});
  EXPECT_GT(usual.warmth.below, Span{0});
  EXPECT_GT(std::get<nest::LampAdvice>(theirs.lamp).now.height, std::get<nest::LampAdvice>(usual.lamp).now.height);
  const auto later = std::get<nest::BoxTarget>(at(30, "owners_manual", 22).nest.target);
  EXPECT_EQ(later.line, "handbook");
  EXPECT_EQ(later.asked, "owners_manual");
  for (const auto* none : {"nonsense", ""})
    EXPECT_EQ(std::get<nest::BoxTarget>(at(6, none, 30).nest.target).line, "handbook") << "not a line one can follow";
}

// SI 2018/486 (England), Sch 6 para 2(6): the whelping area 26 to 28 °C. Offered where it holds, and only there.
TEST(Box, TheLawOfAPlaceIsShownAndFollowedOnlyThere) {
  const auto in = [](std::optional<std::string> place) {
    Story s;
    record::LitterFacts f;
    f.place = std::move(place);
    s.facts(f).born("1", kNight - days(3), 400).air(27, kNight - minutes(1));
    return s;
  };
  const auto rows = [&](const Story& s) {
    int laws = 0;
    for (const auto* row : nest::box_rows(s.litter(), reference::built_in(), 3)) laws += row->places.empty() ? 0 : 1;
    return laws;
  };
  Story england = in("GB-ENG"), wales = in("GB-WLS"), nowhere = in({});
  EXPECT_EQ(rows(england), 1);
  EXPECT_EQ(rows(wales), 0);
  EXPECT_EQ(rows(nowhere), 0);
  EXPECT_TRUE(nest::box_rows(england.litter(), reference::built_in(), 3).front()->chosen) << "the followed one first";
  EXPECT_NE(find(england.assess(kNight), "BOX_COLD"), nullptr) << "shown, not followed, until the keeper says so";
  for (auto* s : {&england, &wales})
    s->tell(kNight - minutes(2), "", record::CareChoice{"box_target", "whelping_area_england", {}});
  const auto target = std::get<nest::BoxTarget>(england.assess(kNight).nest.target);
  EXPECT_EQ(target.low, Celsius{26});
  EXPECT_EQ(target.high, Celsius{28});
  EXPECT_EQ(find(england.assess(kNight), "BOX_COLD"), nullptr);
  EXPECT_NE(find(wales.assess(kNight), "BOX_COLD"), nullptr) << "no law there";
}

TEST(Box, OnlyTheWarmPlaceCountsAndOnlyWithPupsInIt) {
  Story s;
  s.born("1", kNight - days(3), 400).air(30, kNight - hours(1));
  s.tell(kNight - minutes(1), "", record::Air{Celsius{18}, record::AirPlace::cool_end, {}});
  s.tell(kNight - minutes(1), "", record::Air{Celsius{18}, record::AirPlace::room, {}});
  EXPECT_EQ(find(s.assess(kNight), "BOX_COLD"), nullptr) << "a cool end is meant to be cool";
  s.air(18, kNight - minutes(1));
  EXPECT_NE(find(s.assess(kNight), "BOX_COLD"), nullptr);
  s.tell(kNight, "1", record::Departure{});
  EXPECT_EQ(find(s.assess(kNight), "BOX_COLD"), nullptr);
}

// Between births the pups wait in a basket: it is held against the box's own range, for two hours after the reading.
TEST(Basket, IsHeldAgainstTheBoxsRange) {
  const auto basket = [](double celsius) {
    Story s;
    s.born("1", kNight - hours(1), 400);
    return s.tell(kNight, "", record::Air{Celsius{celsius}, record::AirPlace::basket, {}});
  };
  const auto cold = basket(24).assess(kNight + minutes(5));
  ASSERT_NE(find(cold, "BASKET_COLD"), nullptr) << codes(cold);
  EXPECT_NE(find(cold, "BASKET_COLD")->because.find("24.0 °C in the basket"), std::string::npos)
      << find(cold, "BASKET_COLD")->because;
  EXPECT_EQ(find(cold, "BOX_COLD"), nullptr) << "the basket is not the box";
  EXPECT_NE(find(basket(36).assess(kNight + minutes(5)), "BASKET_HOT"), nullptr);
  const auto right = basket(from_fahrenheit(87).count()).assess(kNight + minutes(5));
  EXPECT_EQ(find(right, "BASKET_COLD"), nullptr);
  EXPECT_EQ(find(right, "BASKET_HOT"), nullptr);
  EXPECT_TRUE(right.nest.basket);
  EXPECT_NE(find(basket(24).assess(kNight + hours(2) - Span{1}), "BASKET_COLD"), nullptr);
  EXPECT_EQ(find(basket(24).assess(kNight + hours(2)), "BASKET_COLD"), nullptr) << "pups do not wait so long";
}

TEST(Box, AStaleOrMissingReadingIsNotAnAnswer) {
  const auto s = Story{}.born("1", kNight - days(3), 400).air(20, kNight);
  EXPECT_NE(find(s.assess(kNight + hours(12) - Span{1}), "BOX_COLD"), nullptr);
  const auto later = s.assess(kNight + hours(12));
  EXPECT_EQ(find(later, "BOX_COLD"), nullptr);
  EXPECT_NE(find(later, "BOX_READING_OLD"), nullptr);
  ASSERT_TRUE(std::holds_alternative<reference::NotAssessed>(later.nest.under_lamp));
  EXPECT_EQ(std::get<reference::NotAssessed>(later.nest.under_lamp).code, "STALE");
  const auto none = Story{}.born("1", kNight, 400).assess(kNight + hours(1));
  EXPECT_NE(find(none, "BOX_READING_OLD"), nullptr);
  EXPECT_EQ(std::get<reference::NotAssessed>(none.nest.under_lamp).code, "NO_DATA");
  const auto old_pups = Story{}.born("1", kNight - days(57), 400).air(15, kNight).assess(kNight);
  EXPECT_EQ(std::get<reference::NotAssessed>(old_pups.nest.target).code, "NO_REFERENCE");
  EXPECT_EQ(find(old_pups, "BOX_COLD"), nullptr);
}

std::string pup_at(double age_days, double celsius) {
  const auto a =
      Story{}.born("1", kNight - days(age_days), 400).temperature("1", celsius, kNight - minutes(1)).assess(kNight);
  std::string out;
  for (const auto& f : a.findings)
    if (f.code.starts_with("PUP_"))
      out += (out.empty() ? "" : " and ") + fmt::format("{} {}", name_of(f.level), f.code);
  return out;
}

// "Hypothermia: therapeutic management" (veterinary reproduction teaching page): 0-7 days under 35, 7-21 under 36,
// 21-30 under 37 °C, severe under 31; Dog Owner's Home Veterinary Handbook: under 90 °F (32.2 °C) warming under a vet
// only. Small Animal Clinical Nutrition, 5th ed., Table 16-1, p. 297: weeks 1-2 up to 37.2 (99 °F), weeks 2-4 up
// to 37.8.
TEST(Pup, AtEachPrintedLimitAndEachPrintedAge) {
  const auto check = [](double age, double celsius, const char* want) {
    EXPECT_TRUE(as_printed("pup's temperature",
                           "teaching page on hypothermia; Dog Owner's Handbook; SACN 5th ed., Table 16-1",
                           fmt::format("day {}, {} C", age, celsius), want, pup_at(age, celsius)));
  };
  for (const double age : {1.0, 3.0, 6.9}) {
    check(age, 30.9, "emergency PUP_VERY_COLD");
    check(age, 31.0, "call_vet PUP_VERY_COLD");
    check(age, 32.1, "call_vet PUP_VERY_COLD");
    check(age, 32.2, "act PUP_COLD_TO_7D");
    check(age, 34.9, "act PUP_COLD_TO_7D");
    check(age, 35.0, "");
  }
  for (const double age : {7.1, 14.0, 20.9}) {
    check(age, 30.9, "emergency PUP_VERY_COLD");
    check(age, 35.9, "act PUP_COLD_TO_21D");
    check(age, 36.0, "");
  }
  for (const double age : {21.1, 29.9}) {
    check(age, 36.9, "act PUP_COLD_TO_30D");
    check(age, 37.0, "");
  }
  for (const double age : {1.1, 7.1, 13.9}) {
    check(age, 37.2, "");
    check(age, from_fahrenheit(99).count(), "");
    check(age, 37.3, "watch PUP_HOT_TO_14D");
  }
  for (const double age : {14.1, 27.9}) {
    check(age, 37.8, "");
    check(age, 37.9, "watch PUP_HOT_TO_28D");
  }
  check(40, 30.9, "emergency PUP_VERY_COLD");
}

TEST(Pup, TheLastReadingCountsForSixHours) {
  Story s;
  s.born("1", kNight - days(3), 400).temperature("1", 33.5, kNight);
  EXPECT_NE(find(s.assess(kNight + hours(6) - Span{1}), "PUP_COLD_TO_7D"), nullptr);
  EXPECT_EQ(find(s.assess(kNight + hours(6)), "PUP_COLD_TO_7D"), nullptr);
  s.temperature("1", 36, kNight + minutes(30));
  EXPECT_EQ(find(s.assess(kNight + hours(1)), "PUP_COLD_TO_7D"), nullptr);
}

}  // namespace
}  // namespace lampside::testing
