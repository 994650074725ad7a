// Labour, the dam afterwards, newborn scores.
#include "limits.hpp"

namespace lampside::testing {
namespace {

auto sign_for(Sign s) {
  return [s](double m) { return Story{}.sign(s, kNight).assess(kNight + minutes(m)); };
}
auto sign_after_a_pup(Sign s) {
  return [s](double m) {
    return Story{}.counted(5).born("1", kNight - minutes(1), 400).sign(s, kNight).assess(kNight + minutes(m));
  };
}
auto gap(bool straining) {
  return [=](double m) {
    Story s;
    s.counted(5).born("1", kNight, 400);
    if (straining) s.sign(Sign::weak_straining, kNight + minutes(1));
    return s.assess(kNight + minutes(m));
  };
}
auto long_labour(double m) { return Story{}.sign(Sign::weak_straining, kNight).assess(kNight + minutes(m)); }
auto dropped(double m) { return Story{}.temperature("dam", 37.3, kNight).assess(kNight + minutes(m)); }

const Cases clocks{
    {"STRONG_STRAINING", Level::act, kAtOrAbove, kOneMs, sign_for(Sign::strong_straining)},
    {"STRONG_STRAINING", Level::call_vet, kAtOrAbove, kOneMs, sign_for(Sign::strong_straining)},
    {"STRONG_STRAINING", Level::emergency, kAtOrAbove, kOneMs, sign_for(Sign::strong_straining)},
    {"WEAK_STRAINING", Level::call_vet, kAtOrAbove, kOneMs, sign_for(Sign::weak_straining)},
    {"WEAK_STRAINING", Level::emergency, kAtOrAbove, kOneMs, sign_for(Sign::weak_straining)},
    {"GAP_RESTING", Level::watch, kAtOrAbove, kOneMs, gap(false)},
    {"GAP_RESTING", Level::call_vet, kAtOrAbove, kOneMs, gap(false)},
    {"GAP_RESTING", Level::emergency, kAtOrAbove, kOneMs, gap(false)},
    {"GAP_STRAINING", Level::call_vet, kAtOrAbove, kOneMs, gap(true)},
    {"GAP_STRAINING", Level::emergency, kAtOrAbove, kOneMs, gap(true)},
    {"WATERS_NO_PUP", Level::act, kAtOrAbove, kOneMs, sign_for(Sign::waters)},
    {"WATERS_NO_PUP", Level::call_vet, kAtOrAbove, kOneMs, sign_for(Sign::waters)},
    {"WATERS_NO_PUP", Level::emergency, kAtOrAbove, kOneMs, sign_for(Sign::waters)},
    {"GREEN_BEFORE_FIRST", Level::call_vet, kAtOrAbove, kPastGrace, sign_for(Sign::green_discharge)},
    {"GREEN_BEFORE_FIRST", Level::emergency, kAtOrAbove, kOneMs, sign_for(Sign::green_discharge)},
    {"GREEN_BETWEEN", Level::note, kAtOrAbove, kPastGrace, sign_after_a_pup(Sign::green_discharge)},
    {"GREEN_BETWEEN", Level::call_vet, kAtOrAbove, kOneMs, sign_after_a_pup(Sign::green_discharge)},
    {"GREEN_BETWEEN", Level::emergency, kAtOrAbove, kOneMs, sign_after_a_pup(Sign::green_discharge)},
    {"GREEN_AFTER_COUNT", Level::watch, kAtOrAbove, kOneMs,
     [](double m) {
       return Story{}
           .counted(1)
           .born("1", kNight - minutes(1), 400)
           .sign(Sign::green_discharge, kNight)
           .assess(kNight + minutes(m));
     }},
    {"PUP_VISIBLE", Level::act, kAtOrAbove, kPastGrace, sign_for(Sign::pup_visible)},
    {"PUP_VISIBLE", Level::emergency, kAtOrAbove, kOneMs, sign_for(Sign::pup_visible)},
    {"FIRST_STAGE_LONG", Level::watch, kAtOrAbove, kOneMs, sign_for(Sign::panting)},
    {"FIRST_STAGE_LONG", Level::call_vet, kAtOrAbove, kOneMs, sign_for(Sign::panting)},
    {"LABOUR_LONG", Level::watch, kAtOrAbove, kOneMs, long_labour},
    {"LABOUR_LONG", Level::emergency, kAtOrAbove, kOneMs, long_labour},
    {"DROP_CLOCK", Level::call_vet, kAtOrAbove, kOneMs, dropped},
    {"DROP_CLOCK", Level::emergency, kAtOrAbove, kOneMs, dropped},
    {"PLACENTAS_SHORT", Level::watch, kAtOrAbove, kOneMs,
     [](double m) {
       return Story{}
           .born("1", kNight - minutes(40), 400)
           .tell(kNight - minutes(30), "", record::PlacentaPassed{})
           .born("2", kNight, 410)
           .assess(kNight + minutes(m));
     }},
};

/// She settled half an hour after the last pup; that sign is noted so many minutes after it.
auto after_the_last(Sign sign) {
  return [sign](double m) {
    return Story{}
        .counted(1)
        .born("1", kNight, 400)
        .sign(Sign::settled, kNight + minutes(30))
        .sign(sign, kNight + minutes(m))
        .assess(kNight + minutes(m) + minutes(1));
  };
}
const Cases after{
    {"GREEN_LATE", Level::watch, kAtOrAbove, 1, after_the_last(Sign::green_discharge)},
    {"GREEN_LATE", Level::call_vet, kAtOrAbove, 1, after_the_last(Sign::green_discharge)},
    {"APPETITE_LATE", Level::call_vet, kAtOrAbove, 1, after_the_last(Sign::off_food)},
    {"MILK_FEVER_SIGN", Level::call_vet, kAtOrAbove, 1, after_the_last(Sign::panting)},
    {"NEGLECT", Level::call_vet, kAtOrAbove, 1,
     [](double m) {
       return Story{}
           .counted(1)
           .born("1", kNight, 400)
           .sign(Sign::neglects_pups, kNight + minutes(m))
           .sign(Sign::settled, kNight + minutes(10))
           .assess(kNight + minutes(20));
     }},
    {"FLOW_LONG", Level::act, kAtOrAbove, kOneMinute,
     [](double d) {
       return Story{}.born("1", kNight - days(d), 400).sign(Sign::lochia, kNight).assess(kNight + minutes(1));
     }},
    {"DAM_NORMAL", Level::note, kAtOrBelow, kOneMinute,
     [](double d) {
       return Story{}.born("1", kNight - days(d), 400).sign(Sign::settled, kNight - days(d)).assess(kNight);
     }},
    {"FIRST_SUCKLE", Level::watch, kAtOrAbove, kOneMs,
     [](double m) { return Story{}.born("1", kNight, 400).assess(kNight + minutes(m)); }},
    {"FIRST_SUCKLE", Level::act, kAtOrAbove, kOneMs,
     [](double m) { return Story{}.born("1", kNight, 400).assess(kNight + minutes(m)); }},
    {"LABOUR_CARE", Level::note, kAtOrAbove, kOneMs, sign_for(Sign::weak_straining)},
};

/// A sign of illness noted n times in the last hours.
auto times(Sign s) {
  return [s](double n) {
    Story story;
    for (int i = 0; i < std::lround(n); ++i) story.sign(s, kNight - hours(1 + i));
    return story.assess(kNight);
  };
}
advice::Assessment stopped(double n) {
  Story story;
  story.counted(6).born("1", kNight - hours(5), 400);
  for (int i = 0; i < std::lround(n); ++i)
    story.sign(Sign::strong_straining, kNight - hours(3) + minutes(90 * i))
        .sign(Sign::straining_stopped, kNight - hours(3) + minutes(90 * i + 25));
  return story.assess(kNight);
}
/// n warning signs, each at the level of ringing the vet and none yet an emergency.
advice::Assessment flags(double n) {
  Story story;
  story.counted(6);
  if (n >= 1) story.sign(Sign::strong_straining, kNight - minutes(40));
  if (n >= 2) story.sign(Sign::waters, kNight - minutes(70));
  if (n >= 3) story.sign(Sign::green_discharge, kNight - minutes(5));
  return story.assess(kNight);
}
advice::Assessment short_by(double n) {
  Story story;
  story.counted(2 + static_cast<int>(std::lround(n)))
      .born("1", kNight - hours(3), 400)
      .born("2", kNight - hours(2), 400);
  return story.sign(Sign::settled, kNight - hours(1)).assess(kNight);
}
advice::Assessment scored(double total) {
  return Story{}
      .born("1", kNight - hours(1), 400)
      .scored("1", static_cast<int>(std::lround(total)), kNight - minutes(30))
      .assess(kNight);
}

auto pup_times(Sign s) {
  return [s](double n) {
    Story story;
    story.born("1", kNight - days(2), 400);
    for (int i = 0; i < std::lround(n); ++i) story.tell(kNight - hours(1 + i), "1", record::SignSeen{s});
    return story.assess(kNight);
  };
}
advice::Assessment dam_dead(double n) {
  Story story;
  story.born("1", kNight - days(2), 400);
  if (n >= 1) story.tell(kNight - hours(1), "dam", record::Death{});
  return story.assess(kNight);
}

const Cases counts{
    {"PUP_COLLAPSE", Level::emergency, kAtOrAbove, 1, pup_times(Sign::collapse)},
    {"PUP_ILL", Level::call_vet, kAtOrAbove, 1, pup_times(Sign::off_food)},
    {"DAM_DIED", Level::emergency, kAtOrAbove, 1, dam_dead},
    {"PUPS_ORPHANED", Level::act, kAtOrAbove, 1, dam_dead},
    {"SIGN_COLLAPSE", Level::emergency, kAtOrAbove, 1, times(Sign::collapse)},
    {"SIGN_TWITCHING", Level::emergency, kAtOrAbove, 1, times(Sign::twitching)},
    {"SIGN_FOUL_DISCHARGE", Level::emergency, kAtOrAbove, 1, times(Sign::foul_discharge)},
    {"SIGN_BLEEDING", Level::call_vet, kAtOrAbove, 1, times(Sign::bleeding)},
    {"SIGN_HARD_HOT_TEAT", Level::call_vet, kAtOrAbove, 1, times(Sign::hard_hot_teat)},
    {"REPEATED_VOMITING", Level::call_vet, kAtOrAbove, 1, times(Sign::vomiting)},
    {"STOPPED_STRAINING", Level::call_vet, kAtOrAbove, 1, stopped},
    {"TWO_FLAGS", Level::emergency, kAtOrAbove, 1, flags},
    {"COUNT_SHORT", Level::call_vet, kAtOrAbove, 1, short_by},
    {"SCORE_SEVERE", Level::emergency, kAtOrBelow, 1, scored},
    {"SCORE_MODERATE", Level::act, kAtOrBelow, 1, scored},
};

auto before_whelping(double c) { return Story{}.temperature("dam", c, kNight - hours(1)).assess(kNight); }
auto after_whelping(double c) {
  return Story{}
      .born("1", kNight - hours(30), 400)
      .sign(Sign::settled, kNight - hours(28))
      .temperature("dam", c, kNight - hours(1))
      .assess(kNight);
}

const Cases dam{
    {"DAM_TEMP_DROP", Level::watch, kAtOrBelow, kHundredth, before_whelping},
    {"DAM_UNDER_100F", Level::note, kBelow, kHundredth, before_whelping},
    {"DAM_TEMP_LOW", Level::act, kBelow, kHundredth, before_whelping},
    {"DAM_TEMP_LOW_AFTER", Level::watch, kBelow, kHundredth, after_whelping},
    {"DAM_WARM", Level::watch, kAbove, kHundredth, after_whelping},
    {"DAM_FEVER", Level::call_vet, kAtOrAbove, kHundredth, after_whelping},
    {"DROP_RETURNED", Level::call_vet, kAtOrAbove, kHundredth,
     [](double c) {
       return Story{}
           .temperature("dam", 37.2, kNight - hours(8))
           .temperature("dam", c, kNight - hours(1))
           .assess(kNight);
     }},
};

}  // namespace
}  // namespace lampside::testing
