#include "measure/time.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace lampside {
namespace {

using namespace std::chrono_literals;

Instant at(const char* iso) { return parse_stamp(iso)->instant; }
CivilDay day(const char* iso) { return *parse_day(iso); }

/// London's clock changes of 2026: 29 March 01:00 UTC forward, 25 October 01:00 UTC back (Directive 2000/84/EC and the
/// UK's Summer Time Order 2002, which follow the last Sunday of March and October).
Zone london() {
  return Zone{"Europe/London",
              Minutes{0},
              {{at("2026-03-29T01:00:00Z"), Minutes{60}, "BST"}, {at("2026-10-25T01:00:00Z"), Minutes{0}, "GMT"}}};
}

TEST(Stamp, ReadsIsoWithOffset) {
  EXPECT_EQ(at("2026-03-01T02:30:00+01:00"), at("2026-03-01T01:30:00Z"));
  EXPECT_EQ(at("2026-03-01T02:30+01"), at("2026-03-01T01:30:00Z"));
  EXPECT_EQ(at("2026-03-01T02:30:00.25-0330"), at("2026-03-01T06:00:00Z") + 250ms);
  EXPECT_EQ(to_iso(*parse_stamp("2026-03-01T02:30:00+01:00")), "2026-03-01T02:30:00+01:00");
  EXPECT_EQ(to_iso(*parse_stamp("2026-03-01 02:30Z")), "2026-03-01T02:30:00Z");
}

TEST(Stamp, RefusesWhatCouldMeanManyHours) {
  EXPECT_EQ(parse_stamp("2026-03-01T02:30:00").error().code, "TIME_NO_OFFSET");
  EXPECT_EQ(parse_stamp("2026-03-01").error().code, "TIME_FORMAT");
  EXPECT_EQ(parse_stamp("2026-02-30T02:30Z").error().code, "DAY_FORMAT");
  EXPECT_EQ(parse_stamp("2026-03-01T24:30Z").error().code, "TIME_RANGE");
  EXPECT_EQ(parse_stamp("2026-03-01T02:30+99").error().code, "TIME_RANGE");
  EXPECT_EQ(parse_stamp("2026-03-01T02:30Z ").error().code, "TIME_FORMAT");
  EXPECT_EQ(parse_stamp("01.03.2026 02:30").error().code, "DAY_FORMAT");
}

TEST(Zone, NightsOfTheClockChangeHave23And25Hours) {
  const Zone z = london();
  EXPECT_EQ(z.start_of(day("2026-03-30")) - z.start_of(day("2026-03-29")), 23h);
  EXPECT_EQ(z.start_of(day("2026-10-26")) - z.start_of(day("2026-10-25")), 25h);
  EXPECT_EQ(z.start_of(day("2026-06-02")) - z.start_of(day("2026-06-01")), 24h);
}

TEST(Zone, GapsAndRepeatedHours) {
  const Zone z = london();
  // 01:30 on 29 March does not exist: the gap ends at 02:00 BST. 01:30 on 25 October comes twice: the first is meant.
  EXPECT_EQ(z.instant_of(day("2026-03-29"), 90min), at("2026-03-29T01:00:00Z"));
  EXPECT_EQ(z.instant_of(day("2026-10-25"), 90min), at("2026-10-25T00:30:00Z"));
  EXPECT_EQ(z.instant_of(day("2026-10-25"), 150min), at("2026-10-25T02:30:00Z"));
  EXPECT_EQ(z.day_of(at("2026-06-01T23:30:00Z")), day("2026-06-02"));
  EXPECT_EQ(say_day_time(z, at("2026-06-01T23:30:00Z")), "Tue 2 Jun 00:30");
}

RC_GTEST_PROP(Zone, EveryWallClockComesBack, ()) {
  const Zone z = london();
  const auto t = at("2026-01-01T00:00:00Z") + std::chrono::minutes{*rc::gen::inRange(0, 525600)};
  const auto again = z.instant_of(z.day_of(t), z.time_of_day(t));
  // In the repeated hour the first of the two is chosen.
  RC_ASSERT(again == t || (t - again == 1h && z.offset_at(t) != z.offset_at(again)));
}
RC_GTEST_PROP(Stamp, RoundTrips, ()) {
  const Stamp s{Instant{std::chrono::milliseconds{*rc::gen::inRange<std::int64_t>(0, 4102444800000)}},
                Minutes{*rc::gen::inRange(-14 * 4, 14 * 4) * 15}};
  RC_ASSERT(*parse_stamp(to_iso(s)) == s);
}
RC_GTEST_PROP(Stamp, NoInputBreaksTheParser, (const std::string& any)) {
  (void)parse_stamp(any);
  (void)parse_day(any);
}

TEST(Say, Spans) {
  EXPECT_EQ(say_span(35min), "35 min");
  EXPECT_EQ(say_span(140min), "2 h 20 min");
  EXPECT_EQ(say_span(24h), "24 h");
  EXPECT_EQ(say_span(49h), "2 d 1 h");
  EXPECT_EQ(say_span(-35min), "-35 min");
}

}  // namespace
}  // namespace lampside
