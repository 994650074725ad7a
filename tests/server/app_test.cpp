// Whole requests over HTTP: screens, entries, refusals that keep what was typed, undo, settings, news.
#include "server/app.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

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
using ::testing::StartsWith;

const std::string kLitter = "/l/juniper-2026/";

struct AppTest : ::testing::Test {
  AppTest() { house.with_pups(); }
  std::size_t entries() { return house.journal.all().size(); }
  House house;
};

// ---- addresses ------------------------------------------------------------------------------------------------------

TEST_F(AppTest, TheRootLeadsToTheOnlyLitter) {
  const auto a = house.get("/");
  EXPECT_EQ(a.status, 303);
  EXPECT_EQ(a.header("location"), kLitter + "now");
  EXPECT_EQ(house.get("/l/juniper-2026").header("location"), kLitter + "now");
}

TEST(App, AnEmptyJournalShowsTheStartForm) {
  House house;
  const auto a = house.get("/");
  EXPECT_EQ(a.status, 200);
  EXPECT_THAT(a.body, HasSubstr("action=\"/start\""));
  EXPECT_THAT(a.body, HasSubstr(house.token()));
}

TEST_F(AppTest, EveryScreenIsThereAndNamesTheDam) {
  for (const auto* screen :
       {"now", "due", "whelping", "weigh-in", "weigh-in?turn=2", "pup?label=1", "dosing", "paper", "log", "settings"}) {
    const auto a = house.get(kLitter + screen);
    EXPECT_EQ(a.status, 200) << screen;
    EXPECT_THAT(a.body, HasSubstr("Juniper")) << screen;
    EXPECT_EQ(a.header("content-type"), "text/html; charset=utf-8");
  }
}

TEST_F(AppTest, UnknownAddressesAre404) {
  for (const auto* path : {"/nothing", "/l", "/l/elsewhere/now", "/l/juniper-2026/nothing", "/l/juniper-2026/now/more",
                           "/l/juniper-2026/pup?label=9", "/assets/nothing.css", "/assets",
                           "/l/juniper-2026/paper/nothing.pdf", "/l/juniper-2026/paper/weights", "/favicon.ico"})
    EXPECT_EQ(house.get(path).status, 404) << path;
}

TEST_F(AppTest, NoPathReachesAFile) {
  for (const auto* path :
       {"/../../../../etc/passwd", "/assets/../../../../etc/passwd", "/assets/..%2f..%2f..%2fetc%2fpasswd",
        "/assets/%2e%2e/%2e%2e/etc/passwd", "/assets//etc/passwd", "/l/..%2f..%2fetc/now",
        "/l/juniper-2026/paper/..%2f..%2fetc%2fpasswd.pdf", "/l/juniper-2026'%20OR%201=1--/now",
        "/assets/lampside.css/../../../etc/passwd", "/file:///etc/passwd"}) {
    const auto a = house.get(path);
    EXPECT_EQ(a.status, 404) << path;
    EXPECT_THAT(a.body, Not(HasSubstr("root:"))) << path;
  }
}

TEST_F(AppTest, WrongMethodsAre405WithTheRightOnes) {
  const auto allow = [](const Answer& a) { return std::to_string(a.status) + " " + a.header("allow"); };
  EXPECT_EQ(allow(house.get(kLitter + "record")), "405 POST");
  EXPECT_EQ(allow(house.get(kLitter + "strike")), "405 POST");
  EXPECT_EQ(allow(house.post(kLitter + "now", {})), "405 GET, HEAD");
  EXPECT_EQ(allow(house.post("/", {})), "405 GET, HEAD");
  EXPECT_EQ(allow(house.post("/assets/lampside.css", {})), "405 GET, HEAD");
  EXPECT_EQ(allow(house.post(kLitter + "paper/weights.pdf", {})), "405 GET, HEAD");
  EXPECT_EQ(allow(test::ask(house.port(), "DELETE", kLitter + "log")), "405 GET, HEAD, POST");
  EXPECT_EQ(test::ask(house.port(), "HEAD", kLitter + "now").status, 200);
  EXPECT_EQ(test::ask(house.port(), "HEAD", kLitter + "live").status, 200);
}

