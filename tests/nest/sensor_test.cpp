// Room sensors, without a network: what a message says, what the journal keeps, when it rings.
#include "nest/sensor.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "advice/assessment.hpp"

namespace lampside::nest {
namespace {

using record::AirPlace;
using record::Sensor;
using std::chrono::hours;
using std::chrono::seconds;

const reference::Reference& tables() { return reference::built_in(); }
constexpr Instant kNoon = std::chrono::sys_days{std::chrono::year{2026} / 10 / 7} + hours{12};
const BoxTarget kBand{Celsius{29.4}, Celsius{32.2}, {}};
const Sensor kPlain{"box", AirPlace::under_lamp, {}, {}, {}};
Sensor with_field(std::string name) { return {"box", AirPlace::under_lamp, std::move(name), {}, {}}; }

double read(const Sensor& s, std::string_view payload) {
  const auto m = read_message(s, payload, tables());
  return m ? m->celsius.count() : std::nan("");
}
std::string refused(const Sensor& s, std::string_view payload) {
  const auto m = read_message(s, payload, tables());
  return m ? "taken" : m.error().code;
}

TEST(SensorMessage, PlainNumberAndJson) {
  EXPECT_DOUBLE_EQ(read(kPlain, "30.25"), 30.25);
  EXPECT_DOUBLE_EQ(read(kPlain, " 30,5\r\n"), 30.5);
  EXPECT_DOUBLE_EQ(read(kPlain, "-3.5"), -3.5);
  EXPECT_DOUBLE_EQ(read(kPlain, "21.437500000000001"), 21.4375);
  EXPECT_NEAR(read(kPlain, "86 F"), 30, 1e-9);
  EXPECT_DOUBLE_EQ(read(with_field("temperature"), R"({"temperature":29.9,"humidity":55})"), 29.9);
  EXPECT_DOUBLE_EQ(read(with_field("temperature"), R"({"temperature":"29.9"})"), 29.9);
  EXPECT_DOUBLE_EQ(read(with_field("air.temperature"), R"({"air":{"temperature":-1}})"), -1);
  EXPECT_DOUBLE_EQ(read(with_field("air.temperature"), R"({"air.temperature":7})"), 7);
  const Sensor fahrenheit{"box", AirPlace::room, {}, TemperatureUnit::fahrenheit, {}};
  EXPECT_NEAR(read(fahrenheit, "86"), 30, 1e-9);
}

TEST(SensorMessage, WhatCannotBeIsRefusedWithItsReason) {
  EXPECT_EQ(refused(kPlain, ""), "SENSOR_NOT_NUMBER");
  EXPECT_EQ(refused(kPlain, "nan"), "SENSOR_NOT_NUMBER");
  EXPECT_EQ(refused(kPlain, "unavailable"), "SENSOR_NOT_NUMBER");
  EXPECT_EQ(refused(kPlain, R"({"temperature":30})"), "SENSOR_NOT_NUMBER");
  EXPECT_EQ(refused(with_field("temperature"), "30"), "SENSOR_NOT_JSON");
  EXPECT_EQ(refused(with_field("temperature"), R"({"temperature":30)"), "SENSOR_NOT_JSON");
  EXPECT_EQ(refused(with_field("temperature"), R"({"temp":30})"), "SENSOR_NO_FIELD");
  EXPECT_EQ(refused(with_field("temperature"), R"({"temperature":null})"), "SENSOR_NOT_NUMBER");
  EXPECT_EQ(refused(with_field("temperature"), R"({"temperature":1e400})"), "SENSOR_NOT_JSON");
  EXPECT_EQ(refused(kPlain, "-127"), "SENSOR_IMPOSSIBLE");
  EXPECT_EQ(refused(kPlain, "85"), "SENSOR_IMPOSSIBLE");
  EXPECT_EQ(refused(kPlain, "60"), "taken");
  EXPECT_EQ(refused(kPlain, "60.1"), "SENSOR_IMPOSSIBLE");
  EXPECT_EQ(refused(kPlain, "-20"), "taken");
  EXPECT_EQ(refused(kPlain, "-20.1"), "SENSOR_IMPOSSIBLE");
  EXPECT_EQ(refused(kPlain, std::string(20'000, '1')), "SENSOR_TOO_LONG");
}

TEST(SensorMessage, ItsOwnTimeIsRead) {
  const auto said = [](const char* time) {
    const auto m = read_message(with_field("t"), fmt::format(R"({{"t":30,"time":{}}})", time), tables());
    return m ? m->said : std::nullopt;
  };
  EXPECT_EQ(said(R"("2026-10-07T12:00:00Z")"), kNoon);
  EXPECT_EQ(said("1791374400"), kNoon);
  EXPECT_EQ(said("1791374400000"), kNoon);
  EXPECT_EQ(said(R"("noon")"), std::nullopt);
}

record::Litter two_day_old(std::vector<record::Sensor> sensors) {
  std::vector<record::Entry> entries;
  const auto add = [&](Instant at, std::string about, record::Body body) {
    entries.push_back(record::make_entry(fmt::format("00000000-0000-4000-8000-{:012x}", entries.size() + 1), "juniper",
                                         Stamp{at}, Stamp{at}, "test", std::move(about), std::move(body)));
  };
  add(kNoon - hours{48}, "1", record::Birth{});
  for (auto& s : sensors) add(kNoon - hours{24}, "", std::move(s));
  return record::fold(entries, "juniper", Zone{});
}

TEST(SensorDesk, AClockADayOffIsToldAndDoesNotDateTheReading) {
  const auto litter = two_day_old({with_field("t")});
  SensorDesk desk{tables()};
  desk.know(litter, kNoon);
  EXPECT_TRUE(desk.take("box", R"({"t":30,"time":"2026-10-06T12:00:00Z"})", false, kNoon));
  const auto told = desk.findings(litter, kNoon);
  ASSERT_EQ(told.size(), 1u);
  EXPECT_EQ(told[0].code, "SENSOR_CLOCK");
  EXPECT_NE(told[0].because.find("24 h behind"), std::string::npos) << told[0].because;
  desk.take("box", R"({"t":30,"time":"2026-10-07T12:00:00Z"})", false, kNoon);
  EXPECT_TRUE(desk.findings(litter, kNoon).empty());
}

TEST(SensorDesk, RetainedAndForeignMessagesAreNoReadings) {
  const auto litter = two_day_old({kPlain, {"old", AirPlace::room, {}, {}, true}});
  SensorDesk desk{tables()};
  desk.know(litter, kNoon);
  EXPECT_EQ(desk.topics(), std::vector<std::string>{"box"});
  EXPECT_FALSE(desk.take("box", "30", true, kNoon));
  EXPECT_FALSE(desk.take("old", "20", false, kNoon));
  EXPECT_FALSE(desk.take("elsewhere", "20", false, kNoon));
  const auto air = desk.take("box", "30", false, kNoon);
  ASSERT_TRUE(air);
  EXPECT_EQ(*air, (record::Air{Celsius{30}, AirPlace::under_lamp, {}, "box", {}}));
}

TEST(SensorBand, RingsOnceAtATremblingLimit) {
  auto side = BandSide::within;
  int rings = 0;
  for (int i = 0; i < 100; ++i) {
    const auto next = side_of(Celsius{i % 2 ? 29.3 : 29.5}, kBand, side, tables());
    rings += next != side;
    side = next;
  }
  EXPECT_EQ(rings, 1);
  EXPECT_EQ(side_of(Celsius{29.89}, kBand, BandSide::below, tables()), BandSide::below);
  EXPECT_EQ(side_of(Celsius{29.9}, kBand, BandSide::below, tables()), BandSide::within);
  EXPECT_EQ(side_of(Celsius{29.4}, kBand, BandSide::within, tables()), BandSide::within) << "the limit is in the band";
  EXPECT_EQ(side_of(Celsius{31.71}, kBand, BandSide::above, tables()), BandSide::above);
  EXPECT_EQ(side_of(Celsius{28}, kBand, BandSide::above, tables()), BandSide::below);
}

TEST(Thinning, AQuietDayIsAHundredEntriesAndAnAlarmIsKeptAtOnce) {
  Thinner thinner;
  int kept = 0;
  for (int s = 0; s < 86'400; ++s)
    kept += thinner.keep(Celsius{30.8 + 0.1 * ((s % 3) - 1)}, kNoon + seconds{s}, &kBand, tables());
  EXPECT_EQ(kept, 96) << "one every fifteen minutes";
  EXPECT_TRUE(thinner.keep(Celsius{29.3}, kNoon + seconds{86'401}, &kBand, tables())) << "leaves the band";
  EXPECT_FALSE(thinner.keep(Celsius{29.3}, kNoon + seconds{86'402}, &kBand, tables()));
  EXPECT_FALSE(thinner.keep(Celsius{30.5}, kNoon + seconds{86'403}, &kBand, tables())) << "back for a moment only";
  EXPECT_FALSE(thinner.keep(Celsius{30.5}, kNoon + seconds{86'462}, &kBand, tables()));
  EXPECT_TRUE(thinner.keep(Celsius{30.5}, kNoon + seconds{86'463}, &kBand, tables())) << "back for a minute";
}

// Whatever a sensor sends: every time it leaves the band is kept at once, and a day is never more than one a minute for
// coming back, one in five minutes for moving, as many for leaving, and the first.
TEST(Thinning, BoundedForAnyReadingsAndNoAlarmThinned) {
  std::mt19937 dice{20261007};
  std::size_t most = 0;
  for (int round = 0; round < 40; ++round) {
    Thinner thinner;
    std::normal_distribution<double> step{0, std::pow(10.0, (round % 5) - 2)};
    double t = 30.8;
    std::size_t kept = 0;
    auto known = BandSide::within;  // as a reader of the journal sees it
    for (int i = 0; i < 86'400; ++i) {
      t = 30.8 + 0.98 * (t - 30.8) + step(dice);
      const bool outside = side_of(Celsius{t}, kBand, known, tables()) != BandSide::within;
      const bool keep = thinner.keep(Celsius{t}, kNoon + seconds{i}, &kBand, tables());
      if (known == BandSide::within && outside) {
        ASSERT_TRUE(keep) << "round " << round << ", second " << i << ": " << t << " leaves the band";
      }
      if (keep) known = side_of(Celsius{t}, kBand, known, tables());
      kept += keep;
    }
    EXPECT_LE(kept, 1u + 2 * (1440 + 288)) << "round " << round;
    most = std::max(most, kept);
  }
  // The worst there is: out of the band whenever it is inside, back whenever it may be.
  Thinner thinner;
  std::size_t worst = 0;
  auto known = BandSide::within;
  for (int i = 0; i < 86'400; ++i) {
    const Celsius t{known == BandSide::within ? 25.0 : 30.8};
    if (!thinner.keep(t, kNoon + seconds{i}, &kBand, tables())) continue;
    known = side_of(t, kBand, known, tables());
    ++worst;
  }
  EXPECT_LE(worst, 1u + 2 * (1440 + 288));
  fmt::print("of 86,400 readings a day: at most {} kept in forty random days, {} in the worst there is\n", most, worst);
}

TEST(SensorBand, TheAssessmentKeepsRingingUntilItIsWellInside) {
  auto entries = std::vector<record::Entry>{};
  const auto add = [&](Instant at, std::string about, record::Body body) {
    entries.push_back(record::make_entry(fmt::format("00000000-0000-4000-8000-{:012x}", entries.size() + 1), "juniper",
                                         Stamp{at}, Stamp{at}, "test", std::move(about), std::move(body)));
  };
  const auto rings = [&](Instant now) {
    const auto a = advice::assess(record::fold(entries, "juniper", Zone{}), tables(), now);
    return std::any_of(a.findings.begin(), a.findings.end(), [](const auto& f) { return f.code == "BOX_COLD"; });
  };
  const auto sensed = [](double c) { return record::Air{Celsius{c}, AirPlace::under_lamp, {}, "box", {}}; };
  add(kNoon - hours{48}, "1", record::Birth{});
  add(kNoon - hours{24}, "", kPlain);
  add(kNoon, "", sensed(29.0));
  EXPECT_TRUE(rings(kNoon + Minutes{1}));
  add(kNoon + Minutes{5}, "", sensed(29.6));
  EXPECT_TRUE(rings(kNoon + Minutes{6})) << "back, but not by half a degree";
  add(kNoon + Minutes{10}, "", sensed(30.0));
  EXPECT_FALSE(rings(kNoon + Minutes{11}));
  add(kNoon + Minutes{15}, "", sensed(29.6));
  EXPECT_FALSE(rings(kNoon + Minutes{16}));
}

}  // namespace
}  // namespace lampside::nest
