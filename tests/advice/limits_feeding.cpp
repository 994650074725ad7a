// Feeding by hand: clocks, what forbids a feed, amounts.
#include "../nest/feeding.hpp"
#include "limits.hpp"

namespace lampside::testing {
namespace {

/// A pup of day 5, 500 g (room 20 ml), on the low line of 66 kcal: eight feeds a day.
Story on_the_low_line() {
  Story s = hand_fed(500, 5);
  return s.tell(kNight - days(5), "", record::CareChoice{"feeding_line", "low", {}});
}
Story& noting(Story& s, double n, Sign sign) {
  for (int i = 0; i < std::lround(n); ++i) s.tell(kNight - hours(2) + minutes(i), "1", record::SignSeen{sign});
  return s;
}
auto noted(Sign sign) {
  return [=](double n) {
    Story s = hand_fed(500, 5);
    return noting(s, n, sign).assess(kNight);
  };
}
/// So many percent of what is printed, in eight feeds; 26 or 13.23 kcal for each 100 g.
auto fed_a_day(double kcal_100g) {
  return [=](double pct) {
    Story s = on_the_low_line();
    for (int i = 0; i < 8; ++i) fed(s, kcal_100g * 5 * pct / 100 / 8, kNight - hours(3.0 * i));
    return s.assess(kNight);
  };
}
advice::Assessment one_feed(double pct) {
  Story s = on_the_low_line();
  return fed(s, 20 * pct / 100, kNight - minutes(5)).assess(kNight);
}

const Cases feeding{
    {"FEED_DUE", Level::watch, kAtOrAbove, kOneMs,
     [](double m) {
       Story s = on_the_low_line();
       return fed(s, 8, kNight).assess(kNight + hours(3) + minutes(m));
     }},
    {"FEED_DUE", Level::act, kAtOrAbove, kOneMs,
     [](double m) {
       Story s = on_the_low_line();
       return fed(s, 8, kNight).assess(kNight + hours(3) + minutes(m));
     }},
    {"FEED_TAUT", Level::act, kAtOrAbove, kPastGrace,
     [](double m) {
       return Story{}
           .born("1", kNight - days(5))
           .tell(kNight, "1", record::SignSeen{Sign::belly_taut})
           .assess(kNight + minutes(m));
     }},
    {"FEED_TAUT", Level::call_vet, kAtOrAbove, kOneMs,
     [](double m) {
       return Story{}
           .born("1", kNight - days(5))
           .tell(kNight, "1", record::SignSeen{Sign::belly_taut})
           .assess(kNight + minutes(m));
     }},
    {"FEED_COLD", Level::act, kAtOrAbove, 1,
     [](double n) {
       Story s = hand_fed(500, 5);
       s.temperature("1", 36, kNight - hours(9));
       for (int i = 0; i < std::lround(n); ++i) s.temperature("1", 34, kNight - hours(8) + minutes(i));
       return s.assess(kNight);
     }},
    {"FEED_NO_SUCK", Level::call_vet, kAtOrAbove, 1, noted(Sign::no_suck)},
    {"FEED_LOOSE", Level::call_vet, kAtOrAbove, 1, noted(Sign::loose_stool)},
    {"FEED_TUBE", Level::act, kAtOrAbove, 1,
     [](double n) {
       Story s = hand_fed(500, 5);
       for (int i = 0; i < std::lround(n); ++i)
         by_hand(s, kNight - hours(1), record::FeedShare::full, record::FeedWay::tube);
       return s.assess(kNight);
     }},
    {"FEED_UNKNOWN", Level::act, kAtOrAbove, 1,
     [](double n) {
       Story s = hand_fed(500, 5);
       for (int i = 0; i < std::lround(n); ++i) s.tell(kNight - hours(1), "", milk_of({}));
       return s.assess(kNight);
     }},
    {"FEED_TOO_MUCH", Level::watch, kAbove, kHundredth, one_feed},
    {"FEED_TOO_MUCH", Level::act, kAbove, kHundredth, one_feed},
    {"FED_OVER", Level::act, kAbove, kHundredth, fed_a_day(26)},
    {"FED_SHORT", Level::watch, kBelow, kHundredth, fed_a_day(13.23)},
};

}  // namespace
}  // namespace lampside::testing