TEST_F(AppTest, LitterNamesOfAnyKindHaveAddresses) {
  const auto stamp = parse_stamp("2026-03-01T10:00:00Z").value();
  record::LitterFacts facts;
  facts.dam = record::Parent{.name = "Sorrel", .breed = {}, .born = {}, .kg = {}, .parity = {}};
  ASSERT_TRUE(house.journal.append(std::vector{record::make_entry(id(500), "a/b ?#%", stamp, stamp, "", "", facts)}));
  const auto a = house.get("/l/a%2Fb%20%3F%23%25/now");
  EXPECT_EQ(a.status, 200);
  EXPECT_THAT(a.body, HasSubstr("Sorrel"));
  const auto r = house.post("/l/a%2Fb%20%3F%23%25/record", {{"kind", "note"}, {"note", "hello"}, {"back", "log"}});
  EXPECT_THAT(r.header("location"), StartsWith("/l/a%2Fb%20%3F%23%25/log?did="));
  EXPECT_EQ(house.get("/").status, 200);  // two litters: the start page lists them
}

TEST_F(AppTest, AssetsMayBeKeptByTheirContent) {
  ASSERT_FALSE(page::assets().empty());
  for (const auto& asset : page::assets()) {
    const auto path = "/assets/" + std::string(asset.path);
    const auto a = house.get(path);
    EXPECT_EQ(a.status, 200) << path;
    EXPECT_EQ(a.body, asset.body);
    EXPECT_EQ(a.header("cache-control"), "no-cache");
    const auto etag = a.header("etag");
    const auto again = house.get(path, "If-None-Match: " + etag + "\r\n");
    EXPECT_EQ(again.status, 304);
    EXPECT_EQ(again.body, "");
    EXPECT_EQ(house.get(path, "If-None-Match: \"other\"\r\n").status, 200);
  }
  // The pages' own addresses carry the content's mark, so their copies never need asking again.
  const auto page = house.get(kLitter + "now").body;
  std::smatch found;
  ASSERT_TRUE(std::regex_search(page, found, std::regex{"\"(/assets/[a-z.]+\\?v=[0-9a-f]+)\""}));
  EXPECT_THAT(house.get(found[1]).header("cache-control"), HasSubstr("immutable"));
  EXPECT_EQ(house.get("/assets/lampside.css?v=00000000").header("cache-control"), "no-cache");
}

TEST_F(AppTest, PrintsOnTheSheetAskedFor) {
  const auto a = house.get(kLitter + "paper/weights.pdf");
  EXPECT_EQ(a.header("content-type"), "application/pdf");
  EXPECT_EQ(a.body, "%PDF of juniper-2026 on a4");
  EXPECT_THAT(a.header("content-disposition"), HasSubstr("juniper-2026-weights.pdf"));
  EXPECT_EQ(house.get(kLitter + "paper/weights.pdf?size=letter").body, "%PDF of juniper-2026 on letter");
  EXPECT_EQ(house.get(kLitter + "paper/weights.pdf?size=wall").status, 404);
}

// ---- safety ---------------------------------------------------------------------------------------------------------

