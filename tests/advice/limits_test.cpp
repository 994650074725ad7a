#include "limits.hpp"

#include <gtest/gtest.h>

#include <set>

#include "reference/rules.hpp"

namespace lampside::testing {

std::vector<LimitCase>& all_cases() {
  static std::vector<LimitCase> cases;
  return cases;
}

namespace {

using reference::Side;

struct Row {
  double limit;
  Side acts;
};

template <class F>
void each_rule(F f) {
  const auto& r = reference::built_in();
  const auto all = [&](const auto& rules) {
    for (const auto& rule : rules)
      f(std::string(rule.code), rule.level, Row{reference::plain_number(rule.limit), rule.acts});
  };
  all(r.span_rules);
  all(r.temperature_rules);
  all(r.percent_rules);
  all(r.day_rules);
  all(r.count_rules);
}

std::optional<Row> row_of(const std::string& code, Level level) {
  std::optional<Row> out;
  each_rule([&](const std::string& c, Level l, Row row) {
    if (c == code && l == level) out = row;
  });
  return out;
}

bool acts(Side side, int where) {  // where: -1 just below the limit, 0 at it, 1 just above
  switch (side) {
    case Side::at_or_above:
      return where >= 0;
    case Side::above:
      return where > 0;
    case Side::at_or_below:
      return where <= 0;
    case Side::below:
      return where < 0;
  }
  return false;
}

const reference::SpanRule& rule_at(const std::vector<const reference::SpanRule*>& rules, Level level) {
  for (const auto* rule : rules)
    if (rule->level == level) return *rule;
  return *rules.front();
}

class Limit : public ::testing::TestWithParam<LimitCase> {};
class Clock : public ::testing::TestWithParam<LimitCase> {};

void acts_on_its_side_only(const LimitCase& c) {
  const auto row = row_of(c.code, c.level);
  ASSERT_TRUE(row) << c.code << " has no row at " << name_of(c.level);
  EXPECT_EQ(row->acts, c.side) << c.code << " acts " << name_of(row->acts) << " its limit, the test says "
                               << name_of(c.side);
  for (const int where : {-1, 0, 1}) {
    const double value = row->limit + where * c.step;
    const auto assessment = c.at(value);
    const bool want = acts(c.side, where);
    bool got = false;
    for (const auto& f : assessment.findings) got = got || (f.code == c.code && f.level <= c.level);
    EXPECT_EQ(got, want) << c.code << " " << name_of(c.level) << ": limit " << row->limit << ", value " << value << ", "
                         << (want ? "must act" : "must not act") << "; the assessment says\n"
                         << codes(assessment);
    if (want) {
      EXPECT_EQ(level_of(assessment, c.code), c.level) << c.code << " at " << value << "\n" << codes(assessment);
    }
  }
}

TEST_P(Limit, ActsOnItsSideOnly) { acts_on_its_side_only(GetParam()); }

// A night has 23 or 25 hours when the clocks change: every clock counts the hours gone by, not those on the wall.
TEST_P(Clock, CountsThroughAChangeOfTheClocks) {
  const LimitCase& c = GetParam();
  const auto rules = reference::rules_of(reference::built_in().span_rules, c.code);
  struct Restore {
    Zone zone = usual_zone();
    ~Restore() { usual_zone() = zone; }
  } restore;
  const Instant change = kNight + Span{rule_at(rules, c.level).limit} / 2;
  for (const auto& [from, to] : {std::pair{120, 60}, {60, 120}}) {
    usual_zone() = Zone{"Europe/Berlin", Minutes{from}, {{change, Minutes{to}, to == 60 ? "CET" : "CEST"}}};
    SCOPED_TRACE(from);
    acts_on_its_side_only(c);
  }
}

std::string title(const ::testing::TestParamInfo<LimitCase>& info) {
  return info.param.code + "_" + std::string(name_of(info.param.level));
}
std::vector<LimitCase> clock_cases() {
  auto out = all_cases();
  std::erase_if(
      out, [](const LimitCase& c) { return reference::rules_of(reference::built_in().span_rules, c.code).empty(); });
  return out;
}
INSTANTIATE_TEST_SUITE_P(Codes, Limit, ::testing::ValuesIn(all_cases()), title);
INSTANTIATE_TEST_SUITE_P(Codes, Clock, ::testing::ValuesIn(clock_cases()), title);

// A new rule, or a new level of an old one, without a case here fails.
TEST(Limits, EveryRowOfTheTablesHasACase) {
  using Key = std::pair<std::string, std::string>;
  std::set<Key> in_tables, tested;
  each_rule([&](const std::string& code, Level level, Row) { in_tables.emplace(code, name_of(level)); });
  for (const auto& c : all_cases())
    EXPECT_TRUE(tested.emplace(c.code, name_of(c.level)).second) << c.code << " has two cases";
  EXPECT_GT(in_tables.size(), 50U) << "the tables are empty: this test has lost its point";
  for (const auto& [code, level] : in_tables)
    EXPECT_TRUE(tested.count({code, level})) << "no case for " << code << " " << level;
  for (const auto& [code, level] : tested)
    EXPECT_TRUE(in_tables.count({code, level})) << "no row for " << code << " " << level;
}

}  // namespace
}  // namespace lampside::testing
