#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "litters.hpp"
#include "markup.hpp"
#include "page/words.hpp"

namespace lampside::page {
namespace {

using testing::faults_of_page;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using testing::Shown;
using testing::Story;

void expect_sound(const Shown& shown) {
  for (const auto& [name, html] : shown.screens()) {
    EXPECT_THAT(faults_of_page(html), IsEmpty()) << name;
    EXPECT_THAT(html, HasSubstr("Your vet&#39;s word and your law come first.")) << name;
  }
}

TEST(Pages, SoundWithoutAnyEntry) { expect_sound(Shown{testing::nothing(), 0}); }
TEST(Pages, SoundForAnEmptyLitter) { expect_sound(Shown{testing::empty(), 0}); }
TEST(Pages, SoundBeforeWhelping) { expect_sound(Shown{testing::waiting(), 0}); }
TEST(Pages, SoundInTheMiddleOfWhelping) { expect_sound(Shown{testing::mid_whelping(), 200}); }
TEST(Pages, SoundForTwelvePupsOverEightWeeks) {
  const Shown shown{testing::eight_weeks(), 56 * 1440};
  ASSERT_EQ(shown.litter.pups.size(), 12U);
  expect_sound(shown);
}

TEST(Pages, HostileWordsEverywhereStayWords) {
  const std::string evil = R"(</title><script>alert('x')</script>"><img src=x onerror=y>&)";
  Story story{evil};
  story.by = evil;
  auto facts = testing::juniper();
  facts.dam->name = facts.dam->breed = evil;
  facts.sire = record::Parent{};
  facts.sire->name = evil;
  facts.vet = record::Vet{evil, "+44 \"><script>1", 5};
  facts.place = evil;
  story.facts(facts);
  record::Birth birth;
  birth.collar = birth.markings = evil;
  birth.grams = Grams{400};
  const auto born = story.add(0, evil, birth, evil);
  const auto weight = story.weighed(600, evil, 350);
  story.add(610, "", record::Strike{weight}, evil);
  story.add(620, evil, record::Departure{evil}, evil);
  story.add(630, "", record::Dose{evil, evil, {}, {}, evil, {}, {}, {}}, evil);
  record::Product product;
  product.name = evil;
  product.active = product.strength = product.dose = product.lot = evil;
  story.add(632, "", product, evil);
  story.add(634, evil, record::DoseSkipped{evil, evil}, evil);
  story.add(640, "nobody" + evil, record::Weight{Grams{3}, std::nullopt, std::nullopt}, evil);
  story.add(650, "", record::Note{}, evil);
  Shown shown{story, 700};
  shown.view.notice = evil;
  shown.view.undo_id = born;
  shown.view.problem = Problem{evil, evil, evil};
  shown.view.typed = {{"kind", "birth"}, {"about", evil}, {"corrects", born}, {"collar", evil},
                      {"reading", evil}, {"at", evil},    {"dam_name", evil}};
  shown.view.query = {{"correct", evil}, {"until", evil}};
  for (const auto& [name, html] : shown.screens()) {
    EXPECT_THAT(faults_of_page(html), IsEmpty()) << name;
    EXPECT_THAT(html, Not(HasSubstr("<script>"))) << name;
    EXPECT_THAT(html, Not(HasSubstr("<img"))) << name;
    EXPECT_THAT(html, HasSubstr("&lt;script&gt;")) << name;
  }
  const StartView start{evil,        evil, Story::at(0), {evil}, {{"dam_name", evil}}, Problem{evil, evil, evil},
                        Story::id(1)};
  EXPECT_THAT(faults_of_page(start_page(start)), IsEmpty());
  EXPECT_THAT(faults_of_page(problem_page(500, {evil, evil, evil})), IsEmpty());
}

TEST(PupPage, SaysItsPlaceInTheLitterInWords) {
  const Shown shown{testing::eight_weeks(), 56 * 1440};
  std::set<std::string> said;
  for (const auto& pup : shown.litter.pups) {
    const auto html = pup_page(shown.view, pup);
    for (const char* words : {"The heaviest of 12 in the box", "The lightest of 12 in the box", "2nd of 12 in the box",
                              "3rd of 12 in the box", "4th of 12 in the box", "11th of 12 in the box"})
      if (html.find(words) != std::string::npos) {
        EXPECT_TRUE(said.insert(words).second) << words << " twice";
      }
  }
  EXPECT_EQ(said.size(), 6U);
}

TEST(Now, WorstFirstWithWordReasonAndSource) {
  const Shown shown{testing::mid_whelping(), 200};
  ASSERT_FALSE(shown.assessment.findings.empty());
  const auto html = now_page(shown.view);
  std::size_t at = 0;
  for (const auto& finding : shown.assessment.findings) {
    at = html.find(Html::text(sentence(finding.headline)).str(), at);
    ASSERT_NE(at, std::string::npos) << finding.code;
    EXPECT_THAT(html, HasSubstr(Html::text(sentence(finding.because)).str()));
    EXPECT_THAT(html, HasSubstr(Html::text(finding.source.work).str()));
    ++at;
  }
}

TEST(Now, UrgentFindingsCarryTheVetsNumber) {
  Shown shown{testing::empty(), 0};
  reference::Finding finding{"X",         reference::Level::act,
                             "dam",       "Head",
                             "Because",   "Why",
                             "Do",        "",
                             "Pro",       {"Work", "p. 1", reference::Standing::from_memory},
                             std::nullopt};
  shown.assessment.findings = {finding};
  EXPECT_THAT(now_page(shown.view), Not(HasSubstr("tel:")));
  shown.assessment.findings.front().level = reference::Level::call_vet;
  const auto html = now_page(shown.view);
  EXPECT_THAT(html, HasSubstr("href=\"tel:01632960118\""));
  EXPECT_THAT(html, HasSubstr("href=\"tel:01632960144\""));
  // 20:00: the night number comes first.
  EXPECT_LT(html.find("tel:01632960144"), html.find("tel:01632960118"));
  EXPECT_THAT(html, HasSubstr("from memory"));
  EXPECT_THAT(html, HasSubstr("Call the vet"));
}

TEST(Now, WithoutAVetsNumberAsksForOne) {
  Shown shown{testing::nothing(), 0};
  shown.assessment.findings = {{"X",
                                reference::Level::emergency,
                                "dam",
                                "Head",
                                "Because",
                                "",
                                "",
                                "",
                                "",
                                {"W", "l", reference::Standing::published},
                                std::nullopt}};
  EXPECT_THAT(now_page(shown.view), HasSubstr("No vet&#39;s number is written down"));
}

TEST(Now, QuietIsNotReassuring) {
  Shown shown{testing::empty(), 0};
  shown.assessment.findings.clear();
  const auto html = now_page(shown.view);
  EXPECT_THAT(html, HasSubstr("not the same as all being well"));
  EXPECT_THAT(html, HasSubstr("Last written"));
}

TEST(Due, SaysTheWindowInWordsAndWhatItIsMadeOf) {
  const Shown before{testing::waiting(), 0};
  const auto* forecast = reference::value_of(before.assessment.due);
  ASSERT_NE(forecast, nullptr);
  const auto html = due_page(before.view);
  EXPECT_THAT(html, HasSubstr("First pup about " + say_day(before.litter.zone.day_of(forecast->p50))));
  EXPECT_THAT(html, HasSubstr("class=\"chart\""));
  for (const auto& clue : forecast->clues) EXPECT_THAT(html, HasSubstr(Html::text(sentence(clue.says)).str()));
  EXPECT_THAT(due_page(Shown{testing::empty(), 0}.view), HasSubstr("No date yet"));
}

TEST(Whelping, CountsAndClocksAreTheAssessments) {
  const Shown shown{testing::mid_whelping(), 200};
  const auto html = whelping_page(shown.view);
  EXPECT_THAT(html, HasSubstr("<b>3</b><span class=\"\">born</span>"));
  EXPECT_THAT(html, HasSubstr("expected, at least"));
  ASSERT_FALSE(shown.assessment.whelping.clocks.empty());
  for (const auto& clock : shown.assessment.whelping.clocks) {
    const auto elapsed = (shown.view.now - clock.since).count();
    EXPECT_THAT(
        html, HasSubstr("data-elapsed=\"" + std::to_string(elapsed) + "\">" + say_span(shown.view.now - clock.since)));
  }
}

TEST(Whelping, EverySignHasAButtonOfItsOwnForm) {
  const auto html = whelping_page(Shown{testing::mid_whelping(), 200}.view);
  for (int i = 0; i <= static_cast<int>(record::Sign::settled); ++i) {
    const std::string name{record::name_of(static_cast<record::Sign>(i))};
    EXPECT_THAT(html, HasSubstr("<input type=\"hidden\" name=\"sign\" value=\"" + name + "\">"));
  }
}

TEST(Whelping, AfterABirthThePupsFormComesBeforeTheButton) {
  Shown shown{testing::mid_whelping(), 81};
  EXPECT_LT(whelping_page(shown.view).find("id=\"born\""), whelping_page(shown.view).find("id=\"birth-3\""));
  shown.view.undo_id = shown.litter.pups.back().birth.id;
  shown.view.notice = "Pup 3 born";
  const auto html = whelping_page(shown.view);
  EXPECT_LT(html.find("id=\"birth-3\""), html.find("id=\"born\""));
  EXPECT_THAT(html, HasSubstr("name=\"strike\" value=\"" + shown.view.undo_id + "\""));
}

TEST(Whelping, OnceThePupsDetailsAreSavedTheButtonComesFirstAgain) {
  Story story = testing::mid_whelping();
  record::Birth details;
  details.sex = record::Sex::male;
  std::string third;
  for (const auto& e : story.entries)
    if (e.about == "3" && e.kind == "birth") third = e.id;
  const auto correction = story.add(80, "3", details, "", third);
  Shown shown{story, 83};
  shown.view.undo_id = correction;
  const auto html = whelping_page(shown.view);
  EXPECT_LT(html.find("id=\"born\""), html.find("id=\"birth-3\""));
}

TEST(Whelping, ProposesTheNextFreeCollar) {
  Story story = testing::empty();
  story.born(0, "1", 400, "Red");
  story.add(10, "2", record::Birth{});
  const auto html = whelping_page(Shown{story, 20}.view);
  EXPECT_THAT(html, HasSubstr("name=\"collar\" type=\"text\" value=\"blue\""));
}

TEST(WeighIn, AdvancesInOrderAndKeepsAHalfDoneRound) {
  Story story = testing::empty();
  for (int i = 1; i <= 4; ++i) story.born(i, std::to_string(i), 400, "c" + std::to_string(i));
  story.weighed(700, "1", 420, 120);
  const auto second = story.weighed(702, "2", 395, 120);
  Shown shown{story, 703};
  shown.view.undo_id = second;
  const auto html = weigh_in_page(shown.view, "");
  EXPECT_THAT(html, HasSubstr("2 of 4 weighed"));
  EXPECT_THAT(html, HasSubstr("name=\"about\" value=\"3\""));
  EXPECT_THAT(html, HasSubstr("name=\"back\" value=\"weigh-in?turn=4\""));
  EXPECT_THAT(html, HasSubstr("lost 5 g"));                                    // the pup just weighed, at once
  EXPECT_THAT(html, HasSubstr("tub 120 g off"));                               // said of it
  EXPECT_THAT(html, HasSubstr("name=\"tub\" type=\"text\" value=\"120 g\""));  // and remembered for the next
  EXPECT_THAT(weigh_in_page(shown.view, "4"), HasSubstr("name=\"back\" value=\"weigh-in?turn=3\""));
  story.weighed(703, "4", 410);
  EXPECT_THAT(weigh_in_page(Shown{story, 704}.view, "3"), HasSubstr("name=\"back\" value=\"weigh-in\""));  // the last
}

TEST(WeighIn, AsksAboutAWeightThatCannotBeRight) {
  Story story = testing::empty();
  for (int i = 1; i <= 3; ++i) story.born(i, std::to_string(i), 400, "");
  std::string slip;
  for (int d = 1; d <= 4; ++d)
    for (int i = 1; i <= 3; ++i) {
      const double grams = 400 + 30 * d;
      const auto id = story.weighed(1440 * d + i, std::to_string(i), d == 4 && i == 2 ? grams / 10 : grams);
      if (d == 4 && i == 2) slip = id;
    }
  const auto html = weigh_in_page(Shown{story, 1440 * 4 + 60}.view, "");
  EXPECT_THAT(html, HasSubstr("Is the point in the wrong place?"));
  EXPECT_THAT(html, HasSubstr("<s>52 g</s> → <b>520 g</b>"));
  EXPECT_THAT(html, HasSubstr("name=\"entry-0\" value=\"" + slip + "\""));
  EXPECT_THAT(html, HasSubstr("name=\"grams-0\" value=\"520.000\""));
  EXPECT_THAT(html, HasSubstr("name=\"answer\" value=\"right\""));
  EXPECT_THAT(weigh_in_page(Shown{story, 1440 * 5}.view, ""), HasSubstr("name=\"about\" value=\"2\""))
      << "it is weighed first";
}

TEST(WeighIn, EndsWithASummaryAndCanBeginAgain) {
  Story story = testing::empty();
  for (int i = 1; i <= 2; ++i) story.born(i, std::to_string(i), 400, "");
  story.weighed(700, "1", 420);
  story.weighed(702, "2", 425);
  const Shown shown{story, 703};
  EXPECT_THAT(weigh_in_page(shown.view, ""), HasSubstr("Round done"));
  const auto again = weigh_in_page(shown.view, "1");
  EXPECT_THAT(again, HasSubstr("name=\"about\" value=\"1\""));
  EXPECT_THAT(again, HasSubstr("0 of 2 weighed"));
  EXPECT_THAT(again, Not(HasSubstr("Already weighed")));
}

TEST(WeighIn, WorksInOunces) {
  Story story = testing::empty();
  auto facts = testing::juniper();
  facts.units = record::UnitChoice{};
  facts.units->weight = WeightUnit::ounces;
  story.add(-90000, "", facts);
  story.born(0, "1", 14.375 * kGramsPerOunce, "red");
  const auto html = weigh_in_page(Shown{story, 700}.view, "");
  EXPECT_THAT(html, HasSubstr("14 3/8 oz"));
  EXPECT_THAT(html, HasSubstr("name=\"unit\" value=\"oz\""));
  EXPECT_THAT(html, HasSubstr("data-key=\" 3/8\""));
}

TEST(Forms, ARefusedFormKeepsWhatWasTyped) {
  Shown shown{testing::mid_whelping(), 200};
  shown.view.problem = Problem{"WEIGHT_FORMAT", "\"4i2\" is not a weight", "Type it like 412 or 14 3/8 oz"};
  shown.view.typed = {{"kind", "weight"}, {"about", "2"}, {"reading", "4i2"}, {"tub", "90 g"}};
  const auto html = weigh_in_page(shown.view, "2");
  EXPECT_THAT(html, HasSubstr("role=\"alert\""));
  EXPECT_THAT(html, HasSubstr("value=\"4i2\""));
  EXPECT_THAT(html, HasSubstr("value=\"90 g\""));
  // Another pup's form is not touched by it.
  EXPECT_THAT(weigh_in_page(shown.view, "1"), Not(HasSubstr("value=\"4i2\"")));
}

TEST(Pup, ShowsEachWeightWithItsChangeAndAuthor) {
  Story story = testing::empty();
  story.born(0, "1", 400, "red");
  story.weighed(600, "1", 380);
  const auto id = story.weighed(1200, "1", 431);
  Shown shown{story, 1300};
  const auto html = pup_page(shown.view, shown.litter.pups.front());
  EXPECT_THAT(html, HasSubstr("lost 20 g"));
  EXPECT_THAT(html, HasSubstr("gained 51 g"));
  EXPECT_THAT(html, HasSubstr("Tess"));
  EXPECT_THAT(html, Not(HasSubstr("name=\"corrects\" value=\"" + id)));
  shown.view.query["correct"] = id;
  EXPECT_THAT(pup_page(shown.view, shown.litter.pups.front()), HasSubstr("name=\"corrects\" value=\"" + id));
}

TEST(Log, KeepsWhatWasStruckReadableAndLetsItBePutBack) {
  Story story = testing::empty();
  story.born(0, "1", 400, "red");
  const auto wrong = story.weighed(600, "1", 4012);
  const auto strike = story.add(605, "", record::Strike{wrong});
  Shown shown{story, 700};
  const auto html = log_page(shown.view);
  EXPECT_THAT(html, HasSubstr("<s>Pup 1, red: weight 4012 g</s>"));
  EXPECT_THAT(html, HasSubstr("name=\"strike\" value=\"" + strike + "\""));
  EXPECT_THAT(html, Not(HasSubstr("name=\"strike\" value=\"" + wrong + "\"")));
}

TEST(Log, SaysWhatAStrikeStruckAndEndsInARing) {
  Story story = testing::empty();
  story.born(0, "1", 400, "red");
  const auto wrong = story.weighed(600, "1", 4012);
  story.add(605, "", record::Strike{wrong});
  story.add(606, "", record::Strike{Story::id(1000)});
  story.entries.back().id = Story::id(999);
  story.add(607, "", record::Strike{Story::id(999)});
  story.entries.back().id = Story::id(1000);
  const auto html = log_page(Shown{story, 700}.view);
  EXPECT_THAT(html, HasSubstr("Strike-out of Pup 1, red: weight 4012 g"));
  EXPECT_THAT(html, HasSubstr("A strike-out"));
}

TEST(Log, PagesThroughLongStoriesByWholeDaysWithoutLosingAnEntry) {
  Shown shown{testing::eight_weeks(3), 56 * 1440};
  std::size_t seen = 0;
  std::string until;
  int pages = 0;
  do {
    if (!until.empty()) shown.view.query["until"] = until;
    const auto html = log_page(shown.view);
    for (auto at = html.find("<li class=\"entry"); at != std::string::npos; at = html.find("<li class=\"entry", at + 1))
      ++seen;
    const auto link = html.find("\" class=\"button\">Earlier days");
    until = link == std::string::npos ? "" : html.substr(link - 10, 10);
    ASSERT_LT(++pages, 100);
  } while (!until.empty());
  EXPECT_GT(pages, 1);
  EXPECT_EQ(seen, shown.litter.log.size() + shown.litter.struck.size());
}

TEST(Start, TakesFewTapsAndKeepsWhatWasTyped) {
  StartView view{"t", "Europe/Berlin", Story::at(0), {}, {}, std::nullopt, Story::id(1)};
  EXPECT_THAT(faults_of_page(start_page(view)), IsEmpty());
  view.problem = Problem{"X", "No such day", "Type it like 2026-03-01"};
  view.typed = {{"dam_name", "Juniper"}, {"weight_unit", "oz"}};
  const auto html = start_page(view);
  EXPECT_THAT(html, HasSubstr("value=\"Juniper\""));
  EXPECT_THAT(html, HasSubstr("value=\"oz\" checked"));
}

TEST(Assets, AreInTheProgramAndTheHeadNamesThem) {
  const auto html = problem_page(404, {"X", "w", "t"});
  for (const auto& asset : assets()) {
    EXPECT_FALSE(asset.body.empty()) << asset.path;
    EXPECT_THAT(html, HasSubstr("/assets/" + std::string(asset.path) + "?v=")) << asset.path;
    EXPECT_THAT(std::string(asset.body), Not(HasSubstr("http://localhost")));
  }
  EXPECT_GE(assets().size(), 6U);
}

}  // namespace
}  // namespace lampside::page