TEST_F(AppTest, EveryAnswerCarriesTheSafeHeadersAndNoPageHasInlineCode) {
  std::vector<Answer> answers;
  for (const auto* path :
       {"/", "/start", "/nothing", "/%zz", "/assets/lampside.css", "/l/juniper-2026/now", "/l/juniper-2026/due",
        "/l/juniper-2026/whelping", "/l/juniper-2026/weigh-in", "/l/juniper-2026/pup?label=1", "/l/juniper-2026/paper",
        "/l/juniper-2026/log", "/l/juniper-2026/settings", "/l/juniper-2026/paper/weights.pdf"})
    answers.push_back(house.get(path));
  answers.push_back(house.get("/", "Host: evil.example\r\n"));
  answers.push_back(
      house.post(kLitter + "record",
                 {{"kind", "weight"}, {"about", "1"}, {"reading", "<script>alert(1)</script>"}, {"back", "weigh-in"}}));
  answers.push_back(
      house.post(kLitter + "record", {{"kind", "note"}, {"note", "<img src=x onerror=alert(1)>\"'"}, {"back", "log"}}));
  answers.push_back(house.get(kLitter + "log"));
  const std::regex inline_script{"<script(?![^>]*\\bsrc=)[^>]*>"}, handler{"<[^>]*\\son[a-z]+\\s*="},
      style{"<[^>]*\\sstyle\\s*=|<style"};
  for (const auto& a : answers) {
    EXPECT_EQ(a.headers.count("content-security-policy"), 1U);
    EXPECT_THAT(a.header("content-security-policy"), HasSubstr("default-src 'none'"));
    EXPECT_THAT(a.header("content-security-policy"), Not(HasSubstr("unsafe")));
    EXPECT_EQ(a.header("x-content-type-options"), "nosniff");
    EXPECT_EQ(a.header("x-frame-options"), "DENY");
    EXPECT_EQ(a.header("referrer-policy"), "same-origin");
    EXPECT_EQ(a.headers.count("cache-control"), 1U);
    if (a.header("content-type").starts_with("text/html")) {
      EXPECT_EQ(a.header("cache-control"), "no-store");
      EXPECT_FALSE(std::regex_search(a.body, inline_script));
      EXPECT_FALSE(std::regex_search(a.body, handler));
      EXPECT_FALSE(std::regex_search(a.body, style));
    }
  }
  // The probes can say yes.
  EXPECT_TRUE(std::regex_search(std::string{"<script>x</script>"}, inline_script));
  EXPECT_TRUE(std::regex_search(std::string{"<b onclick=\"x\">"}, handler));
  EXPECT_TRUE(std::regex_search(std::string{"<p style=\"x\">"}, style));
  EXPECT_THAT(answers.back().body, HasSubstr("&lt;img src=x"));
}

TEST_F(AppTest, RefusesForeignHostsOriginsAndTokens) {
  const auto before = entries();
  EXPECT_EQ(house.get(kLitter + "now", "Host: evil.example\r\n").status, 421);
  const test::Fields note{{"kind", "note"}, {"note", "x"}, {"back", "log"}};
  EXPECT_EQ(house.post(kLitter + "record", note, "Origin: http://evil.example\r\n").status, 403);
  EXPECT_EQ(house.post(kLitter + "record", note, "Origin: null\r\n").status, 403);
  EXPECT_EQ(house.post(kLitter + "record", note, "Sec-Fetch-Site: cross-site\r\n").status, 403);
  auto wrong = note;
  wrong.emplace_back("token", std::string(32, '0'));
  for (const auto* path : {"record", "strike", "answer", "settings"})
    EXPECT_EQ(house.post(kLitter + path, wrong).status, 403) << path;
  EXPECT_EQ(house.post("/start", {{"dam_name", "X"}, {"token", ""}}).status, 403);
  EXPECT_EQ(entries(), before);
  const auto own = "Origin: http://127.0.0.1:" + std::to_string(house.port()) + "\r\nSec-Fetch-Site: same-origin\r\n";
  EXPECT_EQ(house.post(kLitter + "record", note, own).status, 303);
  EXPECT_EQ(entries(), before + 1);
}

// ---- taking entries in ----------------------------------------------------------------------------------------------

