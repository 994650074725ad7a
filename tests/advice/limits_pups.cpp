// Weights, the pups' own temperature, the box, and the record itself.
#include "limits.hpp"

namespace lampside::testing {
namespace {

/// A pup of 500 g at birth, weighed again at that age with that change.
auto change_by(double age_days) {
  return [=](double pct) {
    return Story{}.born("1", kNight - days(age_days), 500).weighed("1", 500 * (1 + pct / 100), kNight).assess(kNight);
  };
}
/// Weighed three days apart, gaining that many percent a day, up to that age.
auto gaining(double age_days) {
  return [=](double pct) {
    return Story{}
        .born("1", kNight - days(age_days))
        .weighed("1", 500, kNight - days(3))
        .weighed("1", 500 * std::pow(1 + pct / 100, 3), kNight)
        .assess(kNight);
  };
}
/// Four pups; the first so much lighter than the mean of all four.
advice::Assessment light(double pct) {
  const double r = pct / 100;
  Story story;
  story.born("1", kNight - hours(5), 3 * 400 * (1 + r) / (3 - r));
  for (const char* other : {"2", "3", "4"}) story.born(other, kNight - hours(4), 400);
  return story.assess(kNight);
}
/// Above the best growth published between day 3 and day 4 (Alves 2020: P = P0 exp(0.13084 x - 0.001616 x^2)).
advice::Assessment above_the_best(double pct) {
  const double best = std::exp(0.13084 * (4 - 3) - 0.001616 * (16 - 9));
  return Story{}
      .born("1", kNight - days(4))
      .weighed("1", 600, kNight - days(1))
      .weighed("1", 600 * best * (1 + pct / 100), kNight)
      .assess(kNight);
}
/// Six hours of age; n grams under that breed's limit (Golden Retriever: the table's own row).
auto under_class(bool very) {
  return [very](double n) {
    const auto* row = reference::birth_weight_class(reference::built_in(), "Golden Retriever");
    const double limit = (very ? row->very_low_below_g : row->normal_from_g).count();
    return Story{}.breed("Golden Retriever").born("1", kNight - hours(6), limit - n).assess(kNight);
  };
}
/// n readings outside the range for the age of two days.
auto box_readings(bool cold, record::AirPlace where = record::AirPlace::under_lamp) {
  return [=](double n) {
    Story story;
    story.born("1", kNight - days(2), 400).air(30, kNight - hours(9));
    for (int i = 0; i < std::lround(n); ++i)
      story.tell(kNight - hours(1) + minutes(i), "", record::Air{Celsius{cold ? 25.0 : 35.0}, where, {}});
    return story.assess(kNight);
  };
}
auto pup_at(double age_days) {
  return [=](double c) {
    return Story{}.born("1", kNight - days(age_days), 400).temperature("1", c, kNight - minutes(5)).assess(kNight);
  };
}
/// Four pups at day 5, of which n have not gained in a day.
advice::Assessment not_gaining(double n) {
  Story story;
  for (int i = 1; i <= 4; ++i) {
    const std::string label = std::to_string(i);
    story.born(label, kNight - days(5), 400)
        .weighed(label, 550, kNight - days(1))
        .weighed(label, i <= n ? 550 : 590, kNight);
  }
  return story.assess(kNight);
}
/// Under 1: a scale that shows grams; from 1 on whole ounces (28.3 g), one of them lost; from 10 on that is a tenth.
advice::Assessment coarse(double n) {
  record::LitterFacts f;
  f.scale_g = Grams{n >= 1 ? 28.3 : 1};
  const double grams = n >= 10 ? 250 : 450;
  return Story{}.facts(f).born("1", kNight - days(1), grams).weighed("1", grams - 28, kNight).assess(kNight);
}

/// A pup of day 10 whose last weight makes the chance that it is slow that many percent.
advice::Assessment slow_chance(double pct) {
  const auto with = [](double grams) {
    return Story{}
        .born("1", kNight - days(10), 400)
        .weighed("1", 712, kNight - days(2.4))
        .weighed("1", 706, kNight - days(1.6))
        .weighed("1", 700, kNight - days(0.8))
        .weighed("1", grams, kNight)
        .assess(kNight);
  };
  double slow = 700.1, fast = 800;
  for (int i = 0; i < 100; ++i) {
    const double grams = (slow + fast) / 2;
    const auto pace = std::get<growth::Pace>(with(grams).pups.at(0).pace);
    (100 * pace.chance_slow > pct ? slow : fast) = grams;
  }
  return with(slow);
}
/// Four pups weighed daily; on the last day the point slipped in n weights.
advice::Assessment slipped(double n) {
  Story story;
  for (int i = 1; i <= 4; ++i) {
    story.born(std::to_string(i), kNight - days(5), 400);
    for (int d = 4; d >= 0; --d)
      story.weighed(std::to_string(i), (400 + (5 - d) * 30) / (d == 0 && i <= n ? 10 : 1), kNight - days(d));
  }
  return story.assess(kNight);
}

const Cases weights{
    {"PACE_SLOW", Level::watch, kAtOrAbove, kHundredth, slow_chance},
    {"PACE_SLOW", Level::act, kAtOrAbove, kHundredth, slow_chance},
    {"READING_DOUBTED", Level::act, kAtOrAbove, 1, slipped},
    {"LOSS_TWO_DAYS", Level::act, kAtOrBelow, kHundredth, change_by(2)},
    {"LOSS_TEN", Level::call_vet, kAtOrBelow, kHundredth, change_by(3)},
    {"NO_GAIN", Level::act, kAtOrBelow, kHundredth,
     [](double pct) {
       return Story{}
           .born("1", kNight - days(5), 400)
           .weighed("1", 500, kNight - days(1))
           .weighed("1", 500 * (1 + pct / 100), kNight)
           .assess(kNight);
     }},
    {"SLOW_GAIN_WEEK1", Level::watch, kBelow, kHundredth, gaining(6)},
    {"SLOW_GAIN_WEEKS2_4", Level::watch, kBelow, kHundredth, gaining(16)},
    {"LIGHT_IN_LITTER", Level::act, kAtOrBelow, kHundredth, light},
    {"WEIGHT_JUMP", Level::act, kAbove, kHundredth, above_the_best},
    {"DOUBLING_LATE", Level::watch, kAtOrAbove, kOneMinute,
     [](double d) { return Story{}.born("1", kNight - days(d), 400).weighed("1", 790, kNight).assess(kNight); }},
    {"DOUBLING_LATE", Level::act, kAtOrAbove, kOneMinute,
     [](double d) { return Story{}.born("1", kNight - days(d), 400).weighed("1", 790, kNight).assess(kNight); }},
    {"WEIGH_LATE", Level::act, kAtOrAbove, kOneMs,
     [](double m) { return Story{}.born("1", kNight, 400).assess(kNight + minutes(m)); }},
    {"FIRST_WEIGHT_LATE", Level::act, kAtOrAbove, kOneMs,
     [](double m) { return Story{}.born("1", kNight).assess(kNight + minutes(m)); }},
    {"BIRTH_VERY_LOW", Level::call_vet, kAtOrAbove, 1, under_class(true)},
    {"BIRTH_LOW", Level::note, kAtOrAbove, 1, under_class(false)},
    {"SEVERAL_SLOW", Level::call_vet, kAtOrAbove, 1, not_gaining},
    {"SCALE_TOO_COARSE", Level::watch, kAtOrAbove, 1, coarse},
    {"SCALE_TOO_COARSE", Level::act, kAtOrAbove, 1, coarse},
};
const Cases warmth{
    {"PUP_COLD_TO_7D", Level::act, kBelow, kHundredth, pup_at(3)},
    {"PUP_COLD_TO_21D", Level::act, kBelow, kHundredth, pup_at(10)},
    {"PUP_COLD_TO_30D", Level::act, kBelow, kHundredth, pup_at(25)},
    {"PUP_VERY_COLD", Level::call_vet, kBelow, kHundredth, pup_at(3)},
    {"PUP_VERY_COLD", Level::emergency, kBelow, kHundredth, pup_at(3)},
    {"PUP_HOT_TO_14D", Level::watch, kAbove, kHundredth, pup_at(5)},
    {"PUP_HOT_TO_28D", Level::watch, kAbove, kHundredth, pup_at(20)},
    {"PUP_FEVER", Level::call_vet, kAtOrAbove, kHundredth, pup_at(5)},
    {"BASKET_COLD", Level::act, kAtOrAbove, 1, box_readings(true, record::AirPlace::basket)},
    {"BASKET_HOT", Level::act, kAtOrAbove, 1, box_readings(false, record::AirPlace::basket)},
    {"BOX_COLD", Level::act, kAtOrAbove, 1, box_readings(true)},
    {"BOX_HOT", Level::act, kAtOrAbove, 1, box_readings(false)},
    {"BOX_READING_OLD", Level::note, kAtOrAbove, kOneMs,
     [](double m) { return Story{}.born("1", kNight - days(2), 400).air(30, kNight).assess(kNight + minutes(m)); }},
};
const Cases the_record{
    {"MISFIT", Level::act, kAtOrAbove, 1,
     [](double n) {
       Story story;
       for (int i = 0; i < std::lround(n); ++i) story.weighed("never born", 400, kNight - hours(i + 1));
       return story.assess(kNight);
     }},
    {"FUTURE_ENTRY", Level::act, kAtOrAbove, 1,
     [](double n) {
       Story story;
       for (int i = 0; i < std::lround(n); ++i) story.sign(Sign::nesting, kNight + hours(i + 1));
       return story.assess(kNight);
     }},
};

}  // namespace
}  // namespace lampside::testing
