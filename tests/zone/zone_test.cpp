// Zones against what the calendar is known to have done, and against another reader of the same tables.
#include "zone/zone.hpp"

#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <map>
#include <memory>
#include <sstream>

namespace lampside::zone {
namespace {

using namespace std::chrono;

Zone zone_of(const std::string& name) {
  auto zone = load(name);
  if (!zone) ADD_FAILURE() << to_text(zone.error());
  return zone.value_or(Zone{});
}

CivilDay day(int y, unsigned m, unsigned d) { return local_days{year{y} / static_cast<int>(m) / static_cast<int>(d)}; }

int hours_of(const Zone& zone, CivilDay d) {
  return static_cast<int>(duration_cast<hours>(zone.start_of(d + days{1}) - zone.start_of(d)).count());
}

TEST(Zone, DaylightSavingDaysInBerlin) {
  // European Union, Directive 2000/84/EC, art. 2 and 3: last Sunday of March and of October, at 01:00 UTC.
  const Zone berlin = zone_of("Europe/Berlin");
  EXPECT_EQ(hours_of(berlin, day(2026, 3, 29)), 23);
  EXPECT_EQ(hours_of(berlin, day(2026, 10, 25)), 25);
  EXPECT_EQ(hours_of(berlin, day(2026, 3, 28)), 24);
  EXPECT_EQ(berlin.instant_of(day(2026, 3, 29), hours{3}), Instant{sys_days{2026y / 3 / 29} + hours{1}});
  // The hour that does not exist: the moment the gap ends. The hour that comes twice: the first.
  EXPECT_EQ(berlin.instant_of(day(2026, 3, 29), minutes{150}), Instant{sys_days{2026y / 3 / 29} + hours{1}});
  EXPECT_EQ(berlin.instant_of(day(2026, 10, 25), minutes{150}), Instant{sys_days{2026y / 10 / 25} + minutes{30}});
}

TEST(Zone, DaylightSavingDaysInNewYork) {
  // United States, 15 U.S.C. 260a: second Sunday of March, first Sunday of November, 02:00 local time.
  const Zone ny = zone_of("America/New_York");
  EXPECT_EQ(hours_of(ny, day(2026, 3, 8)), 23);
  EXPECT_EQ(hours_of(ny, day(2026, 11, 1)), 25);
  EXPECT_EQ(ny.offset_at(Instant{sys_days{2026y / 1 / 1}}), hours{-5});
  EXPECT_EQ(ny.offset_at(Instant{sys_days{2026y / 7 / 1}}), hours{-4});
}

TEST(Zone, RulesStillHoldIn2099) {
  EXPECT_EQ(hours_of(zone_of("Europe/Berlin"), day(2099, 3, 29)), 23);
  EXPECT_EQ(hours_of(zone_of("Europe/Berlin"), day(2099, 10, 25)), 25);
  EXPECT_EQ(zone_of("America/New_York").offset_at(Instant{sys_days{2100y / 7 / 1}}), hours{-4});
}

TEST(Zone, HalfHoursWithoutDaylightSaving) {
  const Zone kolkata = zone_of("Asia/Kolkata");
  EXPECT_EQ(kolkata.offset_at(Instant{sys_days{2026y / 1 / 1}}), minutes{330});
  EXPECT_EQ(kolkata.offset_at(Instant{sys_days{2026y / 7 / 1}}), minutes{330});
  EXPECT_EQ(kolkata.day_of(Instant{sys_days{2026y / 1 / 1} + hours{18} + minutes{30}}), day(2026, 1, 2));
  EXPECT_EQ(kolkata.day_of(Instant{sys_days{2026y / 1 / 1} + hours{18} + minutes{29}}), day(2026, 1, 1));
}

TEST(Zone, ApiaHadNoThirtiethOfDecember2011) {
  // Samoa went from UTC-10 (summer) to UTC+14 at the end of 29 December 2011: International Date Line Act 2011.
  const Zone apia = zone_of("Pacific/Apia");
  const Instant change{sys_days{2011y / 12 / 30} + hours{10}};
  EXPECT_EQ(apia.day_of(change - milliseconds{1}), day(2011, 12, 29));
  EXPECT_EQ(apia.day_of(change), day(2011, 12, 31));
  EXPECT_EQ(apia.offset_at(change), hours{14});
}

TEST(Zone, HalfHourDaylightSaving) {
  const Zone lord_howe = zone_of("Australia/Lord_Howe");
  EXPECT_EQ(lord_howe.offset_at(Instant{sys_days{2026y / 7 / 1}}), minutes{630});
  EXPECT_EQ(lord_howe.offset_at(Instant{sys_days{2026y / 1 / 1}}), minutes{660});
}

TEST(Zone, UnknownNamesAreToldWhatIsNear) {
  const auto todo = [](const std::string& name) {
    const auto zone = load(name);
    if (zone) return std::string{"taken"};
    EXPECT_EQ(zone.error().code, "ZONE_UNKNOWN");
    return zone.error().todo;
  };
  EXPECT_NE(todo("Europe/Berln").find("Europe/Berlin"), std::string::npos);
  EXPECT_NE(todo("berlin").find("Europe/Berlin"), std::string::npos);
  EXPECT_NE(todo("europe/berlin").find("Europe/Berlin"), std::string::npos);
  EXPECT_NE(todo("America/New York").find("America/New_York"), std::string::npos);
  EXPECT_NE(todo("Mars/Olympus_Mons").find("IANA name"), std::string::npos);
}

TEST(Zone, OnlyNamesNeverFiles) {
  // cctz would open each of these: they must be refused before it sees them. The first is a valid zone file.
  for (const char* name : {"/usr/share/zoneinfo/Europe/Berlin", "../zoneinfo/Europe/Berlin", "file:Europe/Berlin",
                           "right/Europe/Berlin", "posix/Europe/Berlin", "localtime", "Fixed/UTC+01:00:00", ""})
    EXPECT_FALSE(load(name)) << name;
  EXPECT_FALSE(load("Europe"));  // a folder
  EXPECT_FALSE(load(std::string("Europe/Berlin\0x", 15)));
  EXPECT_TRUE(load("UTC"));
  EXPECT_TRUE(load("Etc/GMT+5"));
}

TEST(Zone, LocalNameFollowsTheSetting) {
  ::setenv("TZ", "Asia/Kolkata", 1);
  EXPECT_EQ(local_name(), "Asia/Kolkata");
  ::setenv("TZ", ":Europe/Berlin", 1);
  EXPECT_EQ(local_name(), "Europe/Berlin");
  ::setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3", 1);  // a POSIX rule is not a name
  EXPECT_EQ(local_name(), "UTC");
  ::unsetenv("TZ");
  EXPECT_TRUE(load(local_name()));
}

/// Python's zoneinfo reads the same tables by other code. 27 zones of every habit, at spread instants from 1990 to
/// 2100: the offsets must agree.
TEST(Zone, AgreesWithAnotherReader) {
  constexpr const char* script = R"(python3 -c '
import zoneinfo, datetime, os
zoneinfo.reset_tzpath(to=["/usr/share/zoneinfo"])
start = 631152000
names = ["Europe/Berlin","Europe/London","Europe/Dublin","America/New_York","America/St_Johns","America/Sao_Paulo",
  "America/Santiago","America/Nuuk","America/Phoenix","Asia/Kolkata","Asia/Kathmandu","Asia/Tehran","Asia/Gaza","Asia/Pyongyang",
  "Africa/Casablanca","Africa/Cairo","Australia/Lord_Howe","Australia/Adelaide","Pacific/Apia","Pacific/Chatham",
  "Pacific/Kiritimati","Pacific/Auckland","Antarctica/Troll","Europe/Moscow","Europe/Istanbul","Africa/Monrovia","UTC"]
for name in names:
  z = zoneinfo.ZoneInfo(name)
  for k in range(0, 3500):
    t = start + k * 1000003
    off = datetime.datetime.fromtimestamp(t, datetime.timezone.utc).astimezone(z).utcoffset()
    print(name, t, int(off.total_seconds()) // 60)
' 2>/dev/null)";
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe{::popen(script, "r"), ::pclose};
  ASSERT_TRUE(pipe);
  std::map<std::string, Zone> zones;
  char name[64];
  long long at = 0;
  int want = 0;
  long rows = 0;
  while (std::fscanf(pipe.get(), "%63s %lld %d", name, &at, &want) == 3) {
    ++rows;
    auto [it, fresh] = zones.try_emplace(name);
    if (fresh) it->second = zone_of(name);
    const auto got = it->second.offset_at(Instant{seconds{at}}).count();
    ASSERT_EQ(got, want) << name << " at " << at;
  }
  if (rows == 0) GTEST_SKIP() << "python3 with zoneinfo and tzdata is not here to compare with";
  EXPECT_EQ(rows, 27 * 3500);
}

}  // namespace
}  // namespace lampside::zone