TEST_F(AppTest, AWeightIsTakenInShownAndUndone) {
  const auto a = house.post(kLitter + "record",
                            {{"kind", "weight"},
                             {"about", "1"},
                             {"reading", "482.5"},
                             {"tub", "52.5"},
                             {"unit", "g"},
                             {"back", "weigh-in"},
                             {"id", id(40)}},
                            "User-Agent: Something (iPhone)\r\n");
  ASSERT_EQ(a.status, 303) << a.body;
  EXPECT_EQ(a.header("location"), kLitter + "weigh-in?did=" + id(40));
  EXPECT_EQ(house.last().by, "phone");
  EXPECT_EQ(*record::body_as<record::Weight>(house.last()), (record::Weight{Grams{430}, "482.5 g", Grams{52.5}}));

  const auto shown = house.get(a.header("location"));
  EXPECT_THAT(shown.body, HasSubstr("Written down: "));
  EXPECT_THAT(shown.body, HasSubstr("430 g"));
  EXPECT_THAT(shown.body, HasSubstr("name=\"strike\" value=\"" + id(40) + "\""));

  const auto undone =
      house.post(kLitter + "strike", {{"strike", id(40)}, {"back", "weigh-in?did=" + id(40)}, {"id", id(41)}});
  ASSERT_EQ(undone.status, 303);
  EXPECT_EQ(undone.header("location"), kLitter + "weigh-in?did=" + id(41));
  const auto after = house.get(undone.header("location"));
  EXPECT_THAT(after.body, HasSubstr("Struck out: "));
  // Nothing is lost: striking the strike out brings the weight back.
  const auto again = house.post(kLitter + "strike", {{"strike", id(41)}, {"back", "log"}, {"id", id(43)}});
  ASSERT_EQ(again.status, 303);
  EXPECT_THAT(house.get(again.header("location")).body, HasSubstr("Put back: "));
  const auto litter = record::fold(house.journal.all(), "juniper-2026", Zone{});
  EXPECT_EQ(litter.pup("1")->weights.size(), 2U);
  house.turn_clock("2026-03-02T10:16:00+01:00");
  EXPECT_THAT(house.get(a.header("location")).body,
              Not(HasSubstr("Written down: ")));  // an old address offers no undoing
}

TEST_F(AppTest, ADoubleTapIsOneEntry) {
  const auto before = entries();
  const test::Fields birth{{"kind", "birth"}, {"about", ""}, {"back", "whelping"}, {"id", id(42)}};
  const auto first = house.post(kLitter + "record", birth);
  house.turn_clock("2026-03-02T10:00:03+01:00");
  const auto second = house.post(kLitter + "record", birth);
  EXPECT_EQ(first.status, 303);
  EXPECT_EQ(second.status, 303);
  EXPECT_EQ(first.header("location"), second.header("location"));
  EXPECT_EQ(entries(), before + 1);
  EXPECT_EQ(house.last().about, "3");
  // The same id with something else in the form is told, and takes nothing.
  const auto other =
      house.post(kLitter + "record", {{"kind", "birth"}, {"sex", "male"}, {"back", "whelping"}, {"id", id(42)}});
  EXPECT_EQ(other.status, 422);
  EXPECT_THAT(other.body, HasSubstr("sent before"));
  const test::Fields strike{{"strike", id(42)}, {"back", "whelping"}, {"id", id(43)}};
  EXPECT_EQ(house.post(kLitter + "strike", strike).status, 303);
  EXPECT_EQ(house.post(kLitter + "strike", strike).status, 303);
  EXPECT_EQ(entries(), before + 2);
}

