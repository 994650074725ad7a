// How long each finding stands where nothing new is recorded: the windows that the code, not a table, sets.
#include <gtest/gtest.h>

#include "story.hpp"

namespace lampside::testing {
namespace {

struct Window {
  const char* code;
  Span from, until;  ///< since kNight: told from `from` on, no longer at `until`
  Story story;
};

std::vector<Window> windows() {
  const auto pup = [] { return Story{}.breed("Golden Retriever").born("1", kNight, 170); };
  const auto sign = [](Sign s) { return Story{}.sign(s, kNight); };
  return {
      {"BIRTH_VERY_LOW", Span{0}, days(21), pup()},
      {"BIRTH_LOW", Span{0}, days(2), Story{}.breed("Golden Retriever").born("1", kNight, 400)},
      {"LIGHT_IN_LITTER", Span{0}, days(7),
       Story{}.born("1", kNight, 200).born("2", kNight, 400).born("3", kNight, 400)},
      {"WEIGH_LATE", hours(36), days(21), pup()},
      {"BOX_READING_OLD", Span{0}, days(14), pup()},
      {"SIGN_COLLAPSE", Span{0}, hours(24), sign(Sign::collapse)},
      {"SIGN_TWITCHING", Span{0}, hours(24), sign(Sign::twitching)},
      {"SIGN_FOUL_DISCHARGE", Span{0}, hours(24), sign(Sign::foul_discharge)},
      {"SIGN_BLEEDING", Span{0}, hours(24), sign(Sign::bleeding)},
      {"SIGN_HARD_HOT_TEAT", Span{0}, hours(48), sign(Sign::hard_hot_teat)},
      {"DAM_FEVER", Span{0}, hours(24), Story{}.temperature("dam", 40, kNight)},
      {"DAM_TEMP_LOW", Span{0}, hours(24), Story{}.temperature("dam", 35, kNight)},
      {"PUP_VERY_COLD", Span{0}, hours(6), pup().temperature("1", 30, kNight)},
      {"PUP_COLLAPSE", Span{0}, hours(24), pup().tell(kNight, "1", record::SignSeen{Sign::collapse})},
      {"PUP_ILL", Span{0}, hours(24), pup().tell(kNight, "1", record::SignSeen{Sign::off_food})},
      {"DAM_DIED", Span{0}, hours(24), pup().tell(kNight, "dam", record::Death{})},
      {"PLACENTAS_SHORT", hours(6), hours(48),
       Story{}
           .born("1", kNight - minutes(30), 400)
           .tell(kNight - minutes(20), "", record::PlacentaPassed{})
           .born("2", kNight, 400)},
      {"COUNT_SHORT", hours(1), hours(72),
       Story{}.counted(3).born("1", kNight, 400).sign(Sign::settled, kNight + hours(1))},
  };
}

TEST(Windows, EachOpensAndClosesToTheMillisecond) {
  for (const auto& w : windows()) {
    const auto told = [&](Span after) { return find(w.story.assess(kNight + after), w.code) != nullptr; };
    EXPECT_TRUE(told(w.from)) << w.code << " at its opening";
    // What opens with an entry opens two minutes before it: the phone that wrote it may have a fast clock.
    const bool by_entry = w.from == Span{0} || std::string_view(w.code) == "COUNT_SHORT";
    EXPECT_FALSE(told(w.from - (by_entry ? minutes(2) : Span{0}) - Span{1})) << w.code << " before its opening";
    EXPECT_TRUE(told(w.until - Span{1})) << w.code << " at its end";
    EXPECT_FALSE(told(w.until)) << w.code << " after its end";
  }
}

// A gain is judged from day 2 to day 28, a loss since birth in the first week.
TEST(Windows, AgesOfTheWeightRules) {
  const auto standing_still = [](double age_days) {
    return Story{}
        .born("1", kNight)
        .weighed("1", 700, kNight + days(age_days) - hours(13))
        .weighed("1", 700, kNight + days(age_days));
  };
  const auto told = [&](double d) { return find(standing_still(d).assess(kNight + days(d)), "NO_GAIN") != nullptr; };
  EXPECT_FALSE(told(1.999));
  EXPECT_TRUE(told(2));
  EXPECT_TRUE(told(27.999));
  EXPECT_FALSE(told(28));
}

}  // namespace
}  // namespace lampside::testing
