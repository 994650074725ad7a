// The fall of temperature before whelping: the printed course fed as readings.
#include <gtest/gtest.h>

#include <array>

#include "../advice/printed.hpp"
#include "../advice/story.hpp"

namespace lampside::testing {
namespace {

constexpr const char* kStudy =
    "Variations in body temperature in the late stage of pregnancy and parturition in bitches (45 bitches; Tsutsui and "
    "Murata "
    "1982, names from memory), abstract";

// Abstract: 38.0 two to three days before birth, 37.4 at 20 h, 37.0 at 10 h, 37.4 at 1 h.
struct Reading {
  double hours_before, celsius;
};
constexpr std::array kCourse{Reading{72, 38.0}, Reading{48, 38.0}, Reading{20, 37.4}, Reading{10, 37.0},
                             Reading{1, 37.4}};
constexpr Instant kBirth = kNight;

/// The course between its printed points, along straight lines.
double course(double hours_before) {
  for (std::size_t i = 1; i < kCourse.size(); ++i)
    if (hours_before >= kCourse[i].hours_before) {
      const auto& a = kCourse[i - 1];
      const auto& b = kCourse[i];
      return b.celsius + (a.celsius - b.celsius) * (hours_before - b.hours_before) / (a.hours_before - b.hours_before);
    }
  return kCourse.back().celsius;
}

TEST(TemperatureCourse, TheDropIsFoundAtThePrintedReading) {
  for (const bool dated : {false, true}) {
    Story story;
    if (dated) story.mated(kBirth - days(63));
    for (const auto& r : kCourse) {
      const Instant at = kBirth - hours(r.hours_before);
      story.temperature("dam", r.celsius, at);
      const auto a = story.assess(at);
      EXPECT_TRUE(as_printed("DAM_TEMP_DROP", kStudy,
                             fmt::format("{} C at {} h before birth", r.celsius, r.hours_before),
                             r.hours_before <= 20 ? "drop" : "no drop", find(a, "DAM_TEMP_DROP") ? "drop" : "no drop"));
      // At 1 h before it has risen again, but not to normal: nothing has "come back".
      EXPECT_EQ(find(a, "DROP_RETURNED"), nullptr) << kStudy;
      EXPECT_EQ(find(a, "DAM_TEMP_LOW"), nullptr) << kStudy;
      if (const auto* f = find(a, "DAM_TEMP_DROP")) {
        EXPECT_EQ(f->since, kBirth - hours(20)) << "the first low reading starts it";
      }
    }
  }
}

// Abstract: from the first reading of 37.5 or below to birth 13-33 h, mean 21.5. Read every hour along the printed
// course.
TEST(TemperatureCourse, ReadHourlyTheDropComesWithinThePrintedRange) {
  Story story;
  double found_at = 0;
  for (double h = 72; h >= 1 && found_at == 0; --h) {
    story.temperature("dam", course(h), kBirth - hours(h));
    if (find(story.assess(kBirth - hours(h)), "DAM_TEMP_DROP")) found_at = h;
  }
  EXPECT_TRUE(as_printed("DAM_TEMP_DROP: hours before birth", std::string(kStudy) + ": 13-33 h", "hourly readings", 23,
                         found_at, 10));
}

// Nobody whose pups came within the printed 13-33 h is sent off as an emergency; the call at 24 h falls inside it, and
// says so.
TEST(DropClock, AgainstThePrintedRange) {
  const auto at = [](double h) { return Story{}.temperature("dam", 37.4, kNight).assess(kNight + hours(h)); };
  for (double h = 0; h <= 33; h += 0.5) {
    const auto level = level_of(at(h), "DROP_CLOCK");
    EXPECT_TRUE(as_printed("DROP_CLOCK", std::string(kStudy) + ": 13-33 h from the drop to birth",
                           fmt::format("{} h after the drop", h), h < 24 ? "quiet" : "call_vet",
                           level ? std::string(name_of(*level)) : "quiet"));
    EXPECT_EQ(find(at(h), "DAM_TEMP_DROP") != nullptr, h < 24) << "one of the two speaks, at " << h << " h";
  }
  EXPECT_EQ(level_of(at(36), "DROP_CLOCK"), Level::emergency);
}

TEST(DropClock, EndsWithLabour) {
  for (const Sign s :
       {Sign::weak_straining, Sign::strong_straining, Sign::waters, Sign::green_discharge, Sign::pup_visible}) {
    Story story;
    story.temperature("dam", 37.2, kNight);
    EXPECT_EQ(level_of(story.assess(kNight + hours(25)), "DROP_CLOCK"), Level::call_vet);
    story.sign(s, kNight + hours(20));
    EXPECT_EQ(find(story.assess(kNight + hours(25)), "DROP_CLOCK"), nullptr) << record::name_of(s);
  }
  const auto panting =
      Story{}.temperature("dam", 37.2, kNight).sign(Sign::panting, kNight + hours(20)).assess(kNight + hours(25));
  EXPECT_EQ(level_of(panting, "DROP_CLOCK"), Level::call_vet) << "panting is not yet labour";
}

}  // namespace
}  // namespace lampside::testing