TEST_F(AppTest, ARefusedFormKeepsWhatWasTyped) {
  const auto before = entries();
  const auto a = house.post(kLitter + "record", {{"kind", "weight"},
                                                 {"about", "2"},
                                                 {"reading", "4l2"},
                                                 {"tub", "52,5"},
                                                 {"note", "wriggled"},
                                                 {"unit", "g"},
                                                 {"back", "weigh-in"}});
  EXPECT_EQ(a.status, 422);
  EXPECT_THAT(a.body, HasSubstr("value=\"4l2\""));
  EXPECT_THAT(a.body, HasSubstr("value=\"52,5\""));
  EXPECT_THAT(a.body, HasSubstr("Type e.g. 412"));
  EXPECT_THAT(a.body, HasSubstr("name=\"about\" value=\"2\""));
  EXPECT_EQ(entries(), before);
  const auto t =
      house.post(kLitter + "record", {{"kind", "temperature"}, {"about", "dam"}, {"reading", "380"}, {"back", "due"}});
  EXPECT_EQ(t.status, 422);
  EXPECT_THAT(t.body, HasSubstr("value=\"380\""));
  const auto s =
      house.post(kLitter + "settings", {{"dam_name", "Juniper"}, {"dam_kg", "heavy"}, {"vet_phone", "555 0100"}});
  EXPECT_EQ(s.status, 422);
  EXPECT_THAT(s.body, HasSubstr("value=\"heavy\""));
  EXPECT_THAT(s.body, HasSubstr("value=\"555 0100\""));
  const auto b = house.post("/start", {{"dam_name", ""}, {"breed", "Setter"}});
  EXPECT_EQ(b.status, 422);
  EXPECT_THAT(b.body, HasSubstr("value=\"Setter\""));
  EXPECT_EQ(entries(), before);
}

TEST_F(AppTest, WhatDoesNotFitTheStoryIsRefusedWithAdvice) {
  const auto before = entries();
  const auto refused = [&](test::Fields fields) {
    const auto a = house.record(std::move(fields));
    EXPECT_EQ(a.status, 422);
    return a.body;
  };
  EXPECT_THAT(
      refused(
          {{"kind", "weight"}, {"about", "1"}, {"reading", "400"}, {"at", "2026-02-28T23:00"}, {"back", "weigh-in"}}),
      HasSubstr("before pup"));
  EXPECT_THAT(refused({{"kind", "weight"}, {"about", "9"}, {"reading", "400"}, {"back", "weigh-in"}}),
              HasSubstr("record"));
  EXPECT_THAT(refused({{"kind", "birth"}, {"about", "1"}, {"back", "whelping"}}), HasSubstr("already born"));
  EXPECT_EQ(entries(), before);
  ASSERT_EQ(
      house.record({{"kind", "weight"}, {"about", "1"}, {"reading", "420"}, {"back", "now"}, {"id", id(45)}}).status,
      303);
  // A birth with weights behind it cannot be taken back before them.
  const auto a = house.post(kLitter + "strike", {{"strike", id(2)}, {"back", "log"}});
  EXPECT_EQ(a.status, 422);
  EXPECT_THAT(a.body, HasSubstr("an entry would no longer fit"));
  EXPECT_THAT(a.body, HasSubstr("420 g"));
  EXPECT_EQ(house.post(kLitter + "strike", {{"strike", id(45)}, {"back", "log"}}).status, 303);
  EXPECT_EQ(house.post(kLitter + "strike", {{"strike", id(2)}, {"back", "pup?label=1"}})
                .header("location")
                .rfind(kLitter + "whelping?did=", 0),
            0U);
}

TEST_F(AppTest, BackLeadsToAScreenOfOursOnly) {
  const auto back = [&](const std::string& text) {
    auto where =
        house.record({{"kind", "note"}, {"note", "x"}, {"back", text}, {"id", id(900 + static_cast<int>(entries()))}})
            .header("location");
    return where.substr(0, where.find("did="));
  };
  EXPECT_EQ(back("log"), kLitter + "log?");
  EXPECT_EQ(back("pup?label=1"), kLitter + "pup?");
  EXPECT_EQ(back("weigh-in?turn=a%26b&x=1"), kLitter + "weigh-in?");
  for (const auto* foreign :
       {"//evil.example", "https://evil.example/", "../..", "now\r\nX-Evil: 1", "", "record", "javascript:alert(1)"})
    EXPECT_EQ(back(foreign), kLitter + "now?") << foreign;
}

