// What must hold of every litter, whatever happened.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <random>

#include "any_litter.hpp"
#include "told.hpp"

namespace lampside::testing {
namespace {

Level worst(const advice::Assessment& a, const std::vector<std::string_view>& but = {}) {
  Level out = Level::note;
  for (const auto& f : a.findings)
    if (std::find(but.begin(), but.end(), f.code) == but.end()) out = std::min(out, f.level);
  return out;
}

RC_GTEST_PROP(Assess, SameAnswerForTheSameLitterInAnyOrderOfArrival, ()) {
  const Story story = any_litter();
  Story shuffled = story;
  std::mt19937 random(*rc::gen::arbitrary<unsigned>());
  std::shuffle(shuffled.entries().begin(), shuffled.entries().end(), random);
  const auto want = told(story.assess(kNight));
  RC_ASSERT(told(story.assess(kNight)) == want);
  RC_ASSERT(told(shuffled.assess(kNight)) == want);
}

// What is kept of one assessment for the next must not be seen in any: neither going on, nor back, nor at the very
// moment at which a course ends.
RC_GTEST_PROP(Assess, WhatIsKeptFromBeforeChangesNoAnswer, ()) {
  Story story = any_litter();
  // Enough rounds to have a course, and readings that cannot be right among them.
  const Instant born = kNight - hours(24 * 12);
  for (int i = 1; i <= 3; ++i) story.born(fmt::format("w{}", i), born + minutes(20 * i), 400 + 10 * i);
  const int rounds = *rc::gen::inRange(0, 16);
  for (int round = 1; round <= rounds; ++round)
    for (int i = 1; i <= 3; ++i)
      story.weighed(fmt::format("w{}", i), (400 + 20 * round + 10 * i) * (*rc::gen::inRange(0, 12) == 0 ? 10 : 1),
                    born + hours(24 * round));
  const auto litter = story.litter();
  advice::Kept kept;
  Instant now = kNight + hours(*rc::gen::inRange(-500, 500));
  for (int i = 0; i < 8; ++i) {
    const auto with = advice::assess(litter, reference::built_in(), now, kept);
    RC_ASSERT(told(with) == told(advice::assess(litter, reference::built_in(), now)));
    const auto& course = kept.course;
    switch (*rc::gen::inRange(0, 4)) {
      case 0:
        if (course && course->until < Instant::max()) now = course->until;
        break;
      case 1:
        if (course && course->until < Instant::max()) now = course->until - Span{1};
        break;
      case 2:
        if (course && course->from > Instant::min()) now = course->from - Span{*rc::gen::inRange(0, 2)};
        break;
      default:
        now += minutes(*rc::gen::inRange(-3000, 9000));
    }
  }
}

RC_GTEST_PROP(Assess, ReadingsDatedAfterNowChangeNothingButFutureEntry, ()) {
  const Story story = any_litter();
  Story more = story;
  const int n = *rc::gen::inRange(1, 5);
  for (int i = 0; i < n; ++i) {
    tell_any(more, kNight + Span{*rc::gen::inRange(120'001, 100'000'000)});
    auto& late = more.entries().back();
    if (record::body_as<record::Birth>(late)) late.about = "not yet born";
    // An id of its own: the litter may hold a correction of an id that is not there yet, which is a misfit until it is.
    late.id = fmt::format("ffffffff-0000-4000-8000-{:012x}", i);
  }
  const auto a = story.assess(kNight), b = more.assess(kNight);
  if (const auto x = told(a, "FUTURE_ENTRY"), y = told(b, "FUTURE_ENTRY"); x != y) RC_FAIL(x + "\nbecame\n" + y);
  const auto future = [](const auto& x) {
    return std::count_if(x.findings.begin(), x.findings.end(), [](const auto& f) { return f.code == "FUTURE_ENTRY"; });
  };
  RC_ASSERT(future(b) == future(a) + n);
}

RC_GTEST_PROP(Assess, EveryNumberIsANumber, ()) {
  const auto check = [](const Story& story, Instant now) {
    const auto a = story.assess(now);
    each_number(a, [](std::string_view name, double n) {
      if (!std::isfinite(n)) RC_FAIL(fmt::format("{} is {}", name, n));
    });
    for (const auto& f : a.findings) {
      RC_ASSERT(f.because.find("nan") == std::string::npos || f.because.find("tenant") != std::string::npos);
      RC_ASSERT(f.because.find("inf ") == std::string::npos);
    }
  };
  check(any_litter(), kNight + hours(*rc::gen::inRange(-48, 2000)));
  check(any_night(), kNight + hours(*rc::gen::inRange(-48, 2000)));
}

RC_GTEST_PROP(Assess, EveryFindingSaysAllAndTheWorstStandsFirst, ()) {
  const auto a = (*rc::gen::arbitrary<bool>() ? any_litter() : any_night()).assess(kNight);
  for (const auto& f : a.findings)
    for (const std::string_view text :
         {std::string_view(f.code), std::string_view(f.about), std::string_view(f.headline),
          std::string_view(f.because), std::string_view(f.why), std::string_view(f.do_now),
          std::string_view(f.professional), f.source.work, f.source.locator})
      if (text.find_first_not_of(' ') == std::string_view::npos) RC_FAIL(f.code + " leaves a text empty");
  RC_ASSERT(std::is_sorted(a.findings.begin(), a.findings.end(), [](const auto& x, const auto& y) {
    // A cold pup is warmed before anything else of its level.
    const auto rank = [](const auto& f) {
      return std::tuple{f.level, !f.code.starts_with("PUP_COLD"), f.since.value_or(Instant::max())};
    };
    return rank(x) < rank(y);
  }));
  for (const auto& p : a.pups)
    for (const auto& f : a.findings)
      if (f.about == p.label) RC_ASSERT(p.level <= f.level);
}

// The clocks of labour run one way: while nothing new is recorded, no level of theirs grows milder until labour is
// over.
RC_GTEST_PROP(Night, NoClockGrowsMilderWhileNothingIsRecorded, ()) {
  const Story story = any_night();
  const auto litter = story.litter();
  const Instant first = kNight + minutes(*rc::gen::inRange(0, 600)),
                second = first + minutes(*rc::gen::inRange(0, 1200));
  const auto a = advice::assess(litter, reference::built_in(), first),
             b = advice::assess(litter, reference::built_in(), second);
  if (b.whelping.stage == whelping::Stage::done) return;
  // Straining is told once: by its strong clock, by its weak one, or that it stopped.
  const auto straining = [](const auto& x) {
    Level out = Level::note;
    for (const auto code : {"STRONG_STRAINING", "WEAK_STRAINING", "STOPPED_STRAINING"})
      out = std::min(out, level_of(x, code).value_or(Level::note));
    return out;
  };
  RC_ASSERT(straining(b) <= straining(a));
  constexpr std::string_view kClocks[] = {"GAP_RESTING",        "GAP_STRAINING", "WATERS_NO_PUP",
                                          "GREEN_BEFORE_FIRST", "GREEN_BETWEEN", "PUP_VISIBLE",
                                          "FIRST_STAGE_LONG",   "LABOUR_LONG",   "DROP_CLOCK"};
  bool red = straining(a) == Level::emergency, still_red = straining(b) == Level::emergency;
  for (const auto code : kClocks) {
    const auto was = level_of(a, code), is = level_of(b, code);
    if (was && (!is || *is > *was)) {
      if (code == "FIRST_STAGE_LONG" && second > kNight + hours(18))
        continue;  // its signs are of the last two days only
      RC_FAIL(fmt::format("{} was {} at {} and is {} at {}", code, name_of(*was), to_iso(Stamp{first}),
                          is ? name_of(*is) : "gone", to_iso(Stamp{second})));
    }
    red = red || was == Level::emergency;
    still_red = still_red || is == Level::emergency;
  }
  red = red || find(a, "TWO_FLAGS");
  still_red = still_red || find(b, "TWO_FLAGS");
  RC_ASSERT(!red || still_red);
}

// Labour under way ends the flags that wait for it: that it has not begun, or seemed over with pups missing.
const std::vector<std::string_view> kWaiting{"DROP_CLOCK",     "DROP_RETURNED",    "DAM_TEMP_DROP",
                                             "DAM_UNDER_100F", "FIRST_STAGE_LONG", "COUNT_SHORT"};

RC_GTEST_PROP(Night, ARedFlagMoreNeverMakesItMilder, ()) {
  const Story story = any_night();
  Story more = story;
  const Sign sign = *rc::gen::elementOf(std::vector<Sign>(std::begin(kRedFlags), std::end(kRedFlags)));
  // That straining eased an hour ago is news that it has not been strong since: only what it had reached by then must
  // stay.
  const Instant when = sign == Sign::weak_straining ? kNight : kNight - minutes(10 * *rc::gen::inRange(0, 120));
  more.sign(sign, when);
  const auto a = story.assess(kNight), b = more.assess(kNight);
  auto but = kWaiting;
  if (find(a, "FIRST_STAGE_LONG")) but.push_back("TWO_FLAGS");  // it may have been one of the two
  if (worst(b, but) > worst(a, but))
    RC_FAIL(fmt::format("{} at {} turned\n{}into\n{}", record::name_of(sign), to_iso(Stamp{when}), codes(a), codes(b)));
}

RC_GTEST_PROP(Night, StrikingOrCorrectingASignTakesItBack, ()) {
  const Story story = any_night();
  const Sign sign = *rc::gen::elementOf(std::vector<Sign>(std::begin(kRedFlags), std::end(kRedFlags)));
  const Instant when = kNight - minutes(10 * *rc::gen::inRange(0, 120));
  Story struck = story, corrected = story, instead = story;
  struck.sign(sign, when);
  struck.strike(struck.last_id(), kNight);
  RC_ASSERT(told(struck.assess(kNight)) == told(story.assess(kNight)));
  corrected.sign(sign, when);
  const std::string id = corrected.last_id();
  corrected.sign(Sign::nesting, when).correcting(id);
  instead.sign(Sign::nesting, when);
  RC_ASSERT(told(corrected.assess(kNight)) == told(instead.assess(kNight)));
}

}  // namespace
}  // namespace lampside::testing
