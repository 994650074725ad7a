// The lamp, the mat, how the pups lie, how fast a cold pup is warmed.
#include "limits.hpp"

namespace lampside::testing {
namespace {

using record::AirPlace;
using record::Sign;

Story pup_in_box(double age_d = 5) { return Story{}.born("1", kNight - days(age_d)); }

auto lamps(double watts, double cm) {
  return [=](double n) {
    Story s = pup_in_box();
    for (int i = 0; i < std::lround(n); ++i)
      s.tell(kNight - hours(1) + minutes(i), "", record::Lamp{Watts{watts}, Centimetres{cm}});
    return s.assess(kNight);
  };
}
auto lying(Sign sign) {
  return [=](double n) {
    Story s = pup_in_box();
    for (int i = 0; i < std::lround(n); ++i) s.tell(kNight - hours(1), "box", record::SignSeen{sign});
    return s.assess(kNight);
  };
}
/// A pup of day 5 found at 33 °C, an hour later that much warmer.
auto warmed(double by) {
  return [=](double n) {
    Story s = pup_in_box();
    s.temperature("1", 33, kNight - hours(2));
    for (int i = 0; i < std::lround(n); ++i) s.temperature("1", 33 + by, kNight - hours(1));
    return s.assess(kNight);
  };
}
advice::Assessment mat(double celsius) {
  return pup_in_box().tell(kNight - hours(1), "", record::Air{Celsius{celsius}, AirPlace::mat}).assess(kNight);
}

const Cases lamp{
    {"LAMP_CLOSE", Level::act, kAtOrAbove, 1, lamps(250, 50)},
    {"LAMP_STRONG", Level::act, kAtOrAbove, 1, lamps(275, 90)},
    {"LAMP_UNREAD", Level::act, kAtOrAbove, kOneMs,
     [](double m) {
       return pup_in_box().tell(kNight, "", record::Lamp{Watts{250}, Centimetres{90}}).assess(kNight + minutes(m));
     }},
    {"PUPS_PILED", Level::act, kAtOrAbove, 1, lying(Sign::piled_up)},
    {"PUPS_SPREAD", Level::act, kAtOrAbove, 1, lying(Sign::spread_out)},
    {"REWARM_FAST", Level::act, kAtOrAbove, 1, warmed(1.5)},
    {"REWARM_HARM", Level::call_vet, kAtOrAbove, 1, warmed(2.5)},
    {"MAT_HOT", Level::watch, kAtOrAbove, kHundredth, mat},
    {"MAT_HOT", Level::act, kAtOrAbove, kHundredth, mat},
};

}  // namespace
}  // namespace lampside::testing