TEST_F(AppTest, BackKeepsItsQueryEncoded) {
  const auto where =
      house.record({{"kind", "note"}, {"note", "x"}, {"back", "weigh-in?turn=a%26b%0D%0AX: 1&did=old"}, {"id", id(46)}})
          .header("location");
  EXPECT_EQ(where, kLitter + "weigh-in?did=" + id(46) + "&turn=a%26b%0D%0AX%3A%201");
}

TEST_F(AppTest, WallClockOnTheNightTheClocksGoBack) {
  house.turn_clock("2026-10-25T02:40:00+01:00");
  const auto a = house.record({{"kind", "sign"},
                               {"about", "dam"},
                               {"sign", "strong_straining"},
                               {"at", "2026-10-25T02:30"},
                               {"back", "whelping"}});
  ASSERT_EQ(a.status, 303);
  EXPECT_EQ(to_iso(house.last().at), "2026-10-25T02:30:00+01:00");
  EXPECT_EQ(to_iso(house.last().written), "2026-10-25T02:40:00+01:00");
}

TEST_F(AppTest, WeightWithTheTubInOunces) {
  ASSERT_EQ(house.post(kLitter + "settings", {{"weight_unit", "oz"}}).status, 303);
  const auto a =
      house.record({{"kind", "weight"}, {"about", "1"}, {"reading", "16 3/8"}, {"tub", "1 1/2"}, {"back", "weigh-in"}});
  ASSERT_EQ(a.status, 303) << a.body;
  const auto& w = *record::body_as<record::Weight>(house.last());
  EXPECT_NEAR(w.grams.count(), 14.875 * 28.349523125, 0.001);
  EXPECT_EQ(w.as_read, "16 3/8 oz");
  EXPECT_NEAR(w.tare_g->count(), 1.5 * 28.349523125, 0.001);
}

TEST_F(AppTest, SettingsAreSavedOnceAndShown) {
  const auto before = entries();
  const test::Fields form{{"dam_name", "Juniper"}, {"dam_kg", "31.5"}, {"vet_phone", "555 0100"}, {"id", id(47)}};
  const auto a = house.post(kLitter + "settings", form);
  EXPECT_EQ(a.header("location"), kLitter + "settings?did=" + id(47));
  EXPECT_EQ(house.post(kLitter + "settings", form).status, 303);
  EXPECT_EQ(entries(), before + 1);
  EXPECT_THAT(house.get(kLitter + "settings").body, HasSubstr("value=\"31.5\""));
  EXPECT_EQ(house.post(kLitter + "settings", {{"dam_name", "Juniper"}, {"dam_kg", "31.5"}}).header("location"),
            kLitter + "settings");
  EXPECT_EQ(entries(), before + 1);
}

TEST(App, TheFirstLitterIsMadeInOneForm) {
  House house;
  const test::Fields form{
      {"dam_name", "Juniper"}, {"mating_date", "2026-01-05"}, {"pups", "8"}, {"zone", "Europe/Berlin"}, {"id", id(48)}};
  const auto a = house.post("/start", form);
  EXPECT_EQ(a.status, 303) << a.body;
  EXPECT_EQ(a.header("location"), "/l/juniper-2026/due");
  EXPECT_EQ(house.journal.all().size(), 3U);
  EXPECT_EQ(house.get(a.header("location")).status, 200);
  EXPECT_EQ(house.post("/start", form).header("location"), "/l/juniper-2026/due");  // a double tap
  EXPECT_EQ(house.journal.all().size(), 3U);
  EXPECT_EQ(house.post("/start", {{"dam_name", "Juniper"}}).header("location"), "/l/juniper-2026-2/due");
}

