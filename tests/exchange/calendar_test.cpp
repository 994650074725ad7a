// The calendar, read back by libical (the reference library) and held against RFC 5545's own rules.
#include "exchange/calendar.hpp"

#include <gtest/gtest.h>
#include <libical/ical.h>

#include <map>
#include <memory>
#include <set>

#include "../advice/story.hpp"

namespace lampside::exchange {
namespace {

using testing::kNight;
using testing::Story;

struct Free {
  void operator()(icalcomponent* c) const { icalcomponent_free(c); }
};
using Component = std::unique_ptr<icalcomponent, Free>;

struct Seen {
  std::string day, summary;
  int sequence = 0, alarms = 0;
  std::string stamp;
};

Component parse(const std::string& text) { return Component{icalparser_parse_string(text.c_str())}; }

std::map<std::string, Seen> events(const std::string& text) {
  const auto calendar = parse(text);
  std::map<std::string, Seen> out;
  EXPECT_TRUE(calendar);
  if (!calendar) return out;
  for (auto* e = icalcomponent_get_first_component(calendar.get(), ICAL_VEVENT_COMPONENT); e != nullptr;
       e = icalcomponent_get_next_component(calendar.get(), ICAL_VEVENT_COMPONENT)) {
    Seen seen;
    seen.day = icaltime_as_ical_string(icalcomponent_get_dtstart(e));
    seen.summary = icalcomponent_get_summary(e);
    seen.sequence = icalcomponent_get_sequence(e);
    seen.alarms = icalcomponent_count_components(e, ICAL_VALARM_COMPONENT);
    seen.stamp = icaltime_as_ical_string(icalcomponent_get_dtstamp(e));
    EXPECT_TRUE(out.emplace(icalcomponent_get_uid(e), seen).second) << "a UID twice: " << icalcomponent_get_uid(e);
  }
  return out;
}

Story ten_pups() {
  Story story;
  story.breed("Golden Retriever").mated(kNight - testing::days(63));
  for (int n = 1; n <= 10; ++n) story.born(std::to_string(n), kNight + testing::minutes(30 * n), 400);
  return story;
}
std::string calendar(const Story& story, Instant now) { return to_calendar(story.assess(now), story.litter()); }

/// RFC 5545, 3.1: lines end in CRLF, none is longer than 75 octets without it, no other control character.
void expect_lines(const std::string& text) {
  std::size_t from = 0, lines = 0;
  while (from < text.size()) {
    const auto end = text.find("\r\n", from);
    ASSERT_NE(end, std::string::npos) << "the last line does not end in CRLF";
    ASSERT_LE(end - from, 75U) << text.substr(from, end - from);
    ASSERT_GT(end, from) << "an empty line";
    for (std::size_t i = from; i < end; ++i)
      ASSERT_GE(static_cast<unsigned char>(text[i]), 0x20) << "in line " << lines;
    // No letter of UTF-8 is cut: a line never begins in the middle of one.
    const auto first = static_cast<unsigned char>(text[from] == ' ' ? text[from + 1] : text[from]);
    ASSERT_NE(first & 0xC0U, 0x80U) << "a letter is cut before line " << lines;
    from = end + 2;
    ++lines;
  }
  ASSERT_GT(lines, 20U);
}

TEST(Calendar, LinesAreAsTheStandardSays) {
  Story story = ten_pups();
  story.tell(
      kNight, "dam",
      record::CareOwn{"Grüße; Füttern, wägen \\ \"ruhen\" – " + std::string(120, 'x') + " ééééééééééééééééééééééé",
                      CivilDay{std::chrono::days{20800}},
                      {}});
  expect_lines(calendar(story, kNight + testing::days(10)));
}

TEST(Calendar, LibicalReadsItWithoutAnError) {
  const auto text = calendar(ten_pups(), kNight + testing::days(10));
  const auto read = parse(text);
  ASSERT_TRUE(read);
  EXPECT_EQ(icalcomponent_isa(read.get()), ICAL_VCALENDAR_COMPONENT);
  icalcomponent_strip_errors(read.get());
  EXPECT_EQ(icalcomponent_count_errors(read.get()), 0);
  // The restrictions of RFC 5546 / 5545 on which property may stand where and how often, as the library knows them.
  EXPECT_TRUE(icalrestriction_check(read.get())) << icalcomponent_as_ical_string(read.get());
  EXPECT_GT(events(text).size(), 25U);
  for (const auto& [uid, e] : events(text)) {
    EXPECT_EQ(e.day.size(), 8U) << uid << ": a date, without a time";
    EXPECT_GE(e.alarms, 1) << uid;
  }
  // And the check can say no.
  std::string broken = text;
  broken.replace(broken.find("UID:"), 4, "DTSTAMP:20260101T000000Z\r\nX-UID:");
  EXPECT_FALSE(icalrestriction_check(parse(broken).get()));
}

TEST(Calendar, TextComesBackAsItWas) {
  const std::string what = "Worm; weigh, and write \\ down – née";
  Story story;
  story.tell(kNight, "dam", record::CareOwn{what, CivilDay{std::chrono::days{20800}}, {}});
  const auto all = events(calendar(story, kNight));
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all.begin()->second.summary, what + ": the dam");
  EXPECT_EQ(all.begin()->second.day, "20261213");
}

TEST(Calendar, AMovedTaskKeepsItsUidAndItsSequenceGrows) {
  Story before;
  before.mated(kNight - testing::days(50));
  const auto one = events(calendar(before, kNight));
  const auto uid = "worm.juniper-2026@lampside";
  ASSERT_TRUE(one.count(uid));
  Story after = before;
  after.born("1", kNight + testing::days(10), 400);
  const auto two = events(calendar(after, kNight + testing::days(10)));
  ASSERT_TRUE(two.count(uid));
  EXPECT_NE(one.at(uid).day, two.at(uid).day);
  EXPECT_EQ(two.at(uid).day, "20261029");  // born 15 October, day 14
  EXPECT_GT(two.at(uid).sequence, one.at(uid).sequence);
  EXPECT_GT(two.at(uid).stamp, one.at(uid).stamp);
  // Asked again with nothing new: the very same.
  EXPECT_EQ(calendar(after, kNight + testing::days(13)).size(), calendar(after, kNight + testing::days(14)).size());
  const auto three = events(calendar(after, kNight + testing::days(13)));
  EXPECT_EQ(three.at(uid).sequence, two.at(uid).sequence);
  EXPECT_EQ(three.at(uid).stamp, two.at(uid).stamp);
}

TEST(Calendar, WhatHangsOnTheForecastNeverFallsInSequence) {
  Story story;
  story.mated(kNight - testing::days(50));
  int last = 0;
  for (int h = 0; h < 24 * 14; h += 7) {
    if (h == 70) story.tell(kNight + testing::hours(70), "dam", record::Ovulation{});
    const int now = events(calendar(story, kNight + testing::hours(h))).at("worm.juniper-2026@lampside").sequence;
    EXPECT_GE(now, last) << h;
    last = now;
  }
}

TEST(Calendar, DoneTasksVanishAndOnePupPutOffHasItsOwnEvent) {
  Story story = ten_pups();
  const Instant day14 = kNight + testing::days(14.5);
  for (int n = 1; n <= 8; ++n) story.tell(day14, std::to_string(n), record::Done{"worm"});
  story.tell(
      day14, "9",
      record::Later{
          "worm", CivilDay{std::chrono::floor<std::chrono::days>(day14 + testing::days(2)).time_since_epoch()}, "ill"});
  const auto some = events(calendar(story, day14));
  ASSERT_TRUE(some.count("worm.juniper-2026@lampside"));
  EXPECT_NE(some.at("worm.juniper-2026@lampside").summary.find("pup 10"), std::string::npos);
  ASSERT_TRUE(some.count("worm.of-9.juniper-2026@lampside"));
  EXPECT_EQ(some.at("worm.of-9.juniper-2026@lampside").day, "20261021");
  for (const auto* pup : {"9", "10"}) story.tell(day14, pup, record::Done{"worm"});
  const auto none = events(calendar(story, day14));
  EXPECT_FALSE(none.count("worm.juniper-2026@lampside"));
  EXPECT_FALSE(none.count("worm.of-9.juniper-2026@lampside"));
  EXPECT_TRUE(none.count("worm.2.juniper-2026@lampside"));
}

TEST(Calendar, FoldingAndEscaping) {
  EXPECT_EQ(fold_line("SHORT"), "SHORT\r\n");
  EXPECT_EQ(fold_line(std::string(75, 'a')), std::string(75, 'a') + "\r\n");
  EXPECT_EQ(fold_line(std::string(76, 'a')), std::string(75, 'a') + "\r\n a\r\n");
  EXPECT_EQ(fold_line(std::string(150, 'a')), std::string(75, 'a') + "\r\n " + std::string(74, 'a') + "\r\n a\r\n");
  EXPECT_EQ(fold_line(std::string(74, 'a') + "é"), std::string(74, 'a') + "\r\n é\r\n");
  EXPECT_EQ(escape_text("a,b;c\\d\ne\r\x01"), "a\\,b\\;c\\\\d\\ne");
}

/// Eleven pups at eight teats.
Story in_turns() {
  Story s;
  for (int n = 1; n <= 11; ++n)
    s.born(std::to_string(n), kNight - testing::days(3) + testing::minutes(n), 300 + 15 * n);
  return s.tell(kNight - testing::days(2), "", record::TeatTurns{true, 8, {}, {}, {}});
}

TEST(Calendar, TurnsAreTimedEventsThatKeepTheirNameWhenAskedAgain) {
  const auto turns_at = [](Instant now) {
    const auto s = in_turns();
    std::map<std::string, Seen> out;
    for (const auto& [uid, seen] : events(to_calendar(s.assess(now), s.litter())))
      if (uid.starts_with("turn-")) out.emplace(uid, seen);
    return out;
  };
  const auto first = turns_at(kNight), later = turns_at(kNight + testing::hours(6));
  ASSERT_GE(first.size(), 8U);
  int same = 0;
  for (const auto& [uid, seen] : later) {
    const auto before = first.find(uid);
    if (before == first.end()) continue;
    ++same;
    EXPECT_EQ(before->second.day, seen.day);
    EXPECT_EQ(before->second.summary, seen.summary);
    EXPECT_LE(before->second.sequence, seen.sequence);
    EXPECT_EQ(seen.alarms, 1);
    EXPECT_NE(seen.day.find('T'), std::string::npos) << "a time, not a day";
  }
  EXPECT_GE(same, 5) << "the hours both speak of";
}

// Three pups by hand, eight feeds a day each: eight walks to the box, in the next 24 hours, with the amounts. A feed
// moves the next ones and the number of the calendar rises; a pup that must not be fed has none.
TEST(Calendar, FeedsByHandAreTimedEventsThatAFeedMoves) {
  Story s;
  for (const char* label : {"1", "2", "3"}) {
    s.born(label, kNight - testing::days(5), 400).weighed(label, 500, kNight - testing::hours(1));
    s.tell(kNight - testing::days(5), label, record::HandFeeding{record::FeedShare::full, {}});
    s.tell(kNight - testing::minutes(20), label, record::Feed{Millilitres{10}, record::FeedWay::bottle, KcalPerMl{1}});
  }
  s.tell(kNight - testing::days(5), "", record::Milk{"puppy milk", KcalPerMl{1}, {}, {}, {}});
  const auto feeds_at = [&](Instant now) {
    std::map<std::string, Seen> out;
    for (const auto& [uid, seen] : events(calendar(s, now)))
      if (uid.starts_with("feed-")) out.emplace(uid, seen);
    return out;
  };
  const auto before = feeds_at(kNight);
  ASSERT_EQ(before.size(), 8U);
  EXPECT_EQ(before.begin()->second.day, "20261005T024000Z");
  EXPECT_EQ(before.begin()->second.summary, "Milk by hand: 3 pups");
  EXPECT_EQ(before.begin()->second.alarms, 1);
  EXPECT_NE(calendar(s, kNight).find("1: 13 ml"), std::string::npos)
      << "500 g x 22 kcal / 1 kcal/ml / 8, down to a mark";
  expect_lines(calendar(s, kNight));
  s.tell(kNight, "1", record::Feed{Millilitres{10}, record::FeedWay::bottle, KcalPerMl{1}});
  s.tell(kNight, "2", record::SignSeen{record::Sign::no_suck});
  const auto after = feeds_at(kNight);
  EXPECT_EQ(after.begin()->second.day, "20261005T024000Z") << "pup 3 is still due then";
  EXPECT_EQ(after.begin()->second.summary, "Milk by hand: 2 pups") << "1 and 3 within half an hour, 2 must not";
  EXPECT_GT(after.begin()->second.sequence, before.begin()->second.sequence);
}

}  // namespace
}  // namespace lampside::exchange
