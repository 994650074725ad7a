#include "paper/forms.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "../care/labels.hpp"
#include "../draw/poppler.hpp"
#include "fixture.hpp"
#include "paper/sheet.hpp"

namespace lampside::paper {
namespace {

using draw::test::fonts_not_embedded;
using draw::test::run_on;
using test::Told;
using ::testing::HasSubstr;
using ::testing::Not;

const Instant kTwoWeeks = test::at("2026-03-16T09:10:00Z");

std::string made(std::string_view form, const Told& told = {}, Sheet sheet = Sheet::a4, Instant now = kTwoWeeks) {
  const auto litter = test::story(told).litter(now);
  auto bytes = make_form(form, sheet, litter, test::assess(litter, now));
  return bytes ? *bytes : "PROBLEM " + to_text(bytes.error());
}
std::string text_of(const std::string& pdf) { return run_on(pdf, "pdftotext -layout - -"); }
/// Text without the layout's runs of spaces and line ends, so that wrapped sentences can be looked for.
std::string words_of(const std::string& pdf) {
  std::string out;
  for (const char c : run_on(pdf, "pdftotext - -")) {
    const bool gap = c == ' ' || c == '\n' || c == '\f';
    if (!gap)
      out += c;
    else if (!out.empty() && out.back() != ' ')
      out += ' ';
  }
  return out;
}
int pages_of(const std::string& pdf) {
  const std::string info = run_on(pdf, "pdfinfo -");
  const auto at = info.find("Pages:");
  return at == std::string::npos ? -1 : std::atoi(info.c_str() + at + 6);
}
int times(const std::string& text, std::string_view what) {
  int n = 0;
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

TEST(Forms, NamesThatAreNoneAreToldWithTheNamesThatAre) {
  EXPECT_EQ(form_names(),
            (std::vector<std::string>{"weights-to-fill", "weights", "growth-sheet", "whelping-log", "dam-temperature",
                                      "when-home", "litter-record", "call-sheet", "dosing-round", "turns",
                                      "milk-by-hand", "pup-sheet", "folder", "shopping-list", "packing-list"}));
  const std::string problem = made("weight");
  EXPECT_THAT(problem, HasSubstr("[FORM_UNKNOWN]"));
  EXPECT_THAT(problem, HasSubstr("weights-to-fill, weights, growth-sheet, whelping-log, dam-temperature"));
  EXPECT_EQ(form_title("weight"), "");
  EXPECT_EQ(*sheet_named("letter"), Sheet::letter);
  EXPECT_EQ(sheet_named("A5").error().code, "SHEET_UNKNOWN");
}

/// Every form on both sheets for litters of every kind: the things that must hold of all of them.
class EveryForm : public ::testing::TestWithParam<std::tuple<std::string, Sheet, int>> {
 protected:
  static Told told(int kind) {
    switch (kind) {
      case 0:
        return {.pups = 0, .days = 0};
      case 1:
        return {.pups = 1, .days = 1};
      case 2:
        return {.pups = 12, .days = 40};
      case 3:
        return {.pups = 14,
                .days = 57,
                .weight = WeightUnit::ounces,
                .temperature = TemperatureUnit::fahrenheit,
                .vet = false,
                .names = true};
      default:
        return {.pups = 6, .days = 20, .losses = true};
    }
  }
};

TEST_P(EveryForm, HasItsSizeItsFontsItsSurroundAndTheSameBytesTwice) {
  const auto& [form, sheet, kind] = GetParam();
  const Instant now = kind == 3 ? test::at("2026-04-28T09:10:00Z") : kTwoWeeks;
  const std::string pdf = made(form, told(kind), sheet, now);
  ASSERT_TRUE(pdf.starts_with("%PDF-")) << pdf.substr(0, 200);
  EXPECT_EQ(pdf, made(form, told(kind), sheet, now));

  SKIP_WITHOUT("pdftotext");
  const std::string info = run_on(pdf, "pdfinfo -isodates -");
  EXPECT_THAT(info, HasSubstr(sheet == Sheet::a4 ? "(A4)" : "(letter)"));
  const bool for_strangers = form == "pup-sheet";
  EXPECT_THAT(info, HasSubstr(form_title(form) + (for_strangers ? "" : ", Juniper, litter juniper-2026")));
  EXPECT_THAT(info, HasSubstr("CreationDate:    " + to_iso(Stamp{now}).substr(0, 19)));
  const std::string fonts = run_on(pdf, "pdffonts -");
  EXPECT_THAT(fonts, HasSubstr("Inter"));
  EXPECT_EQ(fonts_not_embedded(fonts), "") << fonts;

  const std::string text = words_of(pdf);
  const int pages = pages_of(pdf);
  if (for_strangers) {
    for (const auto* never : {"juniper-2026", "0555", "Vet"}) EXPECT_EQ(times(text, never), 0) << never;
    return;
  }
  EXPECT_EQ(times(text, "Your vet's word and your law come first."), pages);
  EXPECT_EQ(times(text, "Juniper · Golden Retriever · litter juniper-2026"), pages);
  EXPECT_EQ(times(text, "printed " + say_date(Zone{}.day_of(now)) + ", 09:10"), pages);
  EXPECT_EQ(times(text, told(kind).vet ? "Vet 0555 0101, at night 0555 0199" : "Vet, day and night"), pages);
  for (int page = 1; page <= pages; ++page) EXPECT_EQ(times(text, fmt::format("page {} of {}", page, pages)), 1);
}
INSTANTIATE_TEST_SUITE_P(All, EveryForm,
                         ::testing::Combine(::testing::ValuesIn(form_names()),
                                            ::testing::Values(Sheet::a4, Sheet::letter), ::testing::Range(0, 5)),
                         [](const auto& which) {
                           std::string name = std::get<0>(which.param);
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name + (std::get<1>(which.param) == Sheet::a4 ? "_a4_" : "_letter_") +
                                  std::to_string(std::get<2>(which.param));
                         });

/// Nothing of ours may stand outside the margins: looked up in the boxes of poppler's words.
TEST_P(EveryForm, StaysInsideTheMargins) {
  SKIP_WITHOUT("pdftotext");
  const auto& [form, sheet, kind] = GetParam();
  const std::string boxes = run_on(made(form, told(kind), sheet), "pdftotext -bbox - -");
  double width = 0, height = 0;
  int words = 0;
  std::istringstream lines{boxes};
  for (std::string line; std::getline(lines, line);) {
    std::sscanf(line.c_str(), " <page width=\"%lf\" height=\"%lf\"", &width, &height);
    double x0, y0, x1, y1;
    if (std::sscanf(line.c_str(), " <word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\"", &x0, &y0, &x1, &y1) !=
        4)
      continue;
    ++words;
    EXPECT_GE(x0, mm(12)) << line;
    EXPECT_LE(x1, width - mm(12)) << line;
    EXPECT_GE(y0, mm(10)) << line;  // poppler's box is the font's, higher than the letters
    EXPECT_LE(y1, height - mm(12)) << line;
  }
  EXPECT_GT(words, 20);
}

TEST(WeightsToFill, HasEveryDayUntilEightWeeksOnce) {
  SKIP_WITHOUT("pdftotext");
  const std::string text = text_of(made("weights-to-fill"));
  for (int day = 0; day <= 57; ++day) {
    const CivilDay date = Zone{}.day_of(test::kFirstPup) + std::chrono::days{day};
    EXPECT_EQ(times(text, fmt::format(" {} {}", day, say_day(date))), day <= 56 ? 1 : 0) << day;
  }
}

TEST(WeightsToFill, IsPrefilledWithWhatIsKnownAndNoMore) {
  SKIP_WITHOUT("pdftotext");
  const std::string text = text_of(made("weights-to-fill"));
  const auto row = [&](std::string_view start) {
    const auto at = text.find(start);
    return at == std::string::npos ? std::string() : text.substr(at, text.find('\n', at) - at);
  };
  const auto litter = test::story({}).litter(kTwoWeeks);
  for (const auto& pup : litter.pups)
    EXPECT_THAT(row("Sun 15 Mar"),
                HasSubstr(bare(*weight_on(litter, pup, *parse_day("2026-03-15")), WeightUnit::grams)));
  EXPECT_EQ(row("Wed 18 Mar"), "Wed 18 Mar") << "a day still to come is empty";
  EXPECT_THAT(text, HasSubstr("light blue"));
  EXPECT_THAT(text, HasSubstr("240 g"));         // the tub
  EXPECT_THAT(text, HasSubstr("reads to 1 g"));  // the scale
}

TEST(WeightsToFill, ALitterStillToComeHasBlankColumnsForThoseCounted) {
  SKIP_WITHOUT("pdftotext");
  const std::string pdf = made("weights-to-fill", {.pups = 0}, Sheet::a4, test::at("2026-03-01T09:00:00Z"));
  const std::string text = text_of(pdf);
  EXPECT_THAT(text, HasSubstr("Collar"));
  EXPECT_THAT(text, Not(HasSubstr("Mon 2 Mar"))) << "no birth, no dates";
  EXPECT_GE(pages_of(pdf), 2);
}

TEST(WeightsToFill, RowsAreHighEnoughForAPen) { EXPECT_GE(kWritable, mm(7)); }

TEST(WeightsToFill, SaysTheRulesInTheTablesOwnWords) {
  SKIP_WITHOUT("pdftotext");
  const std::string words = words_of(made("weights-to-fill"));
  for (const std::string_view code : {"NO_GAIN", "LOSS_TWO_DAYS", "LOSS_TEN"}) {
    const auto rules = reference::rules_of(reference::built_in().percent_rules, code);
    ASSERT_FALSE(rules.empty()) << code;
    for (const auto* rule : rules) {
      EXPECT_THAT(words, HasSubstr(std::string(rule->words.headline)));
      EXPECT_THAT(words, HasSubstr(std::string(rule->words.do_now)));
      EXPECT_THAT(words, HasSubstr(std::string(rule->source.work)));
    }
  }
}

TEST(WeightsToFill, APupThatDiedOrLeftIsNotToBeWeighed) {
  SKIP_WITHOUT("pdftotext");
  const std::string text = text_of(made("weights-to-fill", {.pups = 6, .days = 20, .losses = true}));
  EXPECT_EQ(times(text, "died"), 1);
  EXPECT_EQ(times(text, "left"), 1);
  EXPECT_THAT(text, Not(HasSubstr("480"))) << "the stillborn pup has no column";
}

TEST(Weights, GainsAreDifferencesOfWhatStandsInTheTable) {
  SKIP_WITHOUT("pdftotext");
  const auto litter = test::story({}).litter(kTwoWeeks);
  const auto& red = litter.pups.front();
  const Grams day4 = *weight_on(litter, red, *parse_day("2026-03-06")),
              day5 = *weight_on(litter, red, *parse_day("2026-03-07"));
  const std::string text = text_of(made("weights"));
  EXPECT_THAT(text, HasSubstr(bare(day5, WeightUnit::grams)));
  EXPECT_THAT(text, HasSubstr("+" + bare(day5 - day4, WeightUnit::grams)));
}

TEST(Weights, NoPupYetStillPrints) {
  SKIP_WITHOUT("pdftotext");
  const std::string pdf = made("weights", {.pups = 0});
  EXPECT_EQ(pages_of(pdf), 1);
  EXPECT_THAT(text_of(pdf), HasSubstr("No weights yet"));
}

TEST(GrowthSheet, HasAPageForEachPupBornAlive) {
  const std::string pdf = made("growth-sheet", {.pups = 6, .days = 20, .losses = true});
  EXPECT_EQ(pages_of(pdf), 5);  // the second was stillborn
  EXPECT_THAT(words_of(pdf), HasSubstr("Pup 1, red collar"));
  EXPECT_THAT(words_of(pdf), Not(HasSubstr("Pup 2,")));
  EXPECT_THAT(words_of(pdf), HasSubstr("died Sat 7 Mar"));
}

TEST(GrowthSheet, GainsAreDifferencesOfWhatStandsInTheTable) {
  test::Story s = test::story({.pups = 1, .days = 0});
  s.add(test::at("2026-03-04T07:30:00Z"), "1", record::Weight{Grams{400}, {}, {}});
  s.add(test::at("2026-03-06T07:30:00Z"), "1", record::Weight{Grams{433}, {}, {}});
  const auto litter = s.litter(kTwoWeeks);
  const auto pdf = make_form("growth-sheet", Sheet::a4, litter, test::assess(litter, kTwoWeeks));
  ASSERT_TRUE(pdf);
  const std::string words = words_of(*pdf);
  EXPECT_THAT(words, HasSubstr("+5"));  // 395 at birth
  EXPECT_THAT(words, HasSubstr("+33 in 2 d"));
}

TEST(GrowthSheet, BeforeTheFirstPupItSaysSo) {
  EXPECT_THAT(words_of(made("growth-sheet", {.pups = 0})), HasSubstr("No pup is born yet"));
}

TEST(WhelpingLog, ShowsEveryCallAndEmergencyOfTheClocksInTheTablesWords) {
  SKIP_WITHOUT("pdftotext");
  const std::string words = words_of(made("whelping-log", {.pups = 0}));
  int shown = 0;
  for (const auto& rule : reference::built_in().span_rules) {
    if (rule.level > reference::Level::call_vet) continue;
    // The weeks after have no place on the sheet of the night.
    constexpr std::string_view kAfter[] = {"GREEN_LATE", "APPETITE_LATE", "NEGLECT", "MILK_FEVER_SIGN", "FEED_TAUT"};
    if (std::find(std::begin(kAfter), std::end(kAfter), rule.code) != std::end(kAfter)) continue;
    EXPECT_THAT(words, HasSubstr(std::string(rule.words.headline))) << rule.code;
    ++shown;
  }
  EXPECT_GT(shown, 10);
  for (const std::string_view code : {"SIGN_COLLAPSE", "SIGN_TWITCHING", "SIGN_FOUL_DISCHARGE", "SIGN_BLEEDING",
                                      "REPEATED_VOMITING", "COUNT_SHORT", "TWO_FLAGS"}) {
    const auto rules = reference::rules_of(reference::built_in().count_rules, code);
    ASSERT_FALSE(rules.empty()) << code;
    for (const auto* rule : rules) EXPECT_THAT(words, HasSubstr(std::string(rule->words.headline)));
  }
}

TEST(WhelpingLog, HasTheBirthsKnownAndRoomForMore) {
  SKIP_WITHOUT("pdftotext");
  const std::string text = text_of(made("whelping-log", {.losses = true}));
  EXPECT_THAT(text, HasSubstr("21:40"));
  EXPECT_THAT(text, HasSubstr("light blue"));
  EXPECT_THAT(text, HasSubstr("stillborn"));
  EXPECT_THAT(text, HasSubstr("tail first, slow to breathe"));
  EXPECT_THAT(text, HasSubstr("Mon 2 Mar 20:20"));  // the waters
  EXPECT_THAT(text, ::testing::ContainsRegex("Born +8 +Born alive +7 "));
  EXPECT_THAT(text, HasSubstr("\n 11"));
}

TEST(DamTemperature, HasTheLineTheReadingsAndWhatADropMeans) {
  SKIP_WITHOUT("pdftotext");
  const std::string pdf = made("dam-temperature");
  const std::string words = words_of(pdf);
  const auto* rule = reference::rules_of(reference::built_in().temperature_rules, "DAM_TEMP_DROP").front();
  EXPECT_THAT(words, HasSubstr(say(rule->limit)));
  EXPECT_THAT(words, HasSubstr(std::string(rule->words.why)));
  EXPECT_THAT(text_of(pdf), ::testing::ContainsRegex("Evening +16-21 +38.1 +38.2 +38.0 +37.9 +37.8 +36.9"));
}

TEST(DamTemperature, InFahrenheitTheLineStandsAt99Point5) {
  SKIP_WITHOUT("pdftotext");
  const std::string words = words_of(made("dam-temperature", {.temperature = TemperatureUnit::fahrenheit}));
  EXPECT_THAT(words, HasSubstr("99.5 °F"));
  EXPECT_THAT(words, Not(HasSubstr("37.5 °C ")));
  EXPECT_THAT(words, HasSubstr("98.4"));  // 36.9 °C
}

TEST(DamTemperature, AReadingPastMidnightStandsInTheNightItBelongsTo) {
  SKIP_WITHOUT("pdftotext");
  test::Story story;
  story.add(test::at("2026-02-24T01:30:00Z"), "dam", record::Temperature{Celsius{37.7}, {}});
  const auto litter = story.litter();
  const auto pdf = make_form("dam-temperature", Sheet::a4, litter, test::assess(litter, kTwoWeeks)).value();
  EXPECT_THAT(text_of(pdf), HasSubstr("Mon 23 Feb"));
  EXPECT_THAT(text_of(pdf), ::testing::ContainsRegex("Night +21-5 +37.7"));
}

TEST(DosingRound, HowMuchForEachPupOrWhyNotAndWhoseWordComesFirst) {
  SKIP_WITHOUT("pdftotext");
  auto story = test::story({.pups = 8, .days = 20});
  story.add(test::at("2026-03-10T10:00:00Z"), "", lampside::testing::worm_suspension());
  const auto now = test::at("2026-03-21T09:00:00Z");
  story.add(now - std::chrono::minutes(5), "3", record::DoseSkipped{"worm suspension", "loose stools"});
  const auto litter = story.litter();
  const auto assessment = test::assess(litter, now);
  const auto pdf = make_form("dosing-round", Sheet::a4, litter, assessment).value();
  EXPECT_EQ(pages_of(pdf), 1);
  const auto words = words_of(pdf);
  EXPECT_THAT(words, HasSubstr("Your vet's word and your law come first."));
  EXPECT_THAT(words, HasSubstr("Not every wormer is safe for every breed and age"));
  EXPECT_THAT(words, HasSubstr("LH-2217"));
  EXPECT_THAT(words, HasSubstr("loose stools"));
  for (const auto& dog : assessment.dosing.at(0).dogs)
    if (dog.dose) {
      EXPECT_THAT(words, HasSubstr(care::say(dog.dose->give))) << dog.about;
    }
  // Two days on, the weights are too old and the sheet says so in the place of a dose.
  const auto late =
      make_form("dosing-round", Sheet::letter, litter, test::assess(litter, now + std::chrono::hours(48))).value();
  EXPECT_THAT(words_of(late), HasSubstr("no dose"));
  EXPECT_THAT(words_of(late), HasSubstr("too little"));
}

/// The words of a page, how large they are and where each stands: a box of Inter's letters is 1.21 times their size.
struct Word {
  std::string text;
  double size, y, left, right;
};
std::vector<Word> words_with_size(const std::string& pdf) {
  const auto html = draw::test::run_on(pdf, "pdftotext -bbox - -");
  static const std::regex kWord{
      R"re(<word xMin="([0-9.]+)" yMin="([0-9.]+)" xMax="([0-9.]+)" yMax="([0-9.]+)">([^<]*)</word>)re"};
  std::vector<Word> out;
  for (std::sregex_iterator at(html.begin(), html.end(), kWord), end; at != end; ++at) {
    const auto number = [&](std::size_t n) { return std::stod((*at)[n]); };
    out.push_back({(*at)[5], (number(4) - number(2)) / 1.21, number(2), number(1), number(3)});
  }
  return out;
}

// It lies beside the box and is read at arm's length, in dim light: our own sizes (src/paper/dosing_round.cpp).
TEST(DosingRound, IsReadAtArmsLengthOnBothPapers) {
  SKIP_WITHOUT("pdftotext");
  for (const std::size_t pups : {3U, 12U})
    for (const auto sheet : {Sheet::a4, Sheet::letter}) {
      auto story = test::story({.pups = pups, .days = 20});
      story.add(test::at("2026-03-10T10:00:00Z"), "", lampside::testing::worm_suspension());
      const auto now = test::at("2026-03-21T09:00:00Z");
      story.add(now - std::chrono::minutes(5), "3", record::DoseSkipped{"worm suspension", "loose stools"});
      record::Dose given;
      given.product = "worm suspension";
      given.ml = Millilitres{1.2};
      story.add(now - std::chrono::hours(72), "1", given);
      const auto litter = story.litter();
      const auto assessment = test::assess(litter, now);
      const auto pdf = make_form("dosing-round", sheet, litter, assessment).value();
      EXPECT_EQ(pages_of(pdf), 1) << pups << " pups on one sheet";
      const auto words = words_with_size(pdf);
      const auto head = std::find_if(words.begin(), words.end(), [](const Word& w) { return w.text == "mg/kg"; });
      ASSERT_NE(head, words.end());
      std::size_t amounts = 0, table = 0;
      for (auto w = words.begin(); w != words.end(); ++w) {
        if (w->y < head->y || w->y > 740) continue;  // title and foot
        ++table;
        EXPECT_GE(w->size, 9.8) << w->text;
        EXPECT_THAT(w->text, Not(HasSubstr("…"))) << "cut off";
        if (w + 1 != words.end() && (w + 1)->text == "ml" && std::fabs((w + 1)->y - w->y) < 1 && w->size > 14) {
          ++amounts;
          EXPECT_GE(w->size, 19.5) << w->text;
        }
      }
      EXPECT_EQ(amounts, pups - 2) << "one was given three days ago, one is left out";
      EXPECT_GT(table, 5 * pups);
    }
}

TEST(PackingList, TakesTheKeepersOwnThings) {
  SKIP_WITHOUT("pdftotext");
  auto story = test::story({.pups = 0});
  record::Stock own{}, out{};
  own.item = "camera for the scan";
  own.car = true;
  out.item = "towels for the car";
  out.car = false;
  story.add(test::at("2026-02-20T10:00:00Z"), "", own).add(test::at("2026-02-20T10:01:00Z"), "", out);
  const auto now = test::at("2026-02-25T09:00:00Z");
  const auto litter = story.litter();
  for (const auto sheet : {Sheet::a4, Sheet::letter}) {
    const auto words = words_of(make_form("packing-list", sheet, litter, test::assess(litter, now)).value());
    EXPECT_THAT(words, HasSubstr("Camera for the scan"));
    EXPECT_THAT(words, HasSubstr("Carrier with a sheet"));
    EXPECT_THAT(words, ::testing::Not(HasSubstr("Towels for the car")));
  }
}

TEST(Figures, OuncesAreShortAndCannotBeMisread) {
  EXPECT_EQ(bare(Grams{412}, WeightUnit::grams), "412");
  EXPECT_EQ(bare(Grams{kGramsPerOunce * 14.375}, WeightUnit::ounces), "14⅜");
  EXPECT_EQ(bare(Grams{kGramsPerOunce * 18}, WeightUnit::ounces), "1 lb 2");
  EXPECT_EQ(bare(Grams{kGramsPerOunce * 16}, WeightUnit::ounces), "1 lb");
  EXPECT_EQ(bare(Grams{kGramsPerOunce * 16.875}, WeightUnit::ounces), "1 lb 0⅞");
  EXPECT_EQ(bare(Grams{kGramsPerOunce * 30.5}, WeightUnit::ounces), "1 lb 14½");
  EXPECT_EQ(bare(Grams{kGramsPerOunce * 0.125}, WeightUnit::ounces), "⅛");
}

TEST(Figures, SharesAreEvenAndComplete) {
  EXPECT_EQ(shares(57, 20), (std::vector<std::size_t>{19, 19, 19}));
  EXPECT_EQ(shares(14, 9), (std::vector<std::size_t>{7, 7}));
  EXPECT_EQ(shares(0, 9), (std::vector<std::size_t>{0}));
  EXPECT_EQ(shares(5, 0), (std::vector<std::size_t>{1, 1, 1, 1, 1}));
}

TEST(Turns, TheListOfADayOrWhereToBegin) {
  SKIP_WITHOUT("pdftotext");
  auto story = test::story({.pups = 11, .days = 4});
  const auto now = test::at("2026-03-05T21:00:00Z");
  const auto words = [&] {
    const auto litter = story.litter(now);
    return words_of(make_form("turns", Sheet::a4, litter, test::assess(litter, now)).value());
  };
  EXPECT_THAT(words(),
              HasSubstr("Begin on the screen Nest, under Turns at the teats: how many of her teats give milk"));
  story.add(now - std::chrono::hours(3), "", record::TeatTurns{true, 8, 45, {}, {}});
  const auto list = words();
  EXPECT_THAT(list, HasSubstr("11 pups at 8 teats that give milk"));
  EXPECT_THAT(list, Not(HasSubstr("Begin on the screen")));
  EXPECT_GE(times(list, "Group 2"), 4) << "once with its limit, then in the list";
  const auto litter = story.litter(now);
  const auto placed = words_with_size(make_form("turns", Sheet::a4, litter, test::assess(litter, now)).value());
  int nights = 0;
  for (std::size_t i = 1; i + 1 < placed.size(); ++i) {
    if (placed[i].text != "night") continue;
    ++nights;
    EXPECT_LT(placed[i - 1].right, placed[i].left) << "clear of the time";
    EXPECT_LT(placed[i].right, placed[i + 1].left) << "clear of the group";
  }
  EXPECT_GE(nights, 1);
  story.add(now - std::chrono::hours(2), "", record::TeatTurns{true, 8, 200, {}, {}});
  EXPECT_THAT(words(), HasSubstr("Ring your vet before a pup goes hungry"));
}

TEST(MilkByHand, WhatEachGetsWhenAndWhyOneGetsNone) {
  SKIP_WITHOUT("pdftotext");
  auto story = test::story({.pups = 4, .days = 4});
  const auto now = test::at("2026-03-05T09:00:00Z");
  const auto sheet = [&](Instant at) {
    const auto litter = story.litter(at);
    return words_of(make_form("milk-by-hand", Sheet::a4, litter, test::assess(litter, at)).value());
  };
  EXPECT_THAT(sheet(now), HasSubstr("No pup is fed by hand"));
  story.add(now - std::chrono::hours(4), "", record::Milk{"puppy milk", KcalPerMl{1}, Grams{30}, Millilitres{90}, {}});
  for (const char* label : {"1", "2"})
    story.add(now - std::chrono::hours(4), label,
              record::HandFeeding{record::FeedShare::full, record::FeedWay::bottle});
  story.add(now - std::chrono::hours(2), "2", record::SignSeen{record::Sign::belly_taut});
  const auto litter = story.litter(now);
  const auto assessment = test::assess(litter, now);
  const auto words = sheet(now);
  const auto& plan = std::get<nest::Plan>(assessment.feeding.of("1")->plan);
  EXPECT_THAT(words, HasSubstr(say_number(plan.today.each.count(), 1) + " ml"));
  EXPECT_THAT(words, HasSubstr("puppy milk: 1 kcal in 1 ml"));
  EXPECT_THAT(words, HasSubstr("For 100 ml: "));
  EXPECT_THAT(words, HasSubstr("no milk now"));
  EXPECT_THAT(words, HasSubstr("Its belly was taut"));
  EXPECT_GE(times(words, "1 red"), 1 + plan.today.feeds) << "its amount, and each feed of a day";
  EXPECT_EQ(times(words, "2 light blue"), 1) << "nothing is due that must not be given";
  EXPECT_THAT(words, HasSubstr("Never on its back"));
  EXPECT_THAT(sheet(now + std::chrono::hours(48)), HasSubstr("weigh it first"));
}

}  // namespace
}  // namespace lampside::paper
