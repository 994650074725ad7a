// Wishes against pups: the assignment is the best there is, the reasons say what counted.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <numeric>
#include <set>

#include "homes/assign.hpp"
#include "homes/match.hpp"
#include "kuhn_oracle.hpp"
#include "told.hpp"

namespace lampside::homes {
namespace {

using namespace lampside::testing;
using reference::built_in;
using ::testing::Contains;
using ::testing::HasSubstr;

using Points = std::vector<std::vector<int>>;

Points any_points(std::size_t rows, std::size_t columns) {
  return *rc::gen::container<Points>(rows, rc::gen::container<std::vector<int>>(columns, rc::gen::inRange(0, 50)));
}
int sum_of(const Points& points, const std::vector<int>& given) {
  int sum = 0;
  for (std::size_t r = 0; r < points.size(); ++r)
    if (given[r] >= 0) sum += points[r][static_cast<std::size_t>(given[r])];
  return sum;
}
/// Every way there is, tried.
int best_by_trying(const Points& points, std::size_t columns) {
  const std::size_t rows = points.size();
  std::vector<int> columns_of(std::max(rows, columns));
  std::iota(columns_of.begin(), columns_of.end(), 0);
  int best = 0;
  do {
    int sum = 0;
    for (std::size_t r = 0; r < rows; ++r)
      if (columns_of[r] < static_cast<int>(columns)) sum += points[r][static_cast<std::size_t>(columns_of[r])];
    best = std::max(best, sum);
  } while (std::next_permutation(columns_of.begin(), columns_of.end()));
  return best;
}

RC_GTEST_PROP(Assign, IsAsGoodAsTheBestOfAllWays, ()) {
  const auto rows = *rc::gen::inRange<std::size_t>(1, 6), columns = *rc::gen::inRange<std::size_t>(1, 6);
  const auto points = any_points(rows, columns);
  const auto given = assign(points);
  RC_ASSERT(given.size() == rows);
  std::set<int> used;
  std::size_t placed = 0;
  for (const int c : given) {
    if (c < 0) continue;
    RC_ASSERT(c < static_cast<int>(columns));
    RC_ASSERT(used.insert(c).second);
    ++placed;
  }
  RC_ASSERT(placed == std::min(rows, columns));
  RC_ASSERT(sum_of(points, given) == best_by_trying(points, columns));
}

RC_GTEST_PROP(Assign, IsAsGoodAsAnotherSolvers, ()) {
  const auto rows = *rc::gen::inRange<std::size_t>(1, 16), columns = *rc::gen::inRange<std::size_t>(1, 16);
  const auto points = any_points(rows, columns);
  RC_ASSERT(sum_of(points, assign(points)) == sum_of(points, kuhn(points)));
}

TEST(Assign, NothingToAssign) {
  EXPECT_TRUE(assign({}).empty());
  EXPECT_EQ(assign({{}, {}}), (std::vector<int>{-1, -1}));
}

record::Family wish(const std::string& id, std::optional<record::Sex> sex, std::optional<std::string> colour,
                    std::optional<std::string> purpose) {
  auto f = family(id);
  f.sex = sex, f.colour = colour, f.purpose = purpose;
  return f;
}

TEST(Match, EachGetsWhatOnlyTheyWantAndEveryLineHasReasons) {
  Story story = pups(3);
  story.tell(kNight, "", wish("f1", record::Sex::male, {}, {}));
  story.tell(kNight + days(1), "", wish("f2", record::Sex::female, "Cream", "sport"));
  story.tell(kNight + days(2), "", wish("f3", {}, {}, "companion"));
  story.tell(kNight + days(49), "1", record::BehaviourTest{3, 3, 3, 4, 4, 3, 4, 3, 3, 4});
  story.tell(kNight + days(49), "3", record::BehaviourTest{2, 2, 3, 2, 2, 2, 3, 2, 1, 2});
  const auto match = homes::match(story.litter(), order_of(story), built_in());
  ASSERT_EQ(match.pairs.size(), 3u);
  EXPECT_EQ(match.pairs[0].pup, "2");
  EXPECT_EQ(match.pairs[1].pup, "3");
  EXPECT_EQ(match.pairs[2].pup, "1");
  EXPECT_THAT(match.pairs[1].fit.reasons, Contains(HasSubstr("9 of 10 sub-tests at 2 or 3")));
  EXPECT_THAT(match.pairs[1].fit.reasons, Contains(HasSubstr("look at the ends: sight 1")));
  EXPECT_THAT(match.pairs[2].fit.reasons, Contains(HasSubstr("10 of 10 sub-tests at 3 or 4")));
}

TEST(Match, WherePupsAreFewTheFirstInTheOrderAreMatched) {
  Story story = pups(1);
  story.tell(kNight, "", wish("f1", record::Sex::male, {}, {}));
  story.tell(kNight + days(1), "", wish("f2", record::Sex::female, {}, {}));
  const auto match = homes::match(story.litter(), order_of(story), built_in());
  ASSERT_EQ(match.pairs.size(), 1u);
  EXPECT_EQ(match.pairs[0].family, "f1");
  EXPECT_THAT(match.pairs[0].fit.reasons, Contains("not the male wished for"));
  EXPECT_EQ(match.later, std::vector<std::string>{"f2"});
}

TEST(BehaviourTest, HasTheTenPublishedSubTestsInTheirOrder) {
  // Volhard's puppy aptitude test, as four breed clubs' pages list it: day 49, ten sub-tests, each 1 to 6.
  const std::vector<std::string_view> published{"attraction", "following", "restraint", "dominance", "elevation",
                                                "retrieving", "touch",     "sound",     "sight",     "stability"};
  ASSERT_EQ(built_in().behaviour_checks.size(), published.size());
  const auto given = scores({1, 2, 3, 4, 5, 6, 1, 2, 3, 4});
  for (std::size_t i = 0; i < published.size(); ++i) {
    EXPECT_EQ(built_in().behaviour_checks[i].name, published[i]);
    EXPECT_EQ(given[i].first, published[i]);
  }
  EXPECT_EQ(given[5].second, 6);
  for (const auto& band : built_in().behaviour_bands) {
    EXPECT_GE(band.from, 1);
    EXPECT_LE(band.to, 6);
    EXPECT_LE(band.from, band.to);
  }
}

TEST(Match, ADayBeforeWhichTheyDoNotWantItIsToldAndGivesNoPoints) {
  Story story = pups(1);
  const auto litter = story.litter();
  record::Family wish{};
  wish.earliest = litter.zone.day_of(kNight) + std::chrono::days{70};
  const auto told = fit(litter, wish, litter.pups.front(), built_in());
  EXPECT_EQ(told.points, 0);
  EXPECT_THAT(told.reasons, Contains(HasSubstr("14 days longer with you")));
}

}  // namespace
}  // namespace lampside::homes
