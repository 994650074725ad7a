#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "make.hpp"
#include "record/entry.hpp"

namespace lampside::record {
namespace {

using namespace testing;

const std::string kHead =
    R"("id":"00000000-0000-4000-8000-000000000001","litter":"juniper-2026","at":"2026-10-05T02:30:00+01:00")";
Result<Entry> line(const std::string& rest) { return decode_line("{" + kHead + "," + rest + "}"); }

TEST(Codec, ReadsAWeight) {
  const auto e = line(
      R"("kind":"weight","about":"3","grams":412.5,"as_read":"14 1/2 oz","tare_g":120,"by":"ann","note":"wriggled")");
  ASSERT_TRUE(e) << to_text(e.error());
  EXPECT_EQ(e->about, "3");
  EXPECT_EQ(e->by, "ann");
  EXPECT_EQ(e->note, "wriggled");
  EXPECT_EQ(e->written, e->at);
  ASSERT_TRUE(body_as<Weight>(*e));
  EXPECT_EQ(body_as<Weight>(*e)->grams, Grams{412.5});
  EXPECT_EQ(body_as<Weight>(*e)->tare_g, Grams{120});
}

TEST(Codec, UnknownKindsAndFieldsAreKept) {
  const auto e = line(R"("kind":"pedigree","sire":"f1","deep":{"a":[1,2]})");
  ASSERT_TRUE(e);
  EXPECT_TRUE(body_as<Other>(*e));
  EXPECT_EQ(encode(*e)["deep"]["a"][1], 2);
  const auto w = line(R"("kind":"weight","about":"3","grams":412,"mood":"sleepy")");
  ASSERT_TRUE(w);
  EXPECT_EQ(encode(*w)["mood"], "sleepy");
}

// Five kinds were free words before their room was built.
TEST(Codec, AnEarlyJournalsOwnDepositStaysANote) {
  const auto early = line(R"("kind":"deposit","amount":"300.00","family":"f1")");
  ASSERT_TRUE(early) << to_text(early.error());
  EXPECT_TRUE(body_as<Other>(*early));
  EXPECT_EQ(encode(*early)["amount"], "300.00");
  const auto ours = line(R"("kind":"deposit","amount":300.05,"family":"f1")");
  ASSERT_TRUE(ours);
  ASSERT_TRUE(body_as<Deposit>(*ours));
  EXPECT_EQ(body_as<Deposit>(*ours)->amount, Cash{300050});
  EXPECT_FALSE(line(R"("kind":"sensor","topic":"a")"));
}

TEST(Codec, MoneyIsExact) {
  const auto entry = line(R"("kind":"money","amount":0.1,"direction":"out","for":"towels")");
  ASSERT_TRUE(entry);
  const Cash tenth = body_as<MoneyMoved>(*entry)->amount;
  Cash sum{0};
  for (int i = 0; i < 10; ++i) sum = sum + tenth;
  EXPECT_EQ(sum, Cash{1000});
  EXPECT_EQ(encode(*entry)["amount"].dump(), "0.1");
  EXPECT_FALSE(line(R"("kind":"money","amount":0.1234,"direction":"out","for":"towels")"));
}

TEST(Codec, TextThatIsNotUtf8IsRefusedNotAltered) {
  auto entry = line(R"("kind":"note","note":"x")");
  ASSERT_TRUE(entry);
  entry->note = "Zo\xC3\xAB";
  EXPECT_TRUE(check(*entry));
  entry->note = "Zo\xEB";
  const auto refused = check(*entry);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, "TEXT_UTF8");
}

// Implausible is refused with advice, abnormal is taken: the assessment speaks to it.
TEST(Codec, ImplausibleIsNotAbnormal) {
  const auto slip = line(R"("kind":"temperature","about":"dam","celsius":380)");
  ASSERT_FALSE(slip);
  EXPECT_EQ(slip.error().code, "ENTRY_IMPLAUSIBLE");
  EXPECT_NE(slip.error().todo.find("38.0"), std::string::npos) << slip.error().todo;
  EXPECT_TRUE(line(R"("kind":"temperature","about":"dam","celsius":35.1)"));
  EXPECT_FALSE(line(R"("kind":"temperature","about":"dam","celsius":98.9)"));
  EXPECT_TRUE(line(R"("kind":"temperature","about":"dam","celsius":45)"));
  EXPECT_FALSE(line(R"("kind":"temperature","about":"dam","celsius":45.001)"));
  EXPECT_FALSE(line(R"("kind":"weight","about":"3","grams":14.5)"));   // ounces typed as grams
  EXPECT_FALSE(line(R"("kind":"weight","about":"3","grams":81000)"));  // the keeper holding the pup
  EXPECT_TRUE(line(R"("kind":"weight","about":"dam","grams":31500)"));
}

TEST(Codec, BadShapesSayWhatToDo) {
  const std::pair<const char*, const char*> rows[] = {
      {R"("kind":"weight","about":"3")", "ENTRY_MISSING"},
      {R"("kind":"weight","grams":412)", "ENTRY_MISSING"},
      {R"("kind":"weight","about":"3","grams":"412")", "ENTRY_TYPE"},
      {R"("kind":"birth","grams":412)", "ENTRY_MISSING"},
      {R"("kind":"sign","sign":"dancing")", "ENTRY_VALUE"},
      {R"("kind":"newborn_score","about":"3","heart":3,"breathing":1,"reflex":1,"movement":1,"colour":1})",
       "JSON_SYNTAX"},
      {R"("kind":"newborn_score","about":"3","heart":3,"breathing":1,"reflex":1,"movement":1,"colour":1)",
       "ENTRY_IMPLAUSIBLE"},
      {R"("kind":"pup_count","method":"xray","pups":8.5)", "ENTRY_TYPE"},
      {R"("kind":"strike","strike":"yes")", "ENTRY_ID"},
      {R"("kind":"litter","dam":{"name":"Juniper","colour":"red"})", "ENTRY_VALUE"},
      {R"("about":"3")", "ENTRY_MISSING"},
      {R"("kind":"note","note":7)", "ENTRY_TYPE"}};
  for (const auto& [rest, code] : rows) {
    const auto e = line(rest);
    ASSERT_FALSE(e) << rest;
    EXPECT_EQ(e.error().code, code) << rest << ": " << to_text(e.error());
    EXPECT_FALSE(e.error().todo.empty()) << rest;
  }
  EXPECT_EQ(decode_line("[1,2]").error().code, "ENTRY_SHAPE");
  EXPECT_EQ(decode_line("{").error().code, "JSON_SYNTAX");
  EXPECT_EQ(decode_line(std::string(100000, 'x')).error().code, "LINE_TOO_LONG");
  EXPECT_EQ(decode_line(std::string(30000, '[')).error().code, "JSON_SYNTAX");
  EXPECT_EQ(decode_line(R"({"id":"NOT-A-UUID","litter":"a","kind":"note","at":"2026-10-05T02:30Z"})").error().code,
            "ENTRY_ID");
}

TEST(Codec, UnitsMayBeWords) {
  const auto e = line(R"("kind":"litter","units":"imperial")");
  ASSERT_TRUE(e);
  EXPECT_EQ(body_as<LitterFacts>(*e)->units->weight, WeightUnit::ounces);
  EXPECT_TRUE(line(R"("kind":"litter","units":{"weight":"lb","temperature":"C"})"));
  EXPECT_FALSE(line(R"("kind":"litter","units":"furlongs")"));
}

// `by` names the writer everywhere but in a feed, where it says how the feed was given.
TEST(Codec, AFeedTellsItsWayAndItsWriterApart) {
  const auto bottle = line(R"("kind":"feed","about":"3","ml":8,"by":"bottle","written_by":"ann")");
  ASSERT_TRUE(bottle) << to_text(bottle.error());
  EXPECT_EQ(body_as<Feed>(*bottle)->by, FeedWay::bottle);
  EXPECT_EQ(bottle->by, "ann");
  const auto way = line(R"("kind":"feed","about":"3","ml":8,"way":"tube","by":"ann")");
  ASSERT_TRUE(way) << to_text(way.error());
  EXPECT_EQ(body_as<Feed>(*way)->by, FeedWay::tube);
  EXPECT_EQ(way->by, "ann");
  EXPECT_EQ(line(R"("kind":"feed","about":"3","ml":8,"by":"ann")").error().code, "ENTRY_VALUE");
}

/// A generator of any entry the format allows.
rc::Gen<Entry> any_entry() {
  return rc::gen::exec([] {
    const auto text = [] { return *rc::gen::container<std::string>(rc::gen::inRange<char>(32, 127)); };
    const auto number = [](double lo, double hi) { return lo + (hi - lo) * (*rc::gen::inRange(0, 100000)) / 100000.0; };
    Body body;
    std::string about;
    switch (*rc::gen::inRange(0, 22)) {
      case 0:
        body = Weight{Grams{number(20, 60000)}, text(), Grams{number(0, 20000)}};
        about = "p";
        break;
      case 1:
        body = Temperature{Celsius{number(15, 45)}, {}};
        about = *rc::gen::element<std::string>("dam", "p");
        break;
      case 2:
        body = SignSeen{static_cast<Sign>(*rc::gen::inRange(0, 27))};
        break;
      case 3:
        body =
            Birth{3,    Sex::male, Grams{number(20, 2000)}, true, Presentation::tail_first, false, text(), text(), {},
                  true, false};
        about = "p";
        break;
      case 4:
        body = NewbornScore{2, 1, 0, 2, 1};
        about = "p";
        break;
      case 5:
        body = Progesterone{NgPerMl{number(0, 150)}};
        break;
      case 6:
        body = Feed{Millilitres{number(0, 1000)}, FeedWay::tube, KcalPerMl{number(0.1, 5)}};
        about = "p";
        break;
      case 7:
        body = Air{Celsius{number(-30, 70)}, AirPlace::cool_end, Percent{number(0, 100)}, text(), Probe::globe};
        break;
      case 8:
        body = Strike{id(*rc::gen::inRange(1000, 2000))};
        break;
      case 9: {
        LitterFacts f;
        f.dam = Parent{text(), text(), *parse_day("2021-04-03"), Kilograms{number(0.5, 150)}, 2};
        f.vet = Vet{text(), {}, 45};
        f.units = UnitChoice{WeightUnit::ounces, {}};
        f.scale_g = Grams{5};
        body = f;
        break;
      }
      case 10:
        body = EarlierLitter{Anchor::ovulation, Days{number(45, 80)}, 8, 1, {}, Percent{number(50, 150)}};
        break;
      case 11:
        body = Suckled{};
        about = *rc::gen::element<std::string>("", "p");
        break;
      case 12:
        body = StageSaid{static_cast<LabourStage>(*rc::gen::inRange(0, 5))};
        break;
      case 13:
        body = HouseLimit{text(), *rc::gen::inRange(0, 2881), text()};
        break;
      case 14: {
        Stock s{};
        s.item = text();
        if (*rc::gen::arbitrary<bool>()) s.have = Amount{number(0, 1e6)};
        s.where = static_cast<Keeping>(*rc::gen::inRange(0, 4));
        s.expires = CivilDay{std::chrono::days{*rc::gen::inRange(18000, 22000)}};
        s.days_before = *rc::gen::inRange(-120, 121);
        s.from = text();
        s.wanted = *rc::gen::arbitrary<bool>();
        body = s;
        break;
      }
      case 15:
        body = ShopRun{CivilDay{std::chrono::days{*rc::gen::inRange(18000, 22000)}}};
        break;
      case 16:
        body = MoneyMoved{
            Cash{*rc::gen::inRange<std::int64_t>(0, 1'000'000'000'000)}, MoneyWay::in, text(), {}, {}, {}, {}};
        break;
      case 17:
        body = Family{text(), FamilyStatus::waiting, {}, text(), {}, {}, {}};
        break;
      case 18:
        body = BehaviourTest{1, 2, 3, 4, 5, 6, 1, 2, 3, 4};
        about = "p";
        break;
      case 19:
        body = TeatTurns{true, *rc::gen::inRange(1, 15), {}, {}, {}};
        break;
      case 20:
        body = Milk{text(), KcalPerMl{number(0.1, 5)}, {}, {}, number(1, 9)};
        break;
      default:
        body = Note{};
    }
    Entry e = entry(*rc::gen::inRange(0, 1000), "2026-10-05T02:30:00+01:00", about, body);
    e.at.instant += std::chrono::milliseconds{*rc::gen::inRange(0, 100000000)};
    e.note = text();
    if (*rc::gen::arbitrary<bool>()) e.corrects = id(5000);
    if (*rc::gen::arbitrary<bool>()) e.extra = Unread{Json{{"mood", text()}}};
    return e;
  });
}

RC_GTEST_PROP(Codec, RoundTrips, ()) {
  const Entry e = *any_entry();
  const auto again = decode_line(encode_line(e));
  if (!again) RC_FAIL(to_text(again.error()) + " in " + encode_line(e));
  RC_ASSERT(*again == e);
}
RC_GTEST_PROP(Codec, NoInputBreaksIt, (const std::string& any)) { (void)decode_line(any); }

TEST(Schema, StandsInDocsAsTheProgramMakesIt) {
  const std::string wanted = schema().dump(2) + "\n";
  std::ofstream(LAMPSIDE_BINARY_DIR "/journal.schema.json") << wanted;
  std::ifstream in(LAMPSIDE_SOURCE_DIR "/docs/journal.schema.json");
  std::stringstream text;
  text << in.rdbuf();
  EXPECT_TRUE(text.str() == wanted)
      << "docs/journal.schema.json is not what the field tables say; the wanted one is in the build folder";
}

}  // namespace
}  // namespace lampside::record
