// Turns at the teats: the search against trying every day there is, and what must hold over weeks, pup by pup.
#include <gtest/gtest.h>

#include <chrono>
#include <map>
#include <random>

#include "../advice/story.hpp"
#include "measure/text.hpp"
#include "nest/turns.hpp"
#include "reference/rules.hpp"

namespace lampside::testing {
namespace {

using nest::ShiftTask;
using reference::built_in;

struct Visit {
  int group, from, to;
};
std::vector<Visit> visits(const std::vector<int>& on) {
  std::vector<Visit> out;
  for (int slot = 0; slot < static_cast<int>(on.size()); ++slot) {
    const int g = on[static_cast<std::size_t>(slot)];
    if (out.empty() || out.back().group != g) out.push_back({g, slot, slot});
    out.back().to = slot + 1;
  }
  return out;
}

/// The rules of shifts.hpp, said once more and checked on a whole day. What a lawful day costs; nothing if it is not.
std::optional<std::pair<int, int>> cost_of(const ShiftTask& task, const std::vector<int>& on) {
  const int groups = static_cast<int>(task.groups.size()), slots = static_cast<int>(on.size());
  const auto all = visits(on);
  if (all.front().group != 0 || static_cast<int>(all.size()) <= groups) return std::nullopt;
  for (int g = 0; g < groups; ++g) {
    const auto& v = all[all.size() - static_cast<std::size_t>(groups - g)];
    if (v.group != g || v.to != slots - (groups - 1 - g) * task.session || v.to - v.from != task.session)
      return std::nullopt;
  }
  int wakings = 0, uneven = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const int length = all[i].to - all[i].from;
    if (length < task.session) return std::nullopt;
    if (i > 0 && task.asleep[static_cast<std::size_t>(all[i].from)]) ++wakings;
    if (i + 1 < all.size()) uneven += (length - task.preferred) * (length - task.preferred);
  }
  for (int g = 0; g < groups; ++g) {
    const auto& limits = task.groups[static_cast<std::size_t>(g)];
    int length = task.session, ended = -(groups - 1 - g) * task.session;
    bool first = true;
    for (const auto& v : all) {
      if (v.group != g) continue;
      if (v.from - ended > std::min(limits.gap, length / task.session * limits.every - length)) return std::nullopt;
      if (first && v.from > g * task.session) return std::nullopt;
      first = false, length = v.to - v.from, ended = v.to;
    }
  }
  return std::pair{wakings, uneven};
}

std::optional<std::pair<int, int>> best_of_all(const ShiftTask& task) {
  const auto groups = task.groups.size();
  std::vector<int> on(task.asleep.size(), 0);
  std::optional<std::pair<int, int>> best;
  for (;;) {
    if (const auto cost = cost_of(task, on); cost && (!best || *cost < *best)) best = cost;
    std::size_t i = 0;
    while (i < on.size() && ++on[i] == static_cast<int>(groups)) on[i++] = 0;
    if (i == on.size()) return best;
  }
}

TEST(Shifts, AsGoodAsTheBestOfAllDays) {
  std::mt19937 dice{7};
  const auto throw_of = [&](int from, int to) { return std::uniform_int_distribution{from, to}(dice); };
  int possible = 0, impossible = 0;
  for (int n = 0; n < 250; ++n) {
    const int groups = n % 25 == 0 ? 4 : n % 5 == 0 ? 3 : 2;
    ShiftTask task;
    task.session = groups > 2 ? 1 : throw_of(1, 2);
    task.preferred = throw_of(1, 3);
    for (int g = 0; g < groups; ++g) task.groups.push_back({throw_of(groups - 1, 5), throw_of(groups, 7)});
    task.asleep.assign(groups == 4 ? 8 : groups == 3 ? 9 : 13, false);
    for (std::size_t s = 3; s < 8; ++s) task.asleep[s] = throw_of(0, 2) > 0;
    const auto want = best_of_all(task);
    const auto got = solve(task);
    ASSERT_EQ(got.has_value(), want.has_value()) << "case " << n;
    ++(want ? possible : impossible);
    if (!want) continue;
    const auto cost = cost_of(task, got->on);
    ASSERT_TRUE(cost) << "case " << n << ": not a lawful day";
    EXPECT_EQ(*cost, *want) << "case " << n;
    EXPECT_EQ(got->wakings, want->first);
  }
  EXPECT_GT(possible, 60);
  EXPECT_GT(impossible, 30);
}

// Two groups of 45 minutes and more, 3 hours at most: in a night from 23 to 6 two changes cannot be avoided (at most
// three hours each) and two are enough.
TEST(Shifts, TwoWakingsInANightOfSevenHours) {
  ShiftTask task{{{12, 12}, {12, 12}}, 3, 8, std::vector<bool>(96, false)};
  for (std::size_t s = 33; s < 61; ++s) task.asleep[s] = true;  // the day begins at 14:30
  const auto got = solve(task);
  ASSERT_TRUE(got);
  EXPECT_EQ(got->wakings, 2);
}

Story litter_of(int pups, double born_days_ago, double first_g = 300, double step_g = 15, Zone zone = Zone{}) {
  Story s{std::move(zone)};
  for (int n = 1; n <= pups; ++n)
    s.born(std::to_string(n), kNight - days(born_days_ago) + minutes(n), first_g + step_g * n);
  return s;
}
Story& with_teats(Story& s, int teats, std::optional<int> session = {}, Instant at = kNight - hours(1)) {
  return s.tell(at, "", record::TeatTurns{true, teats, session, {}, {}});
}
nest::Turns turns_of(const Story& s, Instant now = kNight) { return nest::turns(s.litter(), built_in(), now); }

TEST(Turns, ElevenPupsAtEightTeatsTheSmallestStay) {
  Story s = litter_of(11, 2.5);
  const auto t = turns_of(with_teats(s, 8));
  const auto* plan = reference::value_of(t.plan);
  ASSERT_NE(plan, nullptr) << std::get<reference::NotAssessed>(t.plan).why;
  ASSERT_EQ(plan->groups.size(), 2U);
  EXPECT_EQ(plan->always, (std::vector<std::string>{"1", "2", "3", "4", "5"}));
  EXPECT_EQ(plan->groups[0].pups, (std::vector<std::string>{"1", "2", "3", "4", "5", "6", "7", "8"}));
  EXPECT_EQ(plan->groups[1].pups, (std::vector<std::string>{"1", "2", "3", "4", "5", "9", "10", "11"}));
  EXPECT_EQ(plan->groups[0].gap, Minutes{180});
  EXPECT_EQ(plan->groups[0].sessions, 8);
  EXPECT_EQ(plan->wakings, 2) << "a night from 23 to 6 at 3 hours each";
}

TEST(Turns, SmallOnesAreHeldToStricterLimits) {
  Story s = litter_of(16, 2.5);
  s.born("17", kNight - days(2.5), 180);
  const auto t = turns_of(with_teats(s, 9, 30));
  const auto* plan = reference::value_of(t.plan);
  ASSERT_NE(plan, nullptr) << std::get<reference::NotAssessed>(t.plan).why;
  EXPECT_EQ(plan->groups.front().pups.front(), "17") << "first to a teat";
  EXPECT_NE(std::find(plan->small.begin(), plan->small.end(), "17"), plan->small.end());
  EXPECT_NE(std::find(plan->always.begin(), plan->always.end(), "17"), plan->always.end())
      << "the one place over goes to the smallest";
}

TEST(Turns, EveryTeatTakenAndNoMoreThanTheTeats) {
  for (int teats = 4; teats <= 10; ++teats)
    for (int pups = teats + 1; pups <= std::min(16, 3 * teats); ++pups) {
      Story s = litter_of(pups, 9, 400, 5);
      const auto t = turns_of(with_teats(s, teats));
      const auto* plan = reference::value_of(t.plan);
      ASSERT_NE(plan, nullptr) << pups << " at " << teats << ": " << std::get<reference::NotAssessed>(t.plan).why;
      std::map<std::string, int> seen;
      for (const auto& g : plan->groups) {
        EXPECT_EQ(static_cast<int>(g.pups.size()), teats);
        for (const auto& label : g.pups) ++seen[label];
      }
      EXPECT_EQ(static_cast<int>(seen.size()), pups);
    }
}

void nobody_waits_too_long(const Story& s, Instant from, Instant to, int* planned = nullptr) {
  const auto litter = s.litter();
  std::map<std::string, Instant> last_on;
  const auto step = minutes(15);
  std::optional<nest::Turns> told;
  std::size_t at_shift = 0;
  for (Instant now = from; now < to; now += step) {
    const auto* plan = told ? reference::value_of(told->plan) : nullptr;
    // Asked anew at every change of groups and every hour: the answer may change, the gaps may not.
    if (!plan || now >= plan->shifts.at(at_shift).to || (now - from) % hours(1) == Span{0}) {
      told = nest::turns(litter, built_in(), now);
      plan = reference::value_of(told->plan);
      at_shift = 0;
      if (!plan) {
        last_on.clear();
        continue;
      }
    }
    if (planned) ++*planned;
    for (const auto& label : plan->shifts[at_shift].pups) {
      if (const auto last = last_on.find(label); last != last_on.end()) {
        const auto* pup = litter.pup(label);
        const double age = reference::days_between(pup->birth.at, now);
        const bool small = std::find(plan->small.begin(), plan->small.end(), label) != plan->small.end();
        const auto limits = nest::turn_limits(age, small, built_in());
        if (limits && now - last->second > limits->gap) {
          ADD_FAILURE() << label << " waited " << say_span(now - last->second) << " until "
                        << say_day_time(litter.zone, now) << ", at most " << say_span(limits->gap);
          return;
        }
      }
      last_on[label] = now + step;
    }
  }
}

TEST(Turns, NobodyEverWaitsLongerThanItsAgeAllows) {
  std::mt19937 dice{11};
  const auto throw_of = [&](int from, int to) { return std::uniform_int_distribution{from, to}(dice); };
  int planned = 0;
  for (int n = 0; n < 12; ++n) {
    const int pups = throw_of(7, 16), teats = throw_of(std::max(4, pups / 3), pups - 1);
    Story s = litter_of(pups, 26, 350, throw_of(0, 12));
    // Weights that cross each other, so that pups change groups from day to day.
    for (int day = 1; day < 26; ++day)
      for (int p = 1; p <= pups; ++p)
        s.weighed(std::to_string(p), 350 + 40 * day + throw_of(-80, 80), kNight - days(26 - day) + hours(8));
    s.tell(kNight - days(25.5), "",
           record::TeatTurns{true, teats, throw_of(2, 4) * 15, throw_of(20, 23), throw_of(5, 8)});
    nobody_waits_too_long(s, kNight - days(25), kNight, &planned);
  }
  EXPECT_GT(planned, 12 * 25 * 96 / 3) << "most of these litters must have a plan, or nothing was tested";
}

TEST(Turns, ALongNightInAutumnMakesNobodyWaitLonger) {
  using namespace std::chrono;
  const Instant winter = sys_days{2026y / October / 25} + 1h;  // 03:00 becomes 02:00
  const Zone zone{"Europe/Berlin", Minutes{120}, {{winter, Minutes{60}, "CET"}}};
  Story s{zone};
  for (int n = 1; n <= 12; ++n)
    s.born(std::to_string(n), winter - lampside::testing::days(3) + minutes(n), 300 + 10 * n);
  s.tell(winter - lampside::testing::days(2.9), "", record::TeatTurns{true, 8, {}, {}, {}});
  int planned = 0;
  nobody_waits_too_long(s, winter - lampside::testing::days(2), winter + lampside::testing::days(2), &planned);
  EXPECT_GT(planned, 300);
}

TEST(Turns, WhatBindsIsNamed) {
  const auto code = [](Story s, int teats, int session) {
    const auto t = turns_of(with_teats(s, teats, session));
    const auto* none = std::get_if<reference::NotAssessed>(&t.plan);
    return none ? std::string(none->code) : "planned";
  };
  EXPECT_EQ(code(litter_of(6, 2), 8, 45), "ENOUGH");
  EXPECT_EQ(code(litter_of(11, 2), 8, 45), "planned");
  EXPECT_EQ(code(litter_of(12, 2), 8, 200), "TURNS_GAP") << "200 minutes each: nobody waits 3 hours at most";
  EXPECT_EQ(code(litter_of(16, 2, 300, 2), 4, 60), "TURNS_SESSIONS") << "4 x 60 min: every 4 h; 8 a day is every 3 h";
  EXPECT_EQ(code(litter_of(16, 2, 300, 15), 4, 60), "TURNS_GAP") << "small ones wait 2 hours at most, not 3";
  EXPECT_EQ(code(litter_of(16, 2), 3, 30), "TURNS_GAP") << "6 groups, small ones every 2 hours, the others every 3";
  EXPECT_EQ(code(litter_of(16, 2, 300, 2), 2, 30), "TURNS_GAP") << "8 groups: 3.5 hours till all the others were on";
  EXPECT_EQ(code(litter_of(10, 9, 300, 30), 2, 45), "TURNS_SESSIONS") << "5 groups: all orders gone through";
  EXPECT_EQ(code(litter_of(9, 16, 300, 30), 1, 30), "TURNS_GROUPS") << "9 groups: not said to be forbidden";
  EXPECT_EQ(code(litter_of(12, 29), 8, 45), "NO_REFERENCE");
  Story s = litter_of(16, 2, 300, 2);
  const auto t = turns_of(with_teats(s, 4, 60));
  EXPECT_NE(t.would_do.find("sessions of 45 min"), std::string::npos) << t.would_do;
}

// 16 pups at 3 teats are 6 groups: 6 x 8 x 30 min are exactly a day, each waits 150 min of 180. 16 at 4 are 4 groups:
// 4 x 8 x 45 min are exactly a day too. 8 groups of 20 min fit no slots: 8 x 8 shifts of 22 or 23 min.
TEST(Turns, WhereSlotsAreTooCoarseTheyGoInRounds) {
  for (const auto& [teats, session, shifts, length, rounds] :
       {std::tuple{3, 30, 48U, 30, false}, {4, 45, 32U, 45, false}, {2, 20, 64U, 22, true}}) {
    Story s = litter_of(16, 2, 300, 2);
    const auto t = turns_of(with_teats(s, teats, session));
    const auto* plan = reference::value_of(t.plan);
    ASSERT_NE(plan, nullptr) << std::get<reference::NotAssessed>(t.plan).why;
    EXPECT_EQ(plan->in_rounds, rounds);
    EXPECT_NEAR(static_cast<double>(plan->shifts.size()), shifts, 1);
    for (std::size_t i = 1; i < plan->shifts.size(); ++i) {
      EXPECT_EQ(plan->shifts[i].from, plan->shifts[i - 1].to);
      EXPECT_EQ(plan->shifts[i].group, (plan->shifts[i - 1].group + 1) % plan->groups.size());
      EXPECT_EQ((plan->shifts[i].to - plan->shifts[i].from) / minutes(1) / length, 1);
    }
    nobody_waits_too_long(s, kNight, kNight + days(rounds ? 24 : 4));
  }
  Story two = litter_of(11, 2);
  EXPECT_FALSE(std::get<nest::TurnPlan>(turns_of(with_teats(two, 8)).plan).in_rounds);
}

TEST(Turns, APupFedOnlyByHandTakesNoPlace) {
  Story s = litter_of(9, 2);
  with_teats(s, 8);
  EXPECT_TRUE(std::holds_alternative<nest::TurnPlan>(turns_of(s).plan));
  s.tell(kNight - hours(1), "9", record::HandFeeding{record::FeedShare::full, {}});
  const auto t = turns_of(s);
  EXPECT_EQ(std::get<reference::NotAssessed>(t.plan).code, "ENOUGH");
  s.tell(kNight - minutes(30), "9", record::HandFeeding{record::FeedShare::top_up, {}});
  EXPECT_TRUE(std::holds_alternative<nest::TurnPlan>(turns_of(s).plan)) << "a top-up still drinks from her";
}

TEST(Turns, OffMeansOff) {
  Story s = litter_of(11, 2);
  with_teats(s, 8);
  s.tell(kNight - minutes(1), "", record::TeatTurns{false, {}, {}, {}, {}});
  EXPECT_EQ(std::get<reference::NotAssessed>(turns_of(s).plan).code, "OFF");
  EXPECT_NE(find(s.assess(kNight), "TEATS_TOO_FEW"), nullptr);
}

// 16 pups at 8 teats must be solved in under 50 ms; an unoptimized or instrumented build may take ten times that.
TEST(Turns, SixteenPupsAtEightTeatsAreQuick) {
  Story s = litter_of(16, 2);
  with_teats(s, 8);
  const auto litter = s.litter();
  const auto begun = std::chrono::steady_clock::now();
  const auto t = nest::turns(litter, built_in(), kNight);
  const auto took = std::chrono::steady_clock::now() - begun;
  ASSERT_TRUE(reference::value_of(t.plan));
  EXPECT_LT(std::chrono::duration<double>(took).count(), 0.5);
}

}  // namespace
}  // namespace lampside::testing
