// Every rule: its code, its limits in order, its words, and which side it acts on.
#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <map>
#include <set>
#include <string>
#include <variant>

#include "reference/rules.hpp"
#include "reference/tables.hpp"

namespace lampside::reference {
namespace {

/// Calls `f(rule)` for the rows of every rule table.
template <class F>
void each_rule(F f) {
  const auto& r = built_in();
  for (const auto& rule : r.span_rules) f(rule);
  for (const auto& rule : r.temperature_rules) f(rule);
  for (const auto& rule : r.percent_rules) f(rule);
  for (const auto& rule : r.day_rules) f(rule);
  for (const auto& rule : r.count_rules) f(rule);
}

bool blank(std::string_view s) { return s.find_first_not_of(' ') == std::string_view::npos; }

// The permanent list: code, then each level with its limit. A change here is a change of what keepers are told.
using Levels = std::map<std::string, double>;
const std::map<std::string, Levels> kCodes{
    {"STRONG_STRAINING", {{"act", 20}, {"call_vet", 30}, {"emergency", 60}}},
    {"WEAK_STRAINING", {{"call_vet", 120}, {"emergency", 240}}},
    {"GAP_RESTING", {{"watch", 60}, {"call_vet", 120}, {"emergency", 240}}},
    {"GAP_STRAINING", {{"call_vet", 60}, {"emergency", 120}}},
    {"WATERS_NO_PUP", {{"act", 30}, {"call_vet", 60}, {"emergency", 120}}},
    {"GREEN_BEFORE_FIRST", {{"call_vet", 0}, {"emergency", 30}}},
    {"GREEN_BETWEEN", {{"note", 0}, {"call_vet", 60}, {"emergency", 120}}},
    {"GREEN_AFTER_COUNT", {{"watch", 60}}},
    {"DROP_CLOCK", {{"call_vet", 1440}, {"emergency", 2160}}},
    {"LABOUR_LONG", {{"watch", 720}, {"emergency", 1440}}},
    {"FIRST_STAGE_LONG", {{"watch", 480}, {"call_vet", 720}}},
    {"PUP_VISIBLE", {{"act", 0}, {"emergency", 10}}},
    {"WEIGH_LATE", {{"act", 2160}}},
    {"FIRST_WEIGHT_LATE", {{"act", 720}}},
    {"DAM_TEMP_OLD", {{"note", 720}}},
    {"BOX_READING_OLD", {{"note", 720}}},
    {"SENSOR_SILENT", {{"watch", 30}, {"act", 60}}},
    {"SENSOR_STUCK", {{"watch", 360}}},
    {"SENSOR_BROKER", {{"watch", 1}}},
    {"SENSOR_CLOCK", {{"note", 10}}},
    {"SENSOR_UNUSABLE", {{"watch", 1}}},
    {"PLACENTAS_SHORT", {{"watch", 360}}},
    {"DAM_TEMP_DROP", {{"watch", 37.5}}},
    {"DAM_UNDER_100F", {{"note", 37.7778}}},
    {"DROP_RETURNED", {{"call_vet", 37.7778}}},
    {"DAM_TEMP_LOW", {{"act", 36.2}}},
    {"DAM_TEMP_LOW_AFTER", {{"watch", 37.2}}},
    {"DAM_WARM", {{"watch", 39.2}}},
    {"DAM_FEVER", {{"call_vet", 39.4}}},
    {"PUP_COLD_TO_7D", {{"act", 35.0}}},
    {"PUP_COLD_TO_21D", {{"act", 36.0}}},
    {"PUP_COLD_TO_30D", {{"act", 37.0}}},
    {"PUP_VERY_COLD", {{"call_vet", 32.2}, {"emergency", 31.0}}},
    {"PUP_HOT_TO_14D", {{"watch", 37.2222}}},
    {"PUP_HOT_TO_28D", {{"watch", 37.8}}},
    {"PUP_FEVER", {{"call_vet", 39.4444}}},
    {"LOSS_TWO_DAYS", {{"act", -4}}},
    {"LOSS_TEN", {{"call_vet", -10}}},
    {"NO_GAIN", {{"act", 0}}},
    {"SLOW_GAIN_WEEK1", {{"watch", 5}}},
    {"SLOW_GAIN_WEEKS2_4", {{"watch", 3.5}}},
    {"LIGHT_IN_LITTER", {{"act", -25}}},
    {"WEIGHT_JUMP", {{"act", 10}}},
    {"DOSE_TWICE", {{"act", 2}}},
    {"DOSE_TWO_WORMERS", {{"act", 2}}},
    {"DOSE_ANTAGONISTS", {{"act", 1}}},
    {"DOSE_UNDER_FLOOR", {{"call_vet", 1}}},
    {"DOSE_NOT_CHECKED", {{"note", 1}}},
    {"DOSE_UNDER", {{"watch", -10}}},
    {"DOSE_OVER", {{"act", 0}, {"call_vet", 100}}},
    {"LABEL_STRENGTH", {{"act", 1}}},
    {"LABEL_EXPIRED", {{"watch", 0}}},
    {"PACE_SLOW", {{"watch", 50}, {"act", 65}}},
    {"READING_DOUBTED", {{"act", 1}}},
    {"OVERDUE_MATING", {{"watch", 65}, {"call_vet", 70}}},
    {"OVERDUE_OVULATION", {{"watch", 64}, {"call_vet", 65}}},
    {"OVERDUE_LH", {{"call_vet", 67}}},
    {"OVERDUE_DIOESTRUS", {{"call_vet", 60}}},
    {"OVERDUE_PROGESTERONE", {{"call_vet", 67}}},
    {"OVERDUE_SCAN", {{"call_vet", 2}}},
    {"LABOUR_EARLY", {{"call_vet", 56}}},
    {"LABOUR_EARLY_OVULATION", {{"call_vet", 57}}},
    {"LABOUR_EARLY_LH", {{"call_vet", 59}}},
    {"LABOUR_EARLY_DIOESTRUS", {{"call_vet", 54}}},
    {"DOUBLING_LATE", {{"watch", 14}, {"act", 21}}},
    {"BOX_READY", {{"note", 14}}},
    {"SUPPLIES_UNCHECKED", {{"watch", 14}}},
    {"SUPPLIES_MISSING", {{"watch", 14}, {"act", 7}}},
    {"SUPPLIES_UNTRIED", {{"watch", 14}, {"act", 3}}},
    {"SUPPLIES_SHORT", {{"watch", 1}}},
    {"SUPPLIES_EXPIRED", {{"watch", 1}}},
    {"LAMP_UNGUARDED", {{"act", 1}}},
    {"TEATS_TOO_FEW", {{"watch", 1}}},
    {"TURNS_IMPOSSIBLE", {{"act", 1}}},
    {"CALCIUM_BEFORE_WHELPING", {{"act", 1}}},
    {"MILK_SHORT", {{"watch", 10}}},
    {"DAM_LOSS", {{"watch", -5}, {"act", -10}}},
    {"DAM_EATS_LITTLE", {{"watch", -25}}},
    {"PUP_PICKED_TWICE", {{"act", 2}}},
    {"PICK_OUT_OF_TURN", {{"watch", 1}}},
    {"FAMILIES_IN_VAIN", {{"note", 1}}},
    {"SIGN_COLLAPSE", {{"emergency", 1}}},
    {"SIGN_TWITCHING", {{"emergency", 1}}},
    {"SIGN_FOUL_DISCHARGE", {{"emergency", 1}}},
    {"SIGN_BLEEDING", {{"call_vet", 1}}},
    {"REPEATED_VOMITING", {{"call_vet", 2}}},
    {"SIGN_HARD_HOT_TEAT", {{"call_vet", 1}}},
    {"STOPPED_STRAINING", {{"call_vet", 1}}},
    {"TWO_FLAGS", {{"emergency", 2}}},
    {"COUNT_SHORT", {{"call_vet", 1}}},
    {"SCORE_SEVERE", {{"emergency", 3}}},
    {"SCORE_MODERATE", {{"act", 6}}},
    {"FIRST_SUCKLE", {{"watch", 120}, {"act", 240}}},
    {"LABOUR_CARE", {{"note", 60}}},
    {"GREEN_LATE", {{"watch", 1440}, {"call_vet", 2880}}},
    {"APPETITE_LATE", {{"call_vet", 1440}}},
    {"NEGLECT", {{"call_vet", 0}}},
    {"MILK_FEVER_SIGN", {{"call_vet", 1440}}},
    {"FLOW_LONG", {{"act", 42}}},
    {"DAM_NORMAL", {{"note", 14}}},
    {"PUP_COLLAPSE", {{"emergency", 1}}},
    {"PUP_ILL", {{"call_vet", 1}}},
    {"DAM_DIED", {{"emergency", 1}}},
    {"PUPS_ORPHANED", {{"act", 1}}},
    {"BIRTH_VERY_LOW", {{"call_vet", 1}}},
    {"BIRTH_LOW", {{"note", 1}}},
    {"BASKET_COLD", {{"act", 1}}},
    {"BASKET_HOT", {{"act", 1}}},
    {"BOX_COLD", {{"act", 1}}},
    {"BOX_HOT", {{"act", 1}}},
    {"SCALE_TOO_COARSE", {{"watch", 1}, {"act", 10}}},
    {"MISFIT", {{"act", 1}}},
    {"FUTURE_ENTRY", {{"act", 1}}},
    {"NO_DUE_DATE", {{"note", 1}}},
    {"DUE_WINDOW", {{"note", 1}}},
    {"VET_NUMBER_MISSING", {{"act", 7}}},
    {"SEVERAL_SLOW", {{"call_vet", 2}}},
    {"LEFT_TOO_YOUNG", {{"act", 56}}},
    {"LAMP_CLOSE", {{"act", 1}}},
    {"LAMP_STRONG", {{"act", 1}}},
    {"LAMP_UNREAD", {{"act", 30}}},
    {"PUPS_PILED", {{"act", 1}}},
    {"PUPS_SPREAD", {{"act", 1}}},
    {"REWARM_FAST", {{"act", 1}}},
    {"REWARM_HARM", {{"call_vet", 1}}},
    {"MAT_HOT", {{"watch", 31}, {"act", 36}}},
    {"FEED_DUE", {{"watch", 0}, {"act", 60}}},
    {"FEED_TAUT", {{"act", 0}, {"call_vet", 120}}},
    {"FEED_COLD", {{"act", 1}}},
    {"FEED_NO_SUCK", {{"call_vet", 1}}},
    {"FEED_LOOSE", {{"call_vet", 1}}},
    {"FEED_TUBE", {{"act", 1}}},
    {"FEED_UNKNOWN", {{"act", 1}}},
    {"FEED_TOO_MUCH", {{"watch", 100}, {"act", 125}}},
    {"FED_OVER", {{"act", 100}}},
    {"FED_SHORT", {{"watch", 90}}},
    {"CHIP_DIFFERS", {{"act", 1}}},
    {"HANDOVER_OPEN", {{"watch", 1}}},
    {"PICTURES_MISSING", {{"note", 1}}},
    {"FOLLOW_UP_DUE", {{"note", 14}}},
    {"CARE_OVERDUE", {{"act", 1}}},
    {"CARE_LAST_DAY", {{"act", 1}}},
    {"CARE_OPEN", {{"watch", 1}}},
    {"CARE_SOON", {{"note", 1}}},
    {"CARE_TOO_EARLY", {{"act", 1}}},
    {"CHIP_WRONG", {{"act", 1}}},
    {"CHIP_ODD", {{"watch", 1}}},
    {"WOUND_BLEEDING", {{"call_vet", 1}}},
    {"WOUND_INFLAMED", {{"call_vet", 1}}},
};

TEST(Rules, EveryCodeHasItsLevelsAtItsLimits) {
  std::map<std::string, Levels> got;
  each_rule([&](const auto& rule) {
    got[std::string(rule.code)][std::string(name_of(rule.level))] = plain_number(rule.limit);
  });
  for (const auto& [code, levels] : kCodes) {
    ASSERT_TRUE(got.count(code)) << code << " is missing";
    EXPECT_EQ(got[code].size(), levels.size()) << code;
    for (const auto& [level, limit] : levels) {
      ASSERT_TRUE(got[code].count(level)) << code << " " << level << " is missing";
      EXPECT_NEAR(got[code][level], limit, 0.0001) << code << " " << level;
    }
  }
  for (const auto& [code, levels] : got) EXPECT_TRUE(kCodes.count(code)) << code << " is not on the permanent list";
}

TEST(Rules, EveryRowSaysEverything) {
  int rows = 0;
  each_rule([&](const auto& rule) {
    ++rows;
    EXPECT_FALSE(blank(rule.words.headline)) << rule.code;
    EXPECT_FALSE(blank(rule.words.professional)) << rule.code;
    EXPECT_FALSE(blank(rule.words.why)) << rule.code;
    EXPECT_FALSE(blank(rule.words.do_now)) << rule.code;
    EXPECT_FALSE(blank(rule.source.work)) << rule.code;
    EXPECT_FALSE(blank(rule.source.locator)) << rule.code;
    EXPECT_LE(rule.words.headline.size(), 70U) << rule.code << ": " << rule.words.headline;
  });
  EXPECT_GT(rows, 80);
}

// Never reassure where a rule says call: a row at the level of the vet tells the keeper to ring or go.
TEST(Rules, ARowThatCallsTheVetSaysSo) {
  each_rule([&](const auto& rule) {
    if (rule.level != Level::call_vet && rule.level != Level::emergency) return;
    const std::string said = std::string(rule.words.headline) + " " + std::string(rule.words.do_now);
    EXPECT_TRUE(said.find("ing your vet") != std::string::npos ||
                said.find("ing and go to the vet") != std::string::npos)
        << rule.code << ": " << said;
  });
}

TEST(Rules, WorseRowsLieFurtherOut) {
  const auto sorted = [](const auto& rules) {
    for (std::size_t i = 1; i < rules.size(); ++i) {
      const auto &before = rules[i - 1], &rule = rules[i];
      if (before.code != rule.code) continue;
      EXPECT_LT(rule.level, before.level) << rule.code << ": the next row must be worse";
      if (rule.acts == Side::below || rule.acts == Side::at_or_below)
        EXPECT_LT(plain_number(rule.limit), plain_number(before.limit)) << rule.code;
      else
        EXPECT_GT(plain_number(rule.limit), plain_number(before.limit)) << rule.code;
    }
  };
  const auto& r = built_in();
  sorted(r.span_rules);
  sorted(r.temperature_rules);
  sorted(r.percent_rules);
  sorted(r.day_rules);
  sorted(r.count_rules);
}

TEST(Rules, EachActsOnItsSideAtJustBelowAndJustAbove) {
  const auto one = [](auto rules, std::string_view code) { return *rules_of(rules, code).front(); };
  const auto& r = built_in();
  struct Case {
    std::string_view code;
    double below, at, above;  ///< 1 where the rule must act
  };
  for (const auto& c : {Case{"DAM_TEMP_DROP", 1, 1, 0}, Case{"DAM_TEMP_LOW", 1, 0, 0}, Case{"DAM_WARM", 0, 0, 1},
                        Case{"DAM_FEVER", 0, 1, 1}, Case{"PUP_COLD_TO_7D", 1, 0, 0}, Case{"PUP_HOT_TO_14D", 0, 0, 1}}) {
    const auto rule = one(r.temperature_rules, c.code);
    const double limit = rule.limit.count();
    EXPECT_EQ(reached(rule, Celsius{limit - 1e-6}), c.below == 1) << c.code;
    EXPECT_EQ(reached(rule, rule.limit), c.at == 1) << c.code;
    EXPECT_EQ(reached(rule, Celsius{limit + 1e-6}), c.above == 1) << c.code;
    EXPECT_FALSE(reached(rule, Celsius{std::numeric_limits<double>::quiet_NaN()})) << c.code;
  }
  // Mila et al. 2015: growth of -4 % or less.
  const auto loss = one(r.percent_rules, "LOSS_TWO_DAYS");
  EXPECT_TRUE(reached(loss, Percent{-4.0}));
  EXPECT_TRUE(reached(loss, Percent{-4.1}));
  EXPECT_FALSE(reached(loss, Percent{-3.9}));
  EXPECT_FALSE(reached(loss, Percent{4.1}));
  // The dust of sums does not hide a loss of exactly a tenth; a pup exactly at its limit is not below it.
  ASSERT_NE(percent_change(Grams{400}, Grams{360}), Percent{-10.0}) << "no dust: this test has lost its point";
  EXPECT_TRUE(reached(one(r.percent_rules, "LOSS_TEN"), percent_change(Grams{400}, Grams{360})));
  EXPECT_FALSE(reached(one(r.temperature_rules, "PUP_COLD_TO_21D"), from_fahrenheit(96.8)));
  EXPECT_TRUE(reached(one(r.temperature_rules, "PUP_COLD_TO_21D"), from_fahrenheit(96.7)));
  // A pup at the printed upper end is not too hot, in either unit (Small Animal Clinical Nutrition, Table 16-1).
  for (const auto c : {Celsius{37.2}, from_fahrenheit(99)})
    EXPECT_FALSE(reached(one(r.temperature_rules, "PUP_HOT_TO_14D"), c));
  for (const auto c : {Celsius{37.8}, from_fahrenheit(100)})
    EXPECT_FALSE(reached(one(r.temperature_rules, "PUP_HOT_TO_28D"), c));
  // A reading of exactly 100 °F is not under 100 °F, however it is rounded.
  const auto under = one(r.temperature_rules, "DAM_UNDER_100F");
  EXPECT_FALSE(reached(under, from_fahrenheit(100)));
  EXPECT_TRUE(reached(under, from_fahrenheit(99.9)));
}

TEST(Rules, TheWorstRowReachedIsFound) {
  const auto& r = built_in();
  EXPECT_EQ(worst_reached(r.span_rules, "STRONG_STRAINING", Minutes{19}), nullptr);
  EXPECT_EQ(worst_reached(r.span_rules, "STRONG_STRAINING", Minutes{20})->level, Level::act);
  EXPECT_EQ(worst_reached(r.span_rules, "STRONG_STRAINING", Minutes{59})->level, Level::call_vet);
  EXPECT_EQ(worst_reached(r.span_rules, "STRONG_STRAINING", Minutes{60})->level, Level::emergency);
  EXPECT_EQ(worst_reached(r.temperature_rules, "PUP_VERY_COLD", Celsius{31.5})->level, Level::call_vet);
  EXPECT_EQ(worst_reached(r.temperature_rules, "PUP_VERY_COLD", Celsius{30.9})->level, Level::emergency);
}

TEST(Tables, NoneIsEmptyAndEveryRowHasASource) {
  const auto& r = built_in();
  const auto sourced = [](const auto& rows, const char* name) {
    EXPECT_FALSE(rows.empty()) << name;
    for (const auto& row : rows) EXPECT_FALSE(blank(row.source.work) || blank(row.source.locator)) << name;
  };
  sourced(r.due_intervals, "due_intervals");
  sourced(r.care_sets, "care_sets");
  sourced(r.care_tasks, "care_tasks");
  sourced(r.laws, "laws");
  sourced(r.record_fields, "record_fields");
  sourced(r.temperature_course, "temperature_course");
  sourced(r.score_criteria, "score_criteria");
  sourced(r.score_bands, "score_bands");
  sourced(r.birth_weights, "birth_weights");
  sourced(r.box_temperatures, "box_temperatures");
  sourced(r.rectal_temperatures, "rectal_temperatures");
  sourced(r.strengths, "strengths");
  sourced(r.behaviour_checks, "behaviour_checks");
  sourced(r.behaviour_bands, "behaviour_bands");
  sourced(r.span_rules, "span_rules");
  sourced(r.temperature_rules, "temperature_rules");
  sourced(r.percent_rules, "percent_rules");
  sourced(r.day_rules, "day_rules");
  sourced(r.count_rules, "count_rules");
  sourced(r.dissents, "dissents");
  sourced(r.delay_figures, "delay_figures");
  sourced(r.published_limits, "published_limits");
}

TEST(Tables, EveryDissentSpeaksToAKnownCode) {
  for (const auto& d : built_in().dissents) EXPECT_TRUE(kCodes.count(std::string(d.code))) << d.code;
  for (const auto& d : built_in().delay_figures) EXPECT_TRUE(kCodes.count(std::string(d.code))) << d.code;
}

TEST(Names, OneForEachValue) {
  EXPECT_EQ(name_of(Standing::published), "published");
  EXPECT_EQ(name_of(Standing::secondary), "secondary");
  EXPECT_EQ(name_of(Standing::common_practice), "common practice, no source");
  EXPECT_EQ(name_of(Standing::from_memory), "from memory");
  EXPECT_EQ(name_of(Level::call_vet), "call_vet");
  EXPECT_EQ(name_of(Level::emergency), "emergency");
}

}  // namespace
}  // namespace lampside::reference
