// Room sensors over HTTP: one is added, a pattern of topics is refused, one is stopped; what is wrong now is shown.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "house.hpp"
#include "server/app.hpp"

namespace lampside::server {
namespace {

using test::House;
using ::testing::HasSubstr;

struct SensorTest : ::testing::Test {
  SensorTest() { house.with_pups(); }
  House house;
};

TEST_F(SensorTest, IsAddedAndStopped) {
  ASSERT_EQ(house
                .record({{"kind", "sensor"},
                         {"topic", "house/box"},
                         {"where", "under_lamp"},
                         {"field", "temperature"},
                         {"unit", "F"},
                         {"back", "nest#sensors"}})
                .status,
            303);
  const record::Sensor added{"house/box", record::AirPlace::under_lamp, "temperature", TemperatureUnit::fahrenheit, {}};
  EXPECT_EQ(*record::body_as<record::Sensor>(house.last()), added);
  ASSERT_EQ(house.record({{"kind", "sensor"}, {"topic", "house/box"}, {"where", "under_lamp"}, {"off", "true"}}).status,
            303);
  EXPECT_EQ(record::body_as<record::Sensor>(house.last())->off, true);
}

TEST_F(SensorTest, APatternOfTopicsIsRefusedWithAdviceAndStaysTyped) {
  const auto before = house.journal.all().size();
  for (const char* topic : {"house/#", "house/+/t"}) {
    const auto a = house.record({{"kind", "sensor"}, {"topic", topic}, {"where", "room"}, {"back", "nest#sensors"}});
    EXPECT_EQ(a.status, 422) << topic;
    EXPECT_THAT(a.body, HasSubstr("this one sensor"));
    EXPECT_THAT(a.body, HasSubstr(std::string("value=\"") + topic + "\""));
  }
  EXPECT_EQ(house.record({{"kind", "sensor"}, {"topic", ""}, {"where", "room"}}).status, 422);
  EXPECT_EQ(house.journal.all().size(), before);
}

}  // namespace
}  // namespace lampside::server
