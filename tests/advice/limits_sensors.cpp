// Room sensors: silent, stuck, unusable, a wrong clock, and their broker away.
#include "limits.hpp"

#include "nest/sensor.hpp"

namespace lampside::testing {
namespace {

const char* const kTopic = "house/box/lamp-end";
record::Air heard(double celsius) { return {Celsius{celsius}, record::AirPlace::under_lamp, {}, kTopic, {}}; }
Story with_sensor(std::optional<std::string> field = {}) {
  return Story{}
      .born("1", kNight - days(2), 400)
      .tell(kNight - days(1), "", record::Sensor{kTopic, record::AirPlace::under_lamp, std::move(field), {}, {}});
}
advice::Assessment silent(double m) { return with_sensor().tell(kNight - minutes(m), "", heard(30)).assess(kNight); }
/// What `meet` makes of the sensors, beside the assessment.
template <class F>
advice::Assessment live(const std::optional<std::string>& field, F meet) {
  const auto story = with_sensor(field);
  auto out = story.assess(kNight);
  const auto litter = story.litter();
  nest::SensorDesk desk{reference::built_in()};
  desk.know(litter, kNight);
  meet(desk);
  advice::add_live(out, desk.findings(litter, kNight));
  return out;
}

const Cases sensors{
    {"SENSOR_SILENT", Level::watch, kAtOrAbove, kOneMs, silent},
    {"SENSOR_SILENT", Level::act, kAtOrAbove, kOneMs, silent},
    {"SENSOR_STUCK", Level::watch, kAtOrAbove, kOneMs,
     [](double m) {
       return with_sensor()
           .tell(kNight - minutes(m), "", heard(30))
           .tell(kNight - minutes(10), "", heard(30))
           .tell(kNight, "", heard(30))
           .assess(kNight);
     }},
    {"SENSOR_BROKER", Level::watch, kAtOrAbove, kOneMs,
     [](double m) {
       return live({}, [&](nest::SensorDesk& d) { d.broker(kNight - minutes(m), "nobody answers there"); });
     }},
    {"SENSOR_CLOCK", Level::note, kAtOrAbove, kOneMs,
     [](double m) {
       return live("t", [&](nest::SensorDesk& d) {
         d.take(kTopic, fmt::format(R"({{"t":30,"ts":{}}})", (kNight - minutes(m)).time_since_epoch().count()), false,
                kNight);
       });
     }},
    {"SENSOR_UNUSABLE", Level::watch, kAtOrAbove, 1,
     [](double n) {
       return live({}, [&](nest::SensorDesk& d) {
         for (int i = 0; i < std::lround(n); ++i) d.take(kTopic, "-127", false, kNight);
       });
     }},
};

}  // namespace
}  // namespace lampside::testing
