// Supplies, the kit check and an item's page: sound markup, the figures, and nothing a vet alone gives.
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

std::string page(Shown& shown, std::map<std::string, std::string> query) {
  shown.view.query = std::move(query);
  auto html = supplies_page(shown.view);
  EXPECT_THAT(faults_of_page(html), IsEmpty());
  return html;
}

TEST(Supplies, TheKitCheckIsOneItemATap) {
  auto story = testing::waiting();
  record::Stock box{};
  box.item = "whelping box";
  box.have = Amount{1};
  box.where = record::Keeping::kit;
  story.add(-30, "", box);
  Shown shown{story, 0};
  const auto html = page(shown, {{"check", "1"}});
  EXPECT_THAT(html, HasSubstr("1 of 3"));
  EXPECT_THAT(html, Not(HasSubstr("<h2>Whelping box")));
  EXPECT_THAT(html, HasSubstr("<h2>Guard rail in the box"));
  EXPECT_THAT(html, HasSubstr("Not there"));
  // Skipped to the end: what was skipped is offered again.
  EXPECT_THAT(page(shown, {{"check", "1"}, {"after", "99"}}), HasSubstr("Go to the skipped ones"));
  // A round that begins now has nothing looked at yet.
  EXPECT_THAT(page(shown, {{"check", std::to_string(shown.view.now.time_since_epoch().count())}}), HasSubstr("0 of 3"));
}

TEST(Supplies, AnItemShowsItsRuleWhereSourcesDifferAndItsSource) {
  Shown shown{testing::waiting(), 0};
  const auto html = page(shown, {{"item", "thread or floss for the cord"}});
  EXPECT_THAT(html, HasSubstr("Sources differ. Unwaxed on two lists"));
  EXPECT_THAT(html, HasSubstr("named in at least 8 of 16"));
}

TEST(Supplies, TheVetsOwnIsNamedAsSuchAndOfferedNowhere) {
  Shown shown{testing::waiting(), 0};
  const auto html = page(shown, {});
  EXPECT_THAT(html, HasSubstr("Only your vet gives them."));
  EXPECT_THAT(html, Not(HasSubstr("value=\"oxytocin\"")));
  EXPECT_THAT(page(shown, {{"item", "oxytocin"}}), Not(HasSubstr("<h1>Oxytocin")));
}

TEST(Supplies, HostileWordsStayWords) {
  const std::string evil = R"("><script>x</script>&)";
  auto story = testing::waiting();
  record::Stock s{};
  s.item = s.purpose.emplace(evil);
  s.unit = s.from = evil;
  s.need = Amount{3};
  s.where = record::Keeping::kit;
  story.add(-30, "", s);
  Shown shown{story, 0};
  shown.view.leftovers_from = evil;
  for (const auto& query :
       {std::map<std::string, std::string>{}, {{"check", evil}, {"after", evil}}, {{"item", evil}}}) {
    const auto html = page(shown, query);
    EXPECT_THAT(html, Not(HasSubstr("<script>x")));
  }
}

}  // namespace
}  // namespace lampside::page
