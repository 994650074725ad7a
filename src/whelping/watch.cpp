#include "whelping/watch.hpp"

#include <algorithm>

#include "whelping/pace.hpp"

namespace lampside::whelping {

std::string_view name_of(Stage s) {
  switch (s) {
    case Stage::before:
      return "before";
    case Stage::first_stage:
      return "first_stage";
    case Stage::straining:
      return "straining";
    case Stage::between_pups:
      return "between_pups";
    case Stage::done:
      return "done";
  }
  return "before";
}

Labour read_labour(const record::Litter& litter, Instant now) {
  using record::Sign;
  using std::chrono::hours;
  Labour l;
  for (const auto& count : litter.counts) {
    if (count.at > now) continue;
    l.expected = count.what.pups;
    l.at_least = count.what.at_least.value_or(count.what.method == record::CountMethod::xray);
  }
  for (const auto& pup : litter.pups) {
    if (pup.birth.at > now) continue;
    ++l.born;
    if (pup.in_box()) ++l.alive;
    if (!l.first_birth) l.first_birth = pup.birth.at;
    l.last_birth = pup.birth.at;
    if (pup.birth.what.placenta.value_or(false)) ++l.placentas;
  }
  l.placentas += static_cast<int>(
      std::count_if(litter.placentas.begin(), litter.placentas.end(), [&](const auto& p) { return p.at <= now; }));

  // Straining begins a run; a birth ends it. So does a stop, but straining again within two hours takes the run up
  // where it began: weak, infrequent contractions are one labour (Jutkowitz 2005, Box 2), and a pause is not a new
  // beginning. The strong clock is one of effort: an hour's rest ends it. Otherwise it goes on from its first strong
  // sign even if a weaker one was tapped between, and what it has reached stays when she eases or stops: a tired dam is
  // not a better one.
  constexpr Span strong_pause = hours{1}, run_pause = hours{2};
  std::optional<Instant> ended;  // when the present run was last seen to stop
  const auto keep_longest = [](std::optional<Bout>& longest, const std::optional<Instant>& from, Instant until) {
    if (from && (!longest || until - *from >= longest->span())) longest = Bout{*from, until};
  };
  std::size_t next_birth = 0;
  // A single tap or short effort, with nothing else in the four hours since, is not the beginning of labour. A second
  // one within them is: bouts that keep coming back keep their clock.
  constexpr Span nothing_since = hours{4};
  int bouts = 0;
  const auto came_to_nothing = [&](Instant t) {
    return ended && t - *ended >= nothing_since && bouts == 1 && next_birth == 0 && !l.waters_since && !l.green_since &&
           !l.visible_since && (!l.run_bout || l.run_bout->span() < kRealEffort);
  };
  const auto stop = [&](Instant t) {
    if (l.effort == Effort::none) return;
    if (l.effort == Effort::strong) keep_longest(l.strong_bout, l.strong_since, t);
    keep_longest(l.run_bout, l.run_since, t);
    l.effort = Effort::none;
    ended = t;
  };
  const auto strain = [&](Instant t, Effort effort) {
    if (came_to_nothing(t)) l.labour_since.reset(), bouts = 0;
    if (ended && t - *ended >= strong_pause) l.strong_since.reset();
    if (ended && t - *ended >= run_pause) l.run_since.reset();
    if (l.effort == Effort::none) ++bouts;
    ended.reset();
    if (!l.run_since) l.run_since = t;
    if (!l.labour_since) l.labour_since = t;
    if (l.effort == Effort::strong && effort == Effort::weak) keep_longest(l.strong_bout, l.strong_since, t);
    if (effort == Effort::strong && !l.strong_since) l.strong_since = t;
    l.effort = effort;
    l.settled_at.reset();
  };
  const auto forget = [&] {
    for (auto* clock :
         {&l.run_since, &l.strong_since, &l.waters_since, &l.green_since, &l.visible_since, &l.settled_at, &ended})
      clock->reset();
    l.strong_bout.reset();
    l.run_bout.reset();
    l.effort = Effort::none;
  };
  const auto births_before = [&](Instant t) {
    while (next_birth < litter.pups.size() && litter.pups[next_birth].birth.at <= t) {
      forget();
      ++next_birth;
    }
  };
  std::optional<Instant> restless;  // the last sign of the first stage
  // What the keeper says of the stage stands over what the signs had said, until the next sign.
  std::size_t next_said = 0;
  const auto said_before = [&](Instant t) {
    for (; next_said < litter.stages_said.size() && litter.stages_said[next_said].at <= t; ++next_said) {
      const auto& said = litter.stages_said[next_said];
      births_before(said.at);
      switch (said.what.stage) {
        case record::LabourStage::before:
          forget();
          l.labour_since.reset();
          l.first_stage_since.reset();
          break;
        case record::LabourStage::first_stage:
          forget();
          l.labour_since.reset();
          l.first_stage_since = restless = said.at;
          break;
        case record::LabourStage::straining:
          if (l.effort == Effort::none) strain(said.at, Effort::weak);
          break;
        case record::LabourStage::between_pups:
          stop(said.at);
          l.settled_at.reset();
          break;
        case record::LabourStage::done:
          stop(said.at);
          if (next_birth == 0) break;
          forget();
          l.settled_at = said.at;
          break;
      }
    }
  };
  for (const auto& s : litter.signs) {
    if (s.at > now) break;
    births_before(s.at);
    said_before(s.at);
    switch (s.what.sign) {
      case Sign::strong_straining:
        strain(s.at, Effort::strong);
        break;
      case Sign::weak_straining:
        strain(s.at, Effort::weak);
        break;
      case Sign::straining_stopped:
        stop(s.at);
        break;
      case Sign::settled:
        stop(s.at);
        if (next_birth == 0)
          break;  // she has only stopped: waters, green and a pup that shows are not undone by a rest
        forget();
        l.settled_at = s.at;
        break;
      case Sign::waters:
        l.settled_at.reset();
        if (!l.waters_since) l.waters_since = s.at;
        if (!l.labour_since) l.labour_since = s.at;
        break;
      case Sign::green_discharge:
        if (!l.green_since) l.green_since = s.at;
        break;
      case Sign::pup_visible:
        l.settled_at.reset();
        if (!l.visible_since) l.visible_since = s.at;
        break;
      case Sign::panting:
      case Sign::shivering:
        // The first stage is told from panting or shivering, each within two days of the one before; nesting may come a
        // week before.
        if (!l.first_stage_since || s.at - *restless > hours{48}) l.first_stage_since = s.at;
        restless = s.at;
        break;
      default:
        break;
    }
  }
  said_before(now);
  births_before(now);
  if (came_to_nothing(now)) l.labour_since.reset();
  if (l.born > 0 || (restless && now - *restless > hours{48})) l.first_stage_since.reset();
  if (l.first_birth && (!l.labour_since || *l.first_birth < *l.labour_since)) l.labour_since = l.first_birth;

  const bool counted_out = l.counted_out(), quiet = l.quiet();
  const bool long_quiet = quiet && l.last_birth && now - *l.last_birth >= hours{24};
  // Reaching the count is not the end while she strains: an X-ray is a minimum.
  const bool quiet_after_count = quiet && counted_out && l.last_birth && now - *l.last_birth >= hours{2};
  const bool died = litter.dam_death && litter.dam_death->at <= now;
  l.over = died || (l.born > 0 && (l.settled_at.has_value() || long_quiet || quiet_after_count));
  // Green discharge alone after the last of the count is the usual flow: it does not bring another pup.
  l.more_expected = !l.over && !(quiet && counted_out);

  if (l.over)
    l.stage = Stage::done;
  else if (l.effort != Effort::none || l.visible_since || (l.born == 0 && (l.waters_since || l.green_since)))
    l.stage = Stage::straining;
  else if (l.born > 0)
    l.stage = Stage::between_pups;
  else if (l.first_stage_since)
    l.stage = Stage::first_stage;
  return l;
}

Watch watch(const record::Litter& litter, const reference::Reference& reference, Instant now) {
  const Labour l = read_labour(litter, now);
  Watch w;
  w.stage = l.stage;
  w.effort = l.effort;
  w.born = l.born;
  w.alive = l.alive;
  w.expected = l.expected;
  w.expected_at_least = l.at_least;
  w.placentas_seen = l.placentas;
  const Pace pace = pace_of(litter, reference, now);
  w.next_pup = next_pup(l, pace, now);
  w.last_pup = last_pup(l, pace, now);
  w.one_left = one_left(litter, l, pace, reference, now);
  if (l.last_birth) w.since_last_pup = std::chrono::floor<Minutes>(now - *l.last_birth);
  const auto clock = [&](std::string_view kind, const std::optional<Instant>& since) {
    if (since) w.clocks.push_back({std::string(kind), *since});
  };
  if (l.stage != Stage::done) {
    clock("strong_straining", l.effort == Effort::strong ? l.strong_since : std::nullopt);
    clock("weak_straining", l.effort == Effort::weak ? l.run_since : std::nullopt);
    clock("waters", l.waters_since);
    clock("green_discharge", l.green_since);
    clock("last_pup", l.last_birth);
    clock("labour", l.labour_since);
  }
  return w;
}

}  // namespace lampside::whelping
