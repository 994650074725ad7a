// Homes: sound markup on each of its pages, names only where they are kept, cautions beside a behaviour test.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "litters.hpp"
#include "markup.hpp"

namespace lampside::page {
namespace {

using testing::faults_of_page;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using testing::Shown;

record::Family family(const std::string& id) {
  record::Family f{};
  f.family = id;
  f.purpose = "companion";
  return f;
}
testing::Story listed() {
  auto story = testing::mid_whelping();
  story.add(200, "", family("f1"));
  story.add(201, "", family("f2"));
  story.add(202, "", record::Deposit{"f2", Cash{200'500}, "GBP", "until the pick", {}});
  story.add(203, "", record::MoneyMoved{Cash{85'000}, record::MoneyWay::out, "x-ray", "GBP", {}, "keeper", {}});
  story.add(204, "1", record::BehaviourTest{1, 3, 3, 3, 3, 3, 3, 3, 3, 3});
  return story;
}
std::string page(Shown& shown, std::map<std::string, std::string> query) {
  shown.view.query = std::move(query);
  auto html = homes_page(shown.view);
  EXPECT_THAT(faults_of_page(html), IsEmpty());
  return html;
}

TEST(Homes, EveryPageOfItIsSound) {
  Shown shown{listed(), 300};
  shown.view.people = {{.family = "f1", .name = "Ines", .phone = "01632 960777", .email = "ines@example.org"}};
  EXPECT_THAT(page(shown, {}), HasSubstr("Next to choose: family 1"));
  EXPECT_THAT(page(shown, {}), HasSubstr("Ines"));
  page(shown, {{"family", "new"}});
  EXPECT_THAT(page(shown, {{"family", "f1"}}), HasSubstr("tel:01632960777"));
  page(shown, {{"family", "f2"}});
  page(shown, {{"family", "nobody at all"}});
  EXPECT_THAT(page(shown, {{"money", "1"}}), HasSubstr("The litter cost 85.00 GBP"));
  EXPECT_THAT(page(shown, {{"match", "1"}}), HasSubstr("A suggestion only"));
  page(shown, {{"test", "1"}});
}

TEST(Homes, ABehaviourTestNeverStandsWithoutItsCautionsAndHasNoAverage) {
  Shown shown{listed(), 300};
  for (const auto& query : {std::map<std::string, std::string>{{"test", "1"}}, {{"match", "1"}}}) {
    const auto html = page(shown, query);
    EXPECT_THAT(html, HasSubstr("One test does not fix an adult&#39;s temper"));
    EXPECT_THAT(html, HasSubstr("contested"));
  }
  EXPECT_THAT(page(shown, {{"match", "1"}}), HasSubstr("look at the ends: attraction 1"));
  EXPECT_THAT(page(shown, {{"match", "1"}}), Not(HasSubstr("2.8")));
}

TEST(Homes, HostileWordsStayWords) {
  const std::string evil = R"("><script>x</script>&)";
  Shown shown{listed(), 300};
  shown.view.people = {{evil, evil, evil, evil, evil, evil, {}, false},
                       {"f1", evil, evil, evil, evil, evil, {}, false}};
  for (const auto& query :
       {std::map<std::string, std::string>{}, {{"family", "f1"}}, {{"family", evil}}, {{"money", "1"}}})
    EXPECT_THAT(page(shown, query), Not(HasSubstr("<script>x")));
}

TEST(Homes, WordsThatNameThemAreAskedAboutOneByOne) {
  Shown shown{listed(), 300};
  shown.view.people = {{.family = "f1", .name = "Ines"}};
  EXPECT_THAT(page(shown, {{"family", "f1"}}), Not(HasSubstr("seem to name them")));
  for (int i = 0; i < 2; ++i)
    shown.view.naming.push_back({"id-" + std::to_string(i), "juniper", shown.view.now, "Ines <b>came", i == 1});
  const auto html = page(shown, {{"family", "f1"}});
  EXPECT_THAT(html, HasSubstr("2 entries in the journal seem to name them"));
  EXPECT_THAT(html, HasSubstr("name=\"out-id-0\""));
  EXPECT_THAT(html, HasSubstr("struck out"));
  for (int i = 2; i < 60; ++i)
    shown.view.naming.push_back({"id-" + std::to_string(i), "juniper", shown.view.now, "Ines", false});
  EXPECT_THAT(page(shown, {{"family", "f1"}}), HasSubstr("name=\"out-all\"")) << "sixty questions at once";
}

TEST(LookBack, HerLittersSideBySideAndWhatTheForecastsKnow) {
  Shown shown{testing::eight_weeks(4), 56 * 1440};
  auto other = homes::look_back(shown.litter, reference::built_in(), shown.view.now);
  other.litter = "the one before";
  *other.first -= std::chrono::hours{24 * 400};
  other.losses = {{"3", 4, "not known"}};
  other.gain = Percent{92};
  shown.view.earlier = {other};
  const auto one = look_back_page(shown.view);
  EXPECT_THAT(faults_of_page(one), IsEmpty());
  EXPECT_THAT(one, HasSubstr("Growth, the mean pup"));
  shown.view.query = {{"dam", "1"}};
  const auto both = look_back_page(shown.view);
  EXPECT_THAT(faults_of_page(both), IsEmpty());
  for (const auto* what : {"the one before", "Mean pup, week 1", "92 %", "In the first week, not known", "Nothing yet"})
    EXPECT_THAT(both, HasSubstr(what));
}

TEST(Homes, DataKeptPastTheirDayAreToldAtTheTop) {
  Shown shown{listed(), 300};
  shown.view.people = {{.family = "f1", .name = "Ines", .keep_until = CivilDay{std::chrono::year{2020} / 1 / 1}}};
  EXPECT_THAT(page(shown, {}), HasSubstr("Kept longer than the rule says"));
}

}  // namespace
}  // namespace lampside::page
