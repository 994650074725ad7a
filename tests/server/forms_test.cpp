// From typed fields to entries, without a server.
#include "server/forms.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "house.hpp"

namespace lampside::server {
namespace {

using test::at;
using test::id;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

template <class T>
std::string code(const Result<T>& r) {
  return r ? "" : r.error().code;
}

/// A litter with a journal of its own: pup "1" born at 02:10:30, 412.3 g.
struct Box {
  std::vector<record::Entry> entries;
  record::Litter litter;
  Instant now = at("2026-03-02T10:00:00+01:00");
  std::string by = "phone";

  explicit Box(WeightUnit unit = WeightUnit::grams, TemperatureUnit temperature = TemperatureUnit::celsius) {
    const auto stamp = parse_stamp("2026-03-01T02:10:30+01:00").value();
    record::LitterFacts facts;
    facts.dam = record::Parent{.name = "Juniper", .breed = {}, .born = {}, .kg = {}, .parity = {}};
    facts.units = record::UnitChoice{unit, temperature};
    record::Birth birth;
    birth.grams = Grams{412.3};
    birth.collar = "red";
    birth.as_read = "412.3 g";
    add(record::make_entry(id(1), "j", stamp, stamp, "test", "", facts));
    add(record::make_entry(id(2), "j", stamp, stamp, "test", "1", birth));
  }
  void add(record::Entry e) {
    entries.push_back(std::move(e));
    litter = record::fold(entries, "j", test::zone_of("Europe/Berlin").value());
  }
  Known known() {
    return {litter,
            [this](const record::EntryId& wanted) -> const record::Entry* {
              for (const auto& e : entries)
                if (e.id == wanted) return &e;
              return nullptr;
            },
            now, by};
  }
  Result<record::Entry> read(Fields form) {
    if (form.find("id") == form.end()) form.emplace("id", id(100));
    return entry_from(form, known());
  }
};

record::Weight weight_of(const Result<record::Entry>& e) { return *record::body_as<record::Weight>(e.value()); }

TEST(FormWeight, TakesTheTubOffAndKeepsWhatWasTyped) {
  Box box;
  const auto plain = box.read({{"kind", "weight"}, {"about", "1"}, {"reading", "430"}});
  EXPECT_EQ(weight_of(plain), (record::Weight{Grams{430}, "430 g", {}}));
  EXPECT_EQ(plain->at.instant, box.now);
  EXPECT_EQ(plain->by, "phone");
  const auto tub = box.read({{"kind", "weight"}, {"about", "1"}, {"reading", "482,5"}, {"tub", "52.5"}});
  EXPECT_EQ(weight_of(tub), (record::Weight{Grams{430}, "482,5 g", Grams{52.5}}));
}

TEST(FormWeight, InOuncesWithATub) {
  Box box{WeightUnit::ounces};
  const auto e = box.read({{"kind", "weight"}, {"about", "1"}, {"reading", "14 3/8"}, {"tub", "2"}});
  const auto w = weight_of(e);
  EXPECT_NEAR(w.grams.count(), 12.375 * 28.349523125, 0.0006);  // international yard and pound agreement, 1959
  EXPECT_EQ(w.as_read, "14 3/8 oz");
  EXPECT_NEAR(w.tare_g->count(), 2 * 28.349523125, 0.0006);
  // What the field says counts for bare numbers; a unit that is typed wins over both.
  EXPECT_NEAR(
      weight_of(box.read({{"kind", "weight"}, {"about", "1"}, {"reading", "430"}, {"unit", "g"}})).grams.count(), 430,
      1e-9);
  EXPECT_NEAR(
      weight_of(box.read({{"kind", "weight"}, {"about", "1"}, {"reading", "430 g"}, {"unit", "oz"}})).grams.count(),
      430, 1e-9);
}

TEST(FormWeight, RefusesWithAdvice) {
  Box box;
  const Fields base{{"kind", "weight"}, {"about", "1"}};
  const auto with = [&](Fields more) {
    more.insert(base.begin(), base.end());
    return code(box.read(std::move(more)));
  };
  EXPECT_EQ(with({}), "FORM_READING");
  EXPECT_EQ(with({{"reading", "  "}}), "FORM_READING");
  EXPECT_EQ(with({{"reading", "many"}}), "WEIGHT_FORMAT");
  EXPECT_EQ(with({{"reading", "50"}, {"tub", "50"}}), "FORM_TUB");
  EXPECT_EQ(with({{"reading", "50"}, {"tub", "60"}}), "FORM_TUB");
  EXPECT_EQ(with({{"reading", "500"}, {"unit", "stone"}}), "FORM_CHOICE");
  EXPECT_EQ(with({{"reading", "4.12"}}), "ENTRY_IMPLAUSIBLE");
  EXPECT_EQ(code(box.read({{"kind", "weight"}, {"reading", "412"}})), "ENTRY_MISSING");
  EXPECT_EQ(code(box.read({{"kind", "weight"}, {"about", "1"}, {"reading", "412"}, {"id", "x"}})), "ENTRY_ID");
}

TEST(FormTemperature, InBothUnits) {
  Box celsius, fahrenheit{WeightUnit::grams, TemperatureUnit::fahrenheit};
  const auto c = celsius.read({{"kind", "temperature"}, {"about", "dam"}, {"reading", "37,2"}});
  EXPECT_EQ(*record::body_as<record::Temperature>(*c), (record::Temperature{Celsius{37.2}, "37,2 C"}));
  const auto f = fahrenheit.read({{"kind", "temperature"}, {"about", "dam"}, {"reading", "98.6"}});
  EXPECT_EQ(*record::body_as<record::Temperature>(*f), (record::Temperature{Celsius{37.0}, "98.6 F"}));
  EXPECT_EQ(code(celsius.read({{"kind", "temperature"}, {"about", "dam"}, {"reading", "98.6"}})), "ENTRY_IMPLAUSIBLE");
  const auto air = fahrenheit.read({{"kind", "air"}, {"where", "under_lamp"}, {"reading", "86"}});
  EXPECT_EQ(record::body_as<record::Air>(*air)->celsius, Celsius{30.0});
}

TEST(FormBirth, GivesTheNextFreeLabel) {
  Box box;
  const auto e =
      box.read({{"kind", "birth"}, {"about", ""}, {"sex", "male"}, {"reading", "398"}, {"placenta", "false"}});
  EXPECT_EQ(e->about, "2");
  const auto& b = *record::body_as<record::Birth>(*e);
  EXPECT_EQ(b.grams, Grams{398});
  EXPECT_EQ(b.sex, record::Sex::male);
  EXPECT_EQ(b.placenta, false);
  EXPECT_EQ(b.alive, std::nullopt);
  const auto bare = box.read({{"kind", "birth"}});
  EXPECT_EQ(record::body_as<record::Birth>(*bare)->grams, std::nullopt);
  EXPECT_EQ(box.read({{"kind", "birth"}, {"about", "Tansy"}})->about, "Tansy");
}

TEST(FormBirth, CorrectionLiesOverTheOldFields) {
  Box box;
  const auto e =
      box.read({{"kind", "birth"}, {"about", "1"}, {"corrects", id(2)}, {"sex", "female"}, {"markings", ""}});
  const auto& b = *record::body_as<record::Birth>(*e);
  EXPECT_EQ(b.sex, record::Sex::female);
  EXPECT_EQ(b.grams, Grams{412.3});
  EXPECT_EQ(b.collar, "red");
  EXPECT_EQ(e->at, box.entries[1].at);
  EXPECT_EQ(e->corrects, id(2));
  // Emptied on purpose is cleared.
  const auto cleared = box.read({{"kind", "birth"}, {"corrects", id(2)}, {"collar", ""}, {"reading", ""}});
  EXPECT_EQ(cleared->about, "1");
  EXPECT_EQ(record::body_as<record::Birth>(*cleared)->collar, std::nullopt);
  EXPECT_EQ(record::body_as<record::Birth>(*cleared)->grams, std::nullopt);
}

TEST(FormBirth, SentBackAsShownLosesNoPrecision) {
  Box box{WeightUnit::ounces};
  const auto e = box.read({{"kind", "birth"},
                           {"corrects", id(2)},
                           {"reading", say(Grams{412.3}, WeightUnit::ounces)},
                           {"at", "2026-03-01T02:10"},
                           {"collar", "green"}});
  EXPECT_EQ(record::body_as<record::Birth>(*e)->grams, Grams{412.3});
  EXPECT_EQ(record::body_as<record::Birth>(*e)->as_read, "412.3 g");
  EXPECT_EQ(e->at, box.entries[1].at);  // 02:10:30, not 02:10:00
}

TEST(FormCorrection, OfWhatIsGoneIsRefused) {
  Box box;
  EXPECT_EQ(code(box.read({{"kind", "birth"}, {"corrects", id(77)}})), "FORM_CORRECTS");
  EXPECT_EQ(code(box.read({{"kind", "weight"}, {"corrects", id(2)}, {"reading", "400"}})), "FORM_CORRECTS");
  box.add(record::make_entry(id(3), "j", box.entries[1].at, box.entries[1].at, "", "", record::Strike{id(2)}));
  EXPECT_EQ(code(box.read({{"kind", "birth"}, {"corrects", id(2)}, {"sex", "male"}})), "FORM_CORRECTS");
}

TEST(FormKinds, EachIsReadUnderItsJournalNames) {
  Box box;
  const auto ok = [&](Fields form) {
    const auto e = box.read(std::move(form));
    return e ? std::string(e->kind) : to_text(e.error());
  };
  EXPECT_EQ(ok({{"kind", "mating"}, {"about", "dam"}, {"method", "natural"}, {"at", "2026-01-02"}}), "mating");
  EXPECT_EQ(ok({{"kind", "lh_surge"}}), "lh_surge");
  EXPECT_EQ(ok({{"kind", "ovulation"}}), "ovulation");
  EXPECT_EQ(ok({{"kind", "dioestrus"}}), "dioestrus");
  EXPECT_EQ(ok({{"kind", "progesterone"}, {"ng_ml", "5,2"}}), "progesterone");
  EXPECT_EQ(ok({{"kind", "foetal_measure"}, {"measure", "BPD"}, {"mm", "21"}}), "foetal_measure");
  EXPECT_EQ(ok({{"kind", "pup_count"}, {"method", "xray"}, {"pups", "8"}, {"at_least", "true"}}), "pup_count");
  EXPECT_EQ(ok({{"kind", "earlier_litter"}, {"from", "mating"}, {"days", "62"}, {"born_alive", "7"}}),
            "earlier_litter");
  EXPECT_EQ(ok({{"kind", "sign"}, {"about", "dam"}, {"sign", "panting"}}), "sign");
  EXPECT_EQ(ok({{"kind", "placenta"}}), "placenta");
  EXPECT_EQ(ok({{"kind", "newborn_score"},
                {"about", "1"},
                {"heart", "2"},
                {"breathing", "2"},
                {"reflex", "1"},
                {"movement", "2"},
                {"colour", "1"}}),
            "newborn_score");
  EXPECT_EQ(ok({{"kind", "feed"}, {"about", "1"}, {"ml", "12"}, {"by", "bottle"}}), "feed");
  EXPECT_EQ(ok({{"kind", "dam_meal"}, {"about", "dam"}, {"kcal", "450"}}), "dam_meal");
  EXPECT_EQ(ok({{"kind", "lamp"}, {"watts", "150"}, {"cm", "80"}}), "lamp");
  EXPECT_EQ(ok({{"kind", "dose"}, {"about", "1"}, {"product", "from the vet"}, {"mg_ml", "50"}, {"ml", "0.4"}}),
            "dose");
  EXPECT_EQ(ok({{"kind", "done"}, {"task", "worming"}}), "done");
  EXPECT_EQ(ok({{"kind", "death"}, {"about", "1"}, {"cause", "unknown"}}), "death");
  EXPECT_EQ(ok({{"kind", "departure"}, {"about", "1"}}), "departure");
  EXPECT_EQ(ok({{"kind", "stock"}, {"item", "towels"}, {"have", "12"}}), "stock");
  EXPECT_EQ(ok({{"kind", "note"}, {"note", "She ate well."}}), "note");
  EXPECT_EQ(code(box.read({{"kind", "note"}, {"note", " "}})), "FORM_READING");
  for (const auto* kind : {"", "strike", "litter", "erased", "WEIGHT"})
    EXPECT_EQ(code(box.read({{"kind", kind}})), "FORM_KIND") << kind;
}

TEST(FormKinds, AFeedKeepsItsWayAndItsWriter) {
  Box box;
  const auto e = box.read({{"kind", "feed"}, {"about", "1"}, {"ml", "12"}, {"by", "tube"}});
  EXPECT_EQ(record::body_as<record::Feed>(*e)->by, record::FeedWay::tube);
  EXPECT_EQ(e->by, "phone");
}

TEST(FormKinds, BadFieldsAreNamed) {
  Box box;
  const auto bad = box.read({{"kind", "progesterone"}, {"ng_ml", "lots"}});
  EXPECT_EQ(code(bad), "NUMBER_FORMAT");
  EXPECT_THAT(bad.error().what, HasSubstr("ng_ml"));
  EXPECT_EQ(code(box.read({{"kind", "birth"}, {"alive", "maybe"}})), "FORM_CHOICE");
  EXPECT_EQ(code(box.read({{"kind", "sign"}, {"sign", "dancing"}})), "ENTRY_VALUE");
  EXPECT_EQ(code(box.read({{"kind", "newborn_score"},
                           {"about", "1"},
                           {"heart", "3"},
                           {"breathing", "2"},
                           {"reflex", "1"},
                           {"movement", "2"},
                           {"colour", "1"}})),
            "ENTRY_IMPLAUSIBLE");
}

TEST(FormReplay, ATapOfAPhoneWithoutAConnectionKeepsItsMomentAndCountsOnce) {
  Box box;
  const Fields late{{"kind", "birth"}, {"tapped", "2026-03-02T08:50:20.125Z"}};
  const auto first = box.read(late);
  ASSERT_TRUE(first) << to_text(first.error());
  EXPECT_EQ(first->at.instant, at("2026-03-02T09:50:20.125+01:00"));
  // It had come through though the phone never heard so: sent again it is the same entry, at the server's moment.
  Box other;
  const auto sent = other.read({{"kind", "birth"}});
  ASSERT_TRUE(sent);
  other.add(*sent);
  other.now += Minutes{10};
  const auto again = other.read({{"kind", "birth"}, {"tapped", "2026-03-02T08:59:59Z"}});
  ASSERT_TRUE(again) << to_text(again.error());
  EXPECT_EQ(*again, *sent);
  // A time that was typed counts before it; one of the future does not count at all.
  EXPECT_EQ(box.read({{"kind", "birth"}, {"at", "2026-03-02T07:00"}, {"tapped", "2026-03-02T08:50:20Z"}})->at.instant,
            at("2026-03-02T07:00:00+01:00"));
  EXPECT_EQ(code(box.read({{"kind", "birth"}, {"tapped", "2026-03-02T12:50:20Z"}})), "FORM_FUTURE");
}

TEST(FormReplay, TheSameFormGivesTheSameEntryLaterToo) {
  Box box;
  for (const Fields& form : {Fields{{"kind", "weight"}, {"about", "1"}, {"reading", "430"}, {"id", id(50)}},
                             Fields{{"kind", "birth"}, {"about", ""}, {"id", id(51)}},
                             Fields{{"kind", "birth"}, {"corrects", id(2)}, {"sex", "female"}, {"id", id(52)}}}) {
    const auto first = box.read(form);
    ASSERT_TRUE(first) << to_text(first.error());
    box.add(*first);
    box.now += Minutes{3};
    box.by = "computer";
    const auto second = box.read(form);
    ASSERT_TRUE(second) << to_text(second.error());
    EXPECT_EQ(*first, *second);
  }
  EXPECT_EQ(code(box.read({{"kind", "weight"}, {"about", "1"}, {"reading", "431"}, {"id", id(50)}})),
            "FORM_SENT_BEFORE");
}

TEST(ParseWall, OnTheLittersClock) {
  const auto zone = test::zone_of("Europe/Berlin").value();
  const auto now = at("2026-12-01T12:00:00Z");
  const auto iso = [&](const char* text) {
    const auto s = parse_wall(text, zone, now);
    return s ? to_iso(*s) : s.error().code;
  };
  EXPECT_EQ(iso("2026-03-01T02:30"), "2026-03-01T02:30:00+01:00");
  EXPECT_EQ(iso("2026-07-01 02:30:15"), "2026-07-01T02:30:15+02:00");
  EXPECT_EQ(iso("2026-07-01"), "2026-07-01T12:00:00+02:00");
  EXPECT_EQ(iso("2026-07-01T02:30+00:00"), "2026-07-01T02:30:00Z");
  for (const auto* bad : {"", "now", "2026-07-01T", "2026-07-01T25:00", "2026-07-01T02:60", "2026-13-01T02:30",
                          "2026-07-01x02:30", "2026-07-01T2:30", "01.07.2026", "2026-07-01T02:30:99"})
    EXPECT_FALSE(parse_wall(bad, zone, now)) << bad;
  EXPECT_EQ(code(parse_wall("2026-12-01T13:06", zone, now)), "FORM_FUTURE");
  EXPECT_EQ(code(parse_wall("2026-12-01T13:04", zone, now)), "");  // a phone's clock may run a little fast
}

TEST(ParseWall, TheNightsWhenClocksChange) {
  const auto zone = test::zone_of("Europe/Berlin").value();
  const auto iso = [&](const char* text, const char* now) { return to_iso(parse_wall(text, zone, at(now)).value()); };
  // 02:30 does not exist on 29 March: the clocks go from 02:00 to 03:00.
  EXPECT_EQ(iso("2026-03-29T02:30", "2026-03-29T10:00:00Z"), "2026-03-29T03:00:00+02:00");
  // 02:30 comes twice on 25 October. In that very night the nearer one is meant, on the day after the first.
  EXPECT_EQ(iso("2026-10-25T02:30", "2026-10-25T00:40:00Z"), "2026-10-25T02:30:00+02:00");  // now 02:40, first time
  EXPECT_EQ(iso("2026-10-25T02:30", "2026-10-25T01:40:00Z"), "2026-10-25T02:30:00+01:00");  // now 02:40, second time
  EXPECT_EQ(iso("2026-10-25T02:30", "2026-10-25T10:00:00Z"), "2026-10-25T02:30:00+02:00");
  EXPECT_EQ(iso("2026-10-25T03:30", "2026-10-25T03:00:00Z"), "2026-10-25T03:30:00+01:00");
}

TEST(LitterKey, FromNameAndYear) {
  EXPECT_EQ(litter_key("Juniper", 2026, {}), "juniper-2026");
  EXPECT_EQ(litter_key("  Miss  O'Malley! ", 2026, {}), "miss-o-malley-2026");
  EXPECT_EQ(litter_key("Zoë", 2026, {}), "zoë-2026");
  EXPECT_EQ(litter_key("...", 2026, {}), "litter-2026");
  EXPECT_EQ(litter_key("Juniper", 2026, {"juniper-2026", "juniper-2026-2"}), "juniper-2026-3");
  EXPECT_EQ(litter_key("../../etc/passwd", 2026, {}), "etc-passwd-2026");
}

RC_GTEST_PROP(LitterKey, IsShortAndNeverTaken, (const std::string& name)) {
  const auto key = litter_key(name, 2026, {"litter-2026"});
  RC_ASSERT(!key.empty());
  RC_ASSERT(key.size() <= 48U);
  RC_ASSERT(key != "litter-2026");
}

RC_GTEST_PROP(Forms, NeverThrowAndOnlyGiveEntriesThatCanBeReadBack, (const std::map<std::string, std::string>& junk)) {
  Box box;
  static const std::vector<std::string> kinds{"weight", "birth", "temperature", "air",      "sign",
                                              "feed",   "dose",  "note",        "pup_count"};
  static const std::vector<std::string> names{"reading",  "tub", "unit", "at",    "about", "note",
                                              "corrects", "id",  "sex",  "alive", "ml",    "pups"};
  Fields form{{"kind", *rc::gen::elementOf(kinds)}};
  for (const auto& [name, value] : junk) form.emplace(*rc::gen::elementOf(names), value);
  if (const auto e = box.read(form)) RC_ASSERT(record::check(*e).has_value());
}

TEST(StrikeForm, NamesAnEntryOfThisLitter) {
  Box box;
  const auto read = [&](const std::string& target) {
    return strike_from({{"id", id(60)}, {"strike", target}}, box.known());
  };
  const auto e = read(id(2));
  ASSERT_TRUE(e && e->size() == 1);
  EXPECT_EQ(record::body_as<record::Strike>(e->front())->strike, id(2));
  EXPECT_EQ(code(read(id(99))), "FORM_STRIKE");
  box.add(e->front());
  EXPECT_EQ(read(id(2)).value(), *e);  // a replay
  EXPECT_EQ(code(read(id(1))), "FORM_SENT_BEFORE");
  EXPECT_TRUE(strike_from({{"id", id(61)}, {"strike", id(2)}}, box.known())->empty());  // struck already
}

TEST(SettingsForm, RecordsOnlyWhatChanged) {
  Box box;
  const auto any_zone = [](const std::string& name) -> Result<void> {
    if (name == "Europe/Berlin" || name == "Europe/Lisbon") return {};
    return problem("ZONE_UNKNOWN", "no", "no");
  };
  const auto read = [&](Fields form) {
    form.emplace("id", id(70));
    return settings_from(form, box.known(), any_zone);
  };
  const Fields shown{
      {"dam_name", "Juniper"},   {"breed", ""}, {"dam_kg", ""}, {"weight_unit", "g"}, {"temperature_unit", "C"},
      {"zone", "Europe/Berlin"}, {"scale", ""}, {"place", ""},  {"vet_phone", ""},    {"vet_minutes", ""}};
  EXPECT_EQ(read(shown).value(), std::nullopt);
  auto form = shown;
  form.find("dam_kg")->second = "31,5";
  form.find("scale")->second = "2 g";
  form.find("place")->second = "gb-eng";
  form.find("vet_minutes")->second = "25";
  form.find("zone")->second = "Europe/Lisbon";
  const auto e = read(form);
  ASSERT_TRUE(e && *e) << code(e);
  const auto& facts = *record::body_as<record::LitterFacts>(**e);
  EXPECT_EQ(facts.dam->kg, Kilograms{31.5});
  EXPECT_EQ(facts.dam->name, std::nullopt);
  EXPECT_EQ(facts.scale_g, Grams{2});
  EXPECT_EQ(facts.place, "GB-ENG");
  EXPECT_EQ(facts.vet->minutes_away, 25);
  EXPECT_EQ(facts.zone, "Europe/Lisbon");
  EXPECT_EQ(facts.units, std::nullopt);
  box.add(**e);
  box.now += Minutes{1};
  EXPECT_EQ(settings_from({{"id", id(71)}, {"dam_kg", ""}}, box.known(), any_zone).error().code, "FORM_CLEAR");
  EXPECT_EQ(settings_from({{"id", id(71)}, {"dam_kg", "31.5"}}, box.known(), any_zone).value(), std::nullopt);
  for (const auto& [name, value, want] :
       std::vector<std::array<std::string, 3>>{{"dam_name", "", "FORM_NAME"},
                                               {"dam_kg", "heavy", "WEIGHT_FORMAT"},
                                               {"dam_kg", "3150", "ENTRY_IMPLAUSIBLE"},
                                               {"dam_born", "2020", "DAY_FORMAT"},
                                               {"parity", "two", "FORM_NUMBER"},
                                               {"place", "England", "FORM_PLACE"},
                                               {"zone", "Mars/North", "ZONE_UNKNOWN"},
                                               {"weight_unit", "stone", "FORM_CHOICE"}})
    EXPECT_EQ(code(settings_from({{"id", id(71)}, {name, value}}, box.known(), any_zone)), want)
        << name << "=" << value;
}

TEST(StartForm, MakesTheLitterTheMatingAndTheCount) {
  int n = 200;
  const auto read = [&](Fields form) {
    form.emplace("id", id(80));
    return start_from(form, {{"juniper-2026"},
                             "Europe/Berlin",
                             test::zone_of,
                             [&] { return id(++n); },
                             at("2026-02-20T09:00:00+01:00"),
                             "phone"});
  };
  const auto all = read({{"dam_name", "Juniper"},
                         {"breed", "Golden Retriever"},
                         {"mating_date", "2025-12-30"},
                         {"pups", "8"},
                         {"weight_unit", "oz"},
                         {"vet_phone", "+49 30 5550100"}});
  ASSERT_TRUE(all) << to_text(all.error());
  ASSERT_EQ(all->size(), 3U);
  for (const auto& e : *all) EXPECT_EQ(e.litter, "juniper-2025");
  EXPECT_EQ((*all)[0].id, id(80));
  const auto& facts = *record::body_as<record::LitterFacts>((*all)[0]);
  EXPECT_EQ(facts.zone, "Europe/Berlin");
  EXPECT_EQ(facts.units->weight, WeightUnit::ounces);
  EXPECT_EQ(to_iso((*all)[1].at), "2025-12-30T12:00:00+01:00");
  EXPECT_EQ(record::body_as<record::PupCount>((*all)[2])->pups, 8);
  EXPECT_EQ(read({{"dam_name", "Juniper"}})->front().litter, "juniper-2026-2");
  EXPECT_EQ(to_iso(read({{"dam_name", "J"}, {"mating_date", "2026-02-20"}})->at(1).at),
            "2026-02-20T09:00:00+01:00");  // today
  EXPECT_EQ(code(read({})), "FORM_NAME");
  EXPECT_EQ(code(read({{"dam_name", "J"}, {"litter", "juniper-2026"}})), "FORM_LITTER_TAKEN");
  EXPECT_EQ(code(read({{"dam_name", "J"}, {"zone", "Mars"}})), "ZONE_UNKNOWN");
  EXPECT_EQ(code(read({{"dam_name", "J"}, {"mating_date", "soon"}})), "DAY_FORMAT");
  EXPECT_EQ(code(read({{"dam_name", "J"}, {"mating_date", "2027-01-01"}})), "FORM_FUTURE");
  EXPECT_EQ(code(read({{"dam_name", "J"}, {"pups", "8.5"}})), "FORM_NUMBER");
  EXPECT_EQ(code(read({{"dam_name", "J"}, {"pups", "300"}})), "ENTRY_IMPLAUSIBLE");
  EXPECT_EQ(code(read({{"dam_name", "J"}, {"litter", std::string(65, 'x')}})), "ENTRY_VALUE");
}

}  // namespace
}  // namespace lampside::server
