// Room sensors on the Nest screen: what each read last and when, how one is added and stopped.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "litters.hpp"
#include "markup.hpp"

namespace lampside::page {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using testing::Shown;

std::string nest_of(const testing::Story& story) {
  auto html = nest_page(Shown{story, 3 * 1440}.view);
  EXPECT_THAT(testing::faults_of_page(html), IsEmpty());
  return html;
}
testing::Story one_pup() {
  auto story = testing::nothing();
  story.facts(testing::juniper());
  story.born(0, "1", 400, "red");
  return story;
}

TEST(NestSensors, NoneYet) {
  const auto html = nest_of(one_pup());
  EXPECT_THAT(html, HasSubstr("Add a room sensor"));
  EXPECT_THAT(html, Not(HasSubstr("Stop listening")));
}

TEST(NestSensors, EachWithItsLastReadingAndItsTopicEscaped) {
  auto story = one_pup();
  story.add(1440, "", record::Sensor{"box/<lamp>", record::AirPlace::under_lamp, "temperature", {}, {}});
  story.add(1440, "", record::Sensor{"old", record::AirPlace::room, {}, {}, true});
  EXPECT_THAT(nest_of(story), HasSubstr("nothing has come yet"));
  story.add(3 * 1440 - 5, "", record::Air{Celsius{30.5}, record::AirPlace::under_lamp, {}, "box/<lamp>", {}});
  story.add(3 * 1440 - 4, "", record::Air{Celsius{12}, record::AirPlace::under_lamp, {}, {}, {}});
  const auto html = nest_of(story);
  EXPECT_THAT(html, HasSubstr("30.5 °C"));
  EXPECT_THAT(html, HasSubstr("Stop listening to box/&lt;lamp&gt;"));
  EXPECT_THAT(html, Not(HasSubstr("Stop listening to old")));
}

}  // namespace
}  // namespace lampside::page
