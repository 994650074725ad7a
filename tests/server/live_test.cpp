// News between devices, and whatever may come over the wire.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "house.hpp"

namespace lampside::server {
namespace {

using namespace std::chrono_literals;
using test::Answer;
using test::Connection;
using test::House;
using test::id;
using ::testing::HasSubstr;
using ::testing::Not;

const std::string kLitter = "/l/juniper-2026/";

struct LiveTest : ::testing::Test {
  LiveTest() { house.with_pups(); }
  House house;
};

TEST_F(LiveTest, TwoPhonesSeeEachOthersEntryWithinASecond) {
  Connection first{house.port()}, second{house.port()};
  for (auto* c : {&first, &second}) {
    c->send("GET " + kLitter + "live HTTP/1.1\r\nHost: localhost\r\n\r\n");
    EXPECT_THAT(c->receive(2s, "retry: 2000\n\n"), HasSubstr("text/event-stream"));
  }
  const auto start = std::chrono::steady_clock::now();
  ASSERT_EQ(house.record({{"kind", "weight"}, {"about", "1"}, {"reading", "430"}, {"back", "weigh-in"}}).status, 303);
  for (auto* c : {&first, &second}) EXPECT_THAT(c->receive(2s, "data: 4\n\n"), HasSubstr("event: news\ndata: 4\n\n"));
  EXPECT_LT(std::chrono::steady_clock::now() - start, 1s);
  EXPECT_THAT(house.get(kLitter + "pup?label=1").body, HasSubstr("430 g"));
}

TEST_F(LiveTest, AnEntryOfAnotherProcessIsNewsToo) {
  Connection c{house.port()};
  c.send("GET " + kLitter + "live HTTP/1.1\r\nHost: localhost\r\n\r\n");
  (void)c.receive(2s, "retry: 2000\n\n");
  const auto stamp = parse_stamp("2026-03-02T09:00:00+01:00").value();
  auto entry = record::make_entry(id(502), "juniper-2026", stamp, stamp, "", "", record::Note{});
  entry.note = "from the command line";
  ASSERT_TRUE(house.journal.append(std::vector{entry}));
  EXPECT_THAT(c.receive(1s, "data: 4\n\n"), HasSubstr("data: 4\n\n"));
  EXPECT_THAT(house.get(kLitter + "log").body, HasSubstr("from the command line"));
}

TEST_F(LiveTest, AReconnectedPhoneHearsWhatItMissed) {
  Connection c{house.port()};
  c.send("GET " + kLitter + "live HTTP/1.1\r\nHost: localhost\r\nLast-Event-ID: 2\r\n\r\n");
  EXPECT_THAT(c.receive(1s, "data: 3\n\n"), HasSubstr("id: 3\nevent: news\ndata: 3\n\n"));
  Connection d{house.port()};
  d.send("GET " + kLitter + "live?from=3 HTTP/1.1\r\nHost: localhost\r\n\r\n");
  EXPECT_THAT(d.receive(500ms, "event:"), Not(HasSubstr("event:")));
}

TEST_F(LiveTest, AnEntryBetweenPageAndStreamIsNotMissed) {
  ASSERT_EQ(house.get(kLitter + "now").status, 200);
  ASSERT_EQ(house.record({{"kind", "note"}, {"note", "in between"}, {"back", "log"}}).status, 303);
  Connection c{house.port()};
  c.send("GET " + kLitter + "live HTTP/1.1\r\nHost: localhost\r\n\r\n");
  EXPECT_THAT(c.receive(1s, "data: 4\n\n"), HasSubstr("event: news\ndata: 4\n\n"));
}

TEST_F(LiveTest, AQuietStreamGivesASignOfLife) {
  Connection c{house.port()};
  c.send("GET " + kLitter + "live HTTP/1.1\r\nHost: localhost\r\n\r\n");
  EXPECT_THAT(c.receive(2s, ": still here\n\n"), HasSubstr(": still here"));
}

TEST_F(LiveTest, AThousandRandomRequestsNeverStopIt) {
  std::mt19937 random{20260302};
  const std::vector<std::string> words{"/l/juniper-2026/",
                                       "now",
                                       "record",
                                       "strike",
                                       "settings",
                                       "live",
                                       "pup?label=",
                                       "weigh-in?turn=",
                                       "log?until=",
                                       "log?correct=",
                                       "/start",
                                       "/assets/",
                                       "paper/weights.pdf",
                                       "?did=",
                                       id(2),
                                       "%2e%2e/",
                                       "%00",
                                       "%ff",
                                       "&",
                                       "=",
                                       "2026-13-45",
                                       "999999999999999999999",
                                       "-1"};
  const std::vector<std::string> names{"kind",        "about", "reading", "tub", "unit",     "at",    "note",
                                       "corrects",    "back",  "strike",  "id",  "dam_name", "zone",  "pups",
                                       "mating_date", "sex",   "heart",   "ml",  "by",       "where", "litter"};
  const std::vector<std::string> values{"weight",
                                        "birth",
                                        "temperature",
                                        "1",
                                        "dam",
                                        "412",
                                        "14 3/8 oz",
                                        id(2),
                                        id(3),
                                        "now",
                                        "pup?label=",
                                        "2026-03-01T02:30",
                                        "9999-12-31T23:59",
                                        "0000-00-00",
                                        "true",
                                        "\xf0\x9f\x90\xb6",
                                        "1e308",
                                        "nan",
                                        std::string(300, 'x'),
                                        "../..",
                                        "'; --",
                                        "<b>"};
  const auto any = [&](const auto& list) { return list[random() % list.size()]; };
  std::map<int, int> statuses;
  for (int i = 0; i < 1000; ++i) {
    std::string target = random() % 3 == 0 ? "/" : kLitter;
    for (auto n = random() % 4; n > 0; --n) target += any(words);
    if (target.find("/live") != std::string::npos) continue;
    Answer a;
    if (random() % 2 == 0) {
      a = house.get(target);
    } else {
      test::Fields fields;
      for (auto n = random() % 8; n > 0; --n) fields.emplace_back(any(names), any(values));
      a = house.post(random() % 2 == 0 ? kLitter + "record" : target, fields);
    }
    ++statuses[a.status];
    ASSERT_NE(a.status, 0) << target;
    ASSERT_NE(a.status, 500) << target;
  }
  EXPECT_GT(statuses.size(), 4U);  // it did reach more than one corner
  EXPECT_EQ(house.get(kLitter + "now").status, 200);
  EXPECT_TRUE(record::fold(house.journal.all(), "juniper-2026", Zone{}).misfits.empty());
}

}  // namespace
}  // namespace lampside::server