TEST_F(AppTest, AFailingJournalIsToldAndKeepsWhatWasTyped) {
  house.journal.fail_with("STORE_FULL");
  const auto a =
      house.record({{"kind", "weight"}, {"about", "1"}, {"reading", "430"}, {"unit", "g"}, {"back", "weigh-in"}});
  EXPECT_EQ(a.status, 503);
  EXPECT_THAT(a.body, HasSubstr("value=\"430\""));
  house.journal.fail_with("");
  EXPECT_EQ(house.record({{"kind", "weight"}, {"about", "1"}, {"reading", "430"}, {"unit", "g"}, {"back", "weigh-in"}})
                .status,
            303);
}

TEST_F(AppTest, AnUnknownZoneIsToldAndTheLitterStillShown) {
  const auto stamp = parse_stamp("2026-03-01T10:00:00Z").value();
  record::LitterFacts facts;
  facts.zone = "Mars/North";
  ASSERT_TRUE(
      house.journal.append(std::vector{record::make_entry(id(501), "juniper-2026", stamp, stamp, "", "", facts)}));
  const auto a = house.get(kLitter + "now");
  EXPECT_EQ(a.status, 200);
  EXPECT_THAT(a.body, HasSubstr("Times are shown in UTC"));
}

TEST(App, FromAnEarlierDayTheFutureIsNotKnownYet) {
  House known{"2026-03-01T02:30:00+01:00", Future::known}, all{"2026-03-01T02:30:00+01:00", Future::all};
  known.with_pups();
  all.with_pups();
  EXPECT_EQ(known.get(kLitter + "pup?label=2").status, 404);  // born at 02:55
  EXPECT_EQ(all.get(kLitter + "pup?label=2").status, 200);
  known.turn_clock("2026-03-01T03:00:00+01:00");
  EXPECT_EQ(known.get(kLitter + "pup?label=2").status, 200);
}

// ---- weights in doubt -----------------------------------------------------------------------------------------------

TEST_F(AppTest, ADoubtIsAnsweredInOneTap) {
  house.record({{"id", id(60)}, {"kind", "weight"}, {"about", "1"}, {"reading", "600"}, {"tub", "120"}});
  house.record({{"id", id(61)}, {"kind", "weight"}, {"about", "2"}, {"reading", "410"}});
  const test::Fields correct{{"id", id(62)},      {"id-1", id(63)},       {"answer", "swapped"},  {"entry-0", id(60)},
                             {"entry-1", id(61)}, {"grams-0", "410.000"}, {"grams-1", "480.000"}, {"back", "weigh-in"}};
  const auto before = entries();
  EXPECT_EQ(house.post(kLitter + "answer", correct).status, 303);
  EXPECT_EQ(house.post(kLitter + "answer", correct).status, 303);  // a double tap
  ASSERT_EQ(entries(), before + 2) << "the first ones stay";
  const auto all = house.journal.all();
  const auto& first = all[before];
  EXPECT_EQ(first.corrects, id(60));
  EXPECT_EQ(first.about, "1");
  EXPECT_EQ(record::body_as<record::Weight>(first)->grams, Grams{410});
  EXPECT_EQ(first.at.instant, all[before - 2].at.instant) << "the moment of the weighing";
  // The same question answered on another phone meanwhile.
  EXPECT_EQ(
      house.post(kLitter + "answer", {{"id", id(64)}, {"answer", "right"}, {"entry-0", id(60)}, {"back", "weigh-in"}})
          .status,
      422);
  EXPECT_EQ(
      house
          .post(kLitter + "answer", {{"id", id(65)}, {"answer", "right"}, {"entry-0", id(62)}, {"back", "pup?label=1"}})
          .status,
      303);
  EXPECT_EQ(record::body_as<record::Done>(house.last())->task, std::string(record::kReadingRight) + id(62));
  EXPECT_EQ(house.post(kLitter + "answer", {{"answer", "right"}, {"entry-0", id(1)}, {"back", "now"}}).status, 422);
  EXPECT_EQ(house.post(kLitter + "answer", {{"answer", "right"}, {"back", "now"}}).status, 422);
}

}  // namespace
}  // namespace lampside::server
