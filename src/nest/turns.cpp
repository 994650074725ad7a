#include "nest/turns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "measure/text.hpp"
#include "nest/figures.hpp"
#include "reference/rules.hpp"

namespace lampside::nest {
namespace {

using record::Litter;
using record::Pup;
using reference::days_between;
using reference::NotAssessed;
using reference::Reference;
using std::chrono::hours;

constexpr Minutes kFine{15}, kCoarse{30};  ///< slots
/// Unlimited, where only one of the two limits is asked about.
constexpr int kAnyTime = 10'000;

struct Taker {
  const Pup* pup;
  std::optional<Grams> weight;
  bool small = false;
};

/// What the groups of one day are made from.
struct Day {
  Instant from, to;
  double age_d;
};

/// By the hour in the middle of those the keeper is awake.
Minutes day_begins(const Turns& t) {
  const int awake = (t.night_from_h - t.night_to_h + 24) % 24;
  return hours{(t.night_to_h + (awake == 0 ? 24 : awake) / 2) % 24};
}
bool at_night(const Turns& t, Minutes clock) {
  const auto from = hours{t.night_from_h}, to = hours{t.night_to_h};
  if (from == to) return false;
  return from < to ? clock > from && clock < to : clock > from || clock < to;
}

std::optional<Grams> weight_by(const Pup& pup, Instant t) {
  const auto after = std::find_if(pup.weights.begin(), pup.weights.end(), [&](const auto& w) { return w.at > t; });
  if (after != pup.weights.begin()) return std::prev(after)->what.grams;
  if (!pup.weights.empty()) return pup.weights.front().what.grams;
  return std::nullopt;
}

/// Smallest first. A pup without a weight is taken for the smallest.
std::vector<Taker> takers(const Litter& litter, const Reference& reference, Instant weighed_by, Instant now) {
  std::vector<Taker> out;
  std::vector<double> known;
  for (const auto& pup : litter.pups)
    if (pup.in_box() && !drinks_nothing(pup, now)) {
      out.push_back({&pup, weight_by(pup, weighed_by)});
      if (out.back().weight) known.push_back(out.back().weight->count());
    }
  std::sort(known.begin(), known.end());
  const double middle = known.empty() ? 0 : known[known.size() / 2];
  const auto* birth = birth_weight_class(reference, litter.breed());
  for (auto& t : out)
    t.small = !t.weight || t.weight->count() < middle * parameter(reference, "turn_small_pct") / 100 ||
              (birth && t.pup->birth.what.grams && *t.pup->birth.what.grams < birth->normal_from_g);
  std::stable_sort(out.begin(), out.end(), [](const Taker& a, const Taker& b) {
    return a.weight.value_or(Grams{0}) < b.weight.value_or(Grams{0});
  });
  return out;
}

struct Cut {
  std::vector<TurnGroup> groups;
  std::vector<std::string> small, always;
};
/// Runs of as many as there are teats; what is left over in the last is filled with the smallest once more.
Cut cut(const std::vector<Taker>& all, std::size_t teats, double age_d, const Reference& reference) {
  Cut out;
  const std::size_t groups = (all.size() + teats - 1) / teats;
  for (std::size_t g = 0; g < groups; ++g) {
    TurnGroup group{{}, Minutes::max(), 0};
    for (std::size_t place = g * teats; place < (g + 1) * teats; ++place) {
      const auto& taker = all[place % all.size()];
      group.pups.push_back(taker.pup->label);
      if (place >= all.size()) continue;
      const auto limits = *turn_limits(age_d, taker.small, reference);
      group.gap = std::min(group.gap, limits.gap);
      group.sessions = std::max(group.sessions, limits.sessions);
    }
    out.groups.push_back(std::move(group));
  }
  if (groups == 2)  // those in both never leave: the first group's limits are of the others
    for (std::size_t i = 0; i < groups * teats - all.size(); ++i) out.always.push_back(all[i].pup->label);
  for (const auto& t : all)
    if (t.small) out.small.push_back(t.pup->label);
  if (!out.always.empty() && out.always.size() < teats) {
    auto& first = out.groups.front();
    first.gap = Minutes::max(), first.sessions = 0;
    for (std::size_t i = out.always.size(); i < teats; ++i) {
      const auto limits = *turn_limits(age_d, all[i].small, reference);
      first.gap = std::min(first.gap, limits.gap), first.sessions = std::max(first.sessions, limits.sessions);
    }
  }
  for (auto& group : out.groups)
    std::stable_sort(group.pups.begin(), group.pups.end(), [&](const std::string& a, const std::string& b) {
      const auto rank = [&](const std::string& label) {
        return std::find_if(all.begin(), all.end(), [&](const Taker& t) { return t.pup->label == label; });
      };
      return rank(a) < rank(b);
    });
  return out;
}

/// The coarsest slots that may come to be used.
Minutes slot_of(std::size_t groups) { return groups == 2 ? kFine : kCoarse; }
int up(Minutes m, Minutes slot) { return static_cast<int>((m + slot - Minutes{1}) / slot); }

ShiftTask task_of(const Turns& t, const std::vector<TurnGroup>& groups, const Day& day, Minutes slot, const Zone& zone,
                  const Reference& reference) {
  ShiftTask task;
  for (const auto& g : groups)
    task.groups.push_back({static_cast<int>(g.gap / slot), static_cast<int>(Minutes{24 * 60} / g.sessions / slot)});
  task.session = up(t.session, slot);
  task.preferred = up(Minutes{static_cast<int>(parameter(reference, "turn_shift_min"))}, slot);
  for (Instant at = day.from; at < day.to; at += slot) task.asleep.push_back(at_night(t, zone.time_of_day(at)));
  return task;
}

/// The day in rounds: every group in its order, all shifts equally long to the minute. For groups too many to be
/// searched, and where slots are too coarse. `border`: the longest a pup may wait that changes groups overnight.
/// The fewest rounds that keep every limit, so the longest shifts.
std::optional<int> rounds_of(const std::vector<TurnGroup>& groups, Minutes session, Minutes day,
                             std::optional<Minutes> border) {
  const auto n = static_cast<std::int64_t>(groups.size()), minutes = day.count();
  const auto up_from = [](std::int64_t a, std::int64_t b) { return (a + b - 1) / b; };
  for (std::int64_t rounds = 1; minutes / (rounds * n) >= session.count(); ++rounds) {
    const std::int64_t wait = up_from(minutes * (n - 1), rounds * n), every = up_from(minutes, rounds);
    const bool lawful = std::all_of(groups.begin(), groups.end(), [&](const TurnGroup& g) {
      return wait <= g.gap.count() && every * g.sessions <= 24 * 60;
    });
    if (lawful && (!border || 2 * wait <= border->count())) return static_cast<int>(rounds);
  }
  return std::nullopt;
}

/// The best day in slots, and how long these are. Where the sessions of many groups fit coarse ones these leave fewer
/// days to go through; else fine ones are tried before them.
struct Slotted {
  Minutes slot;
  ShiftTask task;
  tl::expected<Shifts, NoShifts> day;
};
Slotted in_slots(const Turns& t, const std::vector<TurnGroup>& groups, const Day& day, const Zone& zone,
                 const Reference& reference) {
  const auto with = [&](Minutes slot) {
    auto task = task_of(t, groups, day, slot, zone, reference);
    auto solved = solve(task);
    return Slotted{slot, std::move(task), std::move(solved)};
  };
  if (t.session % kCoarse == Minutes{0}) return with(slot_of(groups.size()));
  auto fine = with(kFine);
  if (fine.day || fine.day.error() == NoShifts::impossible) return fine;
  auto coarse = with(kCoarse);
  return coarse.day ? coarse : fine;
}

/// Why there is no such day, told with its numbers.
NotAssessed why_not(const Slotted& none, const std::vector<TurnGroup>& groups) {
  const auto& [slot, task, day_found] = none;
  const NoShifts why = day_found.error();
  const auto n = groups.size();
  const Minutes session = task.session * slot;
  const std::string shape = fmt::format("{} groups of {} each", n, say_span(session));
  // A day holds the sessions of one group after the other.
  std::int64_t day = 0;
  for (const auto& g : groups) day += g.sessions * session.count();
  ShiftTask free = task;
  for (auto& g : free.groups) g.every = kAnyTime;
  if (why == NoShifts::impossible)
    if (const auto of_gaps = solve(free); !of_gaps && of_gaps.error() == NoShifts::impossible) {
      const auto strictest = std::min_element(task.groups.begin(), task.groups.end(),
                                              [](const auto& a, const auto& b) { return a.gap < b.gap; });
      const Minutes wait = static_cast<int>(n - 1) * session, gap = strictest->gap * slot;
      return {"TURNS_GAP", wait > gap
                               ? fmt::format("with {} a pup waits {} and more; at this age at most {}", shape,
                                             say_span(wait), say_span(gap))
                               : fmt::format("with {} no order keeps everybody's wait short enough; some may wait "
                                             "{} at most",
                                             shape, say_span(gap))};
    }
  if (day > 24 * 60)
    return {"TURNS_SESSIONS", fmt::format("the sessions of {} would fill {} hours of a day", shape,
                                          say_number(static_cast<double>(day) / 60, 1))};
  if (why == NoShifts::impossible)
    return {"TURNS_SESSIONS", fmt::format("with {} no order gives each its sessions a day", shape)};
  return {"TURNS_GROUPS",
          fmt::format("with {}, one after the other, somebody waits too long; there are too many other orders to try",
                      shape)};
}

struct SolvedDay {
  std::vector<TurnShift> shifts;
  bool in_rounds = false;
};
std::optional<SolvedDay> solve_day(const Turns& t, const std::vector<TurnGroup>& groups, const Day& day,
                                   std::optional<Minutes> border, const Zone& zone, const Reference& reference) {
  SolvedDay out;
  const auto change = [&](Instant at, Instant to, std::size_t group) {
    if (!out.shifts.empty() && out.shifts.back().group == group)
      out.shifts.back().to = to;
    else
      out.shifts.push_back({at, to, group, groups[group].pups, at_night(t, zone.time_of_day(at))});
  };
  const auto solved = in_slots(t, groups, day, zone, reference);
  if (solved.day) {
    for (std::size_t i = 0; i < solved.day->on.size(); ++i) {
      const Instant at = day.from + static_cast<int>(i) * solved.slot;
      change(at, at + solved.slot, static_cast<std::size_t>(solved.day->on[i]));
    }
    return out;
  }
  const auto length = std::chrono::floor<Minutes>(day.to - day.from);
  const auto rounds = rounds_of(groups, t.session, length, border);
  if (!rounds) return std::nullopt;
  out.in_rounds = true;
  const auto shifts = static_cast<std::int64_t>(groups.size()) * *rounds;
  const auto edge = [&](std::int64_t i) { return day.from + Minutes{i * length.count() / shifts}; };
  for (std::int64_t i = 0; i < shifts; ++i) change(edge(i), edge(i + 1), static_cast<std::size_t>(i) % groups.size());
  return out;
}

/// A shorter session that works, or fewer pups.
std::string would_do(const Turns& t, const std::vector<Taker>& all, const Day& day, const Zone& zone,
                     const Reference& reference) {
  const auto teats = static_cast<std::size_t>(*t.teats);
  const auto possible = [&](const std::vector<Taker>& some, Minutes session) {
    if (some.size() <= teats) return true;
    Turns other = t;
    other.session = session;
    return solve_day(other, cut(some, teats, day.age_d, reference).groups, day, std::nullopt, zone, reference)
        .has_value();
  };
  std::string out;
  for (Minutes session = t.session - kFine; session >= kFine && out.empty(); session -= kFine)
    if (possible(all, session)) out = fmt::format("sessions of {}", say_span(session));
  for (std::size_t fewer = 1; fewer < all.size(); ++fewer)
    if (possible({all.begin(), all.end() - static_cast<std::ptrdiff_t>(fewer)}, t.session))
      return fmt::format("{}{} of the {} fed by hand, or with another dam", out.empty() ? "" : out + ", or ", fewer,
                         all.size());
  return out;
}

Instant day_start(const Litter& litter, CivilDay day, Minutes begins) { return litter.zone.instant_of(day, begins); }

}  // namespace

std::optional<TurnLimits> turn_limits(double age_d, bool small, const Reference& reference) {
  const int week = static_cast<int>(std::floor(std::max(0.0, age_d) / 7)) + 1;
  if (week > 4) return std::nullopt;
  const std::string who = small ? "turn_small_" : "turn_";
  const auto& gap = figure(reference, fmt::format("{}gap_min_week_{}", who, week));
  const auto& sessions = figure(reference, fmt::format("{}sessions_week_{}", who, week));
  return TurnLimits{Minutes{static_cast<int>(gap.value)}, static_cast<int>(sessions.value), &gap, &sessions};
}

Turns turns(const Litter& litter, const Reference& reference, Instant now) {
  Turns out;
  const auto hour = [&](std::optional<int> said, std::string_view name) {
    return said.value_or(static_cast<int>(parameter(reference, name)));
  };
  const record::TeatTurns said = litter.turns ? litter.turns->what : record::TeatTurns{};
  out.on = litter.turns && said.on.value_or(true);
  out.teats = said.teats;
  out.session = Minutes{hour(said.session_min, "turn_session_min")};
  out.night_from_h = hour(said.night_from_h, "turn_night_from_h");
  out.night_to_h = hour(said.night_to_h, "turn_night_to_h");
  auto all = takers(litter, reference, now, now);
  out.pups = static_cast<int>(all.size());
  if (!out.on) return out;
  if (!out.teats) {
    out.plan = NotAssessed{"NO_TEATS", "how many of her teats give milk is not written down"};
    return out;
  }
  const auto teats = static_cast<std::size_t>(*out.teats);
  if (all.size() <= teats) {
    out.plan = NotAssessed{"ENOUGH", fmt::format("{} and {}: all can drink at once", counted(out.pups, "pup", "pups"),
                                                 counted(*out.teats, "teat", "teats"))};
    return out;
  }
  const Minutes begins = day_begins(out);
  CivilDay day = litter.zone.day_of(now);
  if (day_start(litter, day, begins) > now) day -= std::chrono::days{1};
  const auto youngest = std::max_element(all.begin(), all.end(), [](const Taker& a, const Taker& b) {
                          return a.pup->birth.at < b.pup->birth.at;
                        })->pup->birth.at;
  TurnPlan plan;
  for (int n = 0; n < 2; ++n, day += std::chrono::days{1}) {
    Day today{day_start(litter, day, begins), day_start(litter, day + std::chrono::days{1}, begins), 0};
    today.age_d = days_between(youngest, today.from);
    if (!turn_limits(today.age_d, false, reference)) {
      if (n == 0) out.plan = NotAssessed{"NO_REFERENCE", "over four weeks: no source says how long they may wait"};
      break;
    }
    all = takers(litter, reference, today.from, now);
    auto groups = cut(all, teats, today.age_d, reference);
    // Groups follow the weights only where a pup that changes group waits no longer for it, were it small or became so:
    // as limits widen with age, groups that may follow once may do so from then on.
    const Minutes slot = slot_of(groups.groups.size());
    const Minutes border = turn_limits(today.age_d, true, reference)->gap;
    const bool follows = 2 * static_cast<int>(groups.groups.size() - 1) * up(out.session, slot) * slot <= border;
    if (!follows) {
      all = takers(litter, reference, litter.turns->at, now);
      groups = cut(all, teats, today.age_d, reference);
      plan.regrouped_daily = false;
    }
    const auto solved =
        solve_day(out, groups.groups, today, follows ? std::optional{border} : std::nullopt, litter.zone, reference);
    if (!solved) {
      if (n > 0) break;
      out.plan = why_not(in_slots(out, groups.groups, today, litter.zone, reference), groups.groups);
      out.would_do = would_do(out, all, today, litter.zone, reference);
      return out;
    }
    plan.in_rounds = plan.in_rounds || solved->in_rounds;
    plan.shifts.insert(plan.shifts.end(), solved->shifts.begin(), solved->shifts.end());
    if (n == 0) plan.groups = groups.groups, plan.small = groups.small, plan.always = groups.always;
  }
  if (plan.groups.empty()) return out;
  const Instant end = now + hours{24};
  std::erase_if(plan.shifts, [&](const TurnShift& s) { return s.to <= now || s.from >= end; });
  plan.wakings = static_cast<int>(std::count_if(plan.shifts.begin(), plan.shifts.end(),
                                                [&](const TurnShift& s) { return s.wakes && s.from > now; }));
  out.plan = std::move(plan);
  return out;
}

std::vector<reference::Finding> findings(const Turns& turns, const Litter& litter, const Reference& reference,
                                         Instant now) {
  std::vector<reference::Finding> out;
  const auto first = litter.first_birth();
  if (!first || *first > now || !turn_limits(days_between(*first, now), false, reference)) return out;
  const int unaided = static_cast<int>(parameter(reference, "unaided_pups"));
  const auto* few = reference::rule_of(reference.count_rules, "TEATS_TOO_FEW");
  if (few && !turns.on && reached(*few, turns.pups - turns.teats.value_or(unaided)))
    out.push_back(found(*few, "litter",
                        turns.teats ? fmt::format("{} and {}", counted(turns.pups, "pup", "pups"),
                                                  counted(*turns.teats, "teat that gives milk", "teats that give milk"))
                                    : fmt::format("{}; how many of her teats give milk is not written down, and large "
                                                  "bitches manage 6 to {}",
                                                  counted(turns.pups, "pup", "pups"), unaided),
                        std::nullopt));
  const auto* none = reference::rule_of(reference.count_rules, "TURNS_IMPOSSIBLE");
  const auto* why = std::get_if<NotAssessed>(&turns.plan);
  if (none && why && why->code.starts_with("TURNS_") && reached(*none, 1))
    out.push_back(found(*none, "litter",
                        why->why + (turns.would_do.empty() ? "" : "; it would do with " + turns.would_do),
                        std::nullopt));
  return out;
}

}  // namespace lampside::nest
