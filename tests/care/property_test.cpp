// What holds for any litter: the plan is a function of what is known, done stays done, and only what hangs on a date
// moves with it.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <map>

#include "story.hpp"

namespace lampside::care::testing {
namespace {

/// A litter with some pups and some ticks, puttings-off and edits, all by day 120.
Story any(bool born) {
  Story story;
  const Instant begun = story.noon("2026-01-01");
  const auto at = [&](int low, int high) { return begun + std::chrono::hours{24 * *rc::gen::inRange(low, high)}; };
  const int pups = born ? *rc::gen::inRange(1, 13) : 0;
  story.tell(begun - std::chrono::hours{24 * 63}, "dam", record::Mating{});
  for (int n = 1; n <= pups; ++n) story.tell(begun + Minutes{30 * n}, std::to_string(n), record::Birth{});
  const auto tasks = std::vector<std::string>{"worm",    "worm.2", "worm.3", "nails",     "nails.4",
                                              "vaccine", "chip",   "weaned", "vet_check", "xray_count"};
  const auto whom = [&] { return pups == 0 ? std::string("dam") : std::to_string(*rc::gen::inRange(1, pups + 1)); };
  const int entries = *rc::gen::inRange(0, 20);
  for (int i = 0; i < entries; ++i) {
    const auto task = *rc::gen::elementOf(tasks);
    switch (*rc::gen::inRange(0, 4)) {
      case 0:
      case 1:
        story.tell(at(0, 120), whom(), record::Done{task});
        break;
      case 2:
        story.tell(at(0, 120), whom(),
                   record::Later{task, CivilDay{std::chrono::floor<std::chrono::days>(at(0, 120)).time_since_epoch()},
                                 "busy"});
        break;
      default:
        story.tell(at(0, 120), whom(),
                   record::CareEdit{task, *rc::gen::inRange(-5, 6), *rc::gen::arbitrary<bool>(), "as the vet says"});
    }
  }
  return story;
}

std::string said(const Plan& plan) {
  std::string out;
  for (const auto& i : plan.items) out += i.task + " " + i.about + " " + say(&i) + " " + i.why + "\n";
  return out;
}

RC_GTEST_PROP(Plan, IsTheSameWhenAskedAgainAndInAnyOrderOfArrival, ()) {
  const Story story = any(true);
  const Instant now = story.noon("2026-01-01") + std::chrono::hours{24 * *rc::gen::inRange(0, 200)};
  const auto first = said(plan(story.litter(), reference::built_in(), now, {}));
  RC_ASSERT(first == said(plan(story.litter(), reference::built_in(), now, {})));
  auto shuffled = story;
  std::reverse(shuffled.entries.begin(), shuffled.entries.end());
  RC_ASSERT(first == said(plan(shuffled.litter(), reference::built_in(), now, {})));
}

RC_GTEST_PROP(Plan, WhatIsDoneNeverComesBack, ()) {
  Story story = any(true);
  const Instant begun = story.noon("2026-01-01");
  const Instant now = begun + std::chrono::hours{24 * *rc::gen::inRange(120, 130)};
  std::map<std::pair<std::string, std::string>, std::string> done;
  for (const auto& i : plan(story.litter(), reference::built_in(), now, {}).items)
    if (i.state == State::done) done[{i.task, i.about}] = to_iso(*i.done);
  // Later: days pass, other sets are chosen, a pup leaves, more is put off and dropped.
  story.choose("worming", *rc::gen::element<std::string>("worm_12wk", "worm_8wk", "worm_weaning"));
  story.place(*rc::gen::element<std::string>("GB-ENG", "US-PA", "NZ"));
  story.tell(now, "1", record::Departure{});
  for (const auto& [key, on] : done) {
    story.tell(now, key.second, record::Later{key.first, day("2027-01-01"), "again?"});
    story.tell(now, key.second, record::CareEdit{key.first, 9, true, "no"});
    story.tell(now, key.second, record::Done{key.first});
  }
  const auto after =
      plan(story.litter(), reference::built_in(), now + std::chrono::hours{24 * *rc::gen::inRange(0, 60)}, {});
  std::size_t found = 0;
  for (const auto& i : after.items) {
    const auto was = done.find({i.task, i.about});
    if (was == done.end()) continue;
    ++found;
    RC_ASSERT(i.state == State::done);
    RC_ASSERT(to_iso(*i.done) == was->second);
  }
  RC_TAG(found > 0 ? "some done" : "none done");
}

RC_GTEST_PROP(Plan, MovingTheDueDateMovesOnlyWhatHangsOnIt, ()) {
  const Story story = any(false);
  const int shift = *rc::gen::inRange(-6, 7);
  const Instant due = story.noon("2026-01-01");
  const Instant now = due - std::chrono::hours{24 * *rc::gen::inRange(1, 40)};
  const auto litter = story.litter();
  const auto one = plan(litter, reference::built_in(), now, due);
  const auto two = plan(litter, reference::built_in(), now, due + std::chrono::hours{24 * shift});
  std::map<std::pair<std::string, std::string>, const Item*> by;
  for (const auto& i : one.items) by[{i.task, i.about}] = &i;
  RC_ASSERT(one.items.size() == two.items.size());
  for (const auto& i : two.items) {
    const Item* was = by[{i.task, i.about}];
    RC_ASSERT(was);
    if (i.state == State::done) RC_ASSERT(i.done == was->done);
    const bool hangs = i.expected;
    RC_ASSERT((i.best - was->best).count() == (hangs ? shift : 0));
  }
}

// Born: the forecast has nothing more to say.
RC_GTEST_PROP(Plan, AfterTheBirthTheForecastMovesNothing, ()) {
  const Story story = any(true);
  const Instant now = story.noon("2026-01-01") + std::chrono::hours{24 * *rc::gen::inRange(1, 200)};
  const auto litter = story.litter();
  RC_ASSERT(said(plan(litter, reference::built_in(), now, {})) ==
            said(plan(litter, reference::built_in(), now, now + std::chrono::hours{24 * *rc::gen::inRange(-30, 31)})));
}

RC_GTEST_PROP(Plan, WindowsAreInOrderAndNothingHardOpensBeforeItsDay, ()) {
  const Story story = any(true);
  const auto made = plan(story.litter(), reference::built_in(), story.noon("2026-02-01"), {});
  for (const auto& i : made.items) {
    RC_ASSERT(i.opens <= i.best);
    RC_ASSERT(i.best <= i.closes);
    if (i.row && i.row->anchor == "birth" && i.row->law_use != "closes")
      RC_ASSERT((i.opens - *made.day0).count() >= std::lround(i.row->not_before_d.count()));
  }
}

}  // namespace
}  // namespace lampside::care::testing
