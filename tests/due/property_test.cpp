// Properties of every forecast, on records drawn by the simulator with chance from RapidCheck.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

#include "../advice/story.hpp"
#include "due/model.hpp"
#include "forecasts.hpp"
#include "rehearse/due.hpp"

namespace lampside::testing {
namespace {

using rehearse::Dice;

/// A breeder's record with wrong clues among the right ones.
rehearse::Story drawn() {
  Dice dice{*rc::gen::arbitrary<std::uint64_t>()};
  return rehearse::story(reference::built_in(), rehearse::World{1.3, 0.1}, dice);
}
std::optional<due::Forecast> value(const record::Litter& litter, Instant now) {
  auto said = due::forecast(litter, reference::built_in(), now);
  if (auto* f = std::get_if<due::Forecast>(&said)) return std::move(*f);
  return std::nullopt;
}
/// All dated entries of a litter, moved.
record::Litter moved(record::Litter litter, Span by) {
  const auto move = [&](auto& events) {
    for (auto& e : events) e.at += by;
  };
  move(litter.matings), move(litter.lh_surges), move(litter.ovulations), move(litter.dioestrus);
  move(litter.progesterone), move(litter.foetal_measures), move(litter.counts), move(litter.earlier);
  move(litter.dam_temperatures), move(litter.signs);
  return litter;
}

RC_GTEST_PROP(ForecastProperty, HoldsTogetherAtAnyMoment, ()) {
  const auto s = drawn();
  const Instant now = s.now + hours(*rc::gen::inRange(-40 * 24, 10 * 24));
  if (const auto f = value(s.litter, now)) {
    holds_together(*f, now);
    RC_ASSERT(!::testing::Test::HasFailure());
  }
}

RC_GTEST_PROP(ForecastProperty, TheFutureChangesNothing, ()) {
  const auto s = drawn();
  const auto before = value(s.litter, s.now);
  auto litter = s.litter;
  const Instant later = s.now + minutes(*rc::gen::inRange(1, 60 * 24 * 200));
  switch (*rc::gen::inRange(0, 9)) {
    case 0:
      litter.matings.push_back(noted(later, record::Mating{}));
      break;
    case 1:
      litter.lh_surges.push_back(noted(later, record::LhSurge{}));
      break;
    case 2:
      litter.ovulations.push_back(noted(later, record::Ovulation{}));
      break;
    case 3:
      litter.dioestrus.push_back(noted(later, record::Dioestrus{}));
      break;
    case 4:
      litter.progesterone.push_back(noted(later, record::Progesterone{NgPerMl{1.5}}));
      break;
    case 5:
      litter.foetal_measures.push_back(noted(later, record::FoetalMeasure{"BPD", Millimetres{20}}));
      break;
    case 6:
      litter.counts.push_back(noted(later, record::PupCount{record::CountMethod::xray, 1, {}}));
      break;
    case 7:
      litter.dam_temperatures.push_back(noted(later, record::Temperature{Celsius{36.5}, {}}));
      break;
    default:
      litter.signs.push_back(noted(later, record::SignSeen{record::Sign::waters}));
      break;
  }
  const auto after = value(litter, s.now);
  RC_ASSERT(before.has_value() == after.has_value());
  if (before) {
    RC_ASSERT(before->density == after->density);
    RC_ASSERT(before->from == after->from);
    RC_ASSERT(before->clues.size() == after->clues.size());
  }
}

RC_GTEST_PROP(ForecastProperty, MovingEverythingByWholeDaysMovesTheAnswer, ()) {
  const auto s = drawn();
  const Span by = days(*rc::gen::inRange(-3000, 3000));
  const auto here = value(s.litter, s.now), there = value(moved(s.litter, by), s.now + by);
  RC_ASSERT(here.has_value() == there.has_value());
  if (!here) return;
  RC_ASSERT(there->from == here->from + by);
  RC_ASSERT(there->density == here->density);
  RC_ASSERT(there->p50 == here->p50 + by);
  RC_ASSERT(there->chance.h24 == here->chance.h24);
}

RC_GTEST_PROP(ForecastProperty, OrderOfArrivalDoesNotMatter, ()) {
  const auto s = drawn();
  std::vector<std::pair<Instant, record::Body>> told;
  const auto tell = [&](const auto& events) {
    for (const auto& e : events) told.emplace_back(e.at, e.what);
  };
  tell(s.litter.matings), tell(s.litter.lh_surges), tell(s.litter.ovulations), tell(s.litter.dioestrus);
  tell(s.litter.progesterone), tell(s.litter.foetal_measures), tell(s.litter.counts), tell(s.litter.earlier);
  Story one;
  for (const auto& [at, body] : told) one.tell(at, "", body);
  for (const auto& t : s.litter.dam_temperatures) one.tell(t.at, "dam", t.what);
  for (const auto& t : s.litter.signs) one.tell(t.at, "dam", t.what);
  Story other = one;
  auto& entries = other.entries();
  for (std::size_t i = entries.size(); i > 1; --i)
    std::swap(entries[i - 1], entries[*rc::gen::inRange<std::size_t>(0, i)]);
  const auto a = value(one.litter(), s.now), b = value(other.litter(), s.now);
  RC_ASSERT(a.has_value() == b.has_value());
  if (a) RC_ASSERT(a->density == b->density);
}

// A clue where the others already point: the window may widen by a breath (a clue of another event carries its own
// doubt) and no more.
RC_GTEST_PROP(ForecastProperty, AClueThatFitsDoesNotWidenTheSpread, ()) {
  const auto s = drawn();
  const auto before = value(s.litter, s.now);
  if (!before || !before->conflicts.empty() || before->p50 < s.now + days(2)) return;
  auto litter = s.litter;
  const Instant middle = before->p50;
  const int kind = *rc::gen::inRange(0, 3);
  if (kind == 0 && litter.dioestrus.empty() && middle - days(57) <= s.now)
    litter.dioestrus.push_back(noted(middle - days(57), record::Dioestrus{}));
  if (kind == 1 && litter.ovulations.empty() && middle - days(63.1) <= s.now)
    litter.ovulations.push_back(noted(middle - days(63.1), record::Ovulation{}));
  if (kind == 2 && litter.foetal_measures.empty()) {
    const Instant at = std::min(s.now, middle - days(30));
    const double age = 65 - reference::days_between(at, middle);
    const auto* row = due::foetometry_row(reference::built_in(), litter, "ICC");
    const double to_read = row->gives_age ? age : 65 - age;
    litter.foetal_measures.push_back(
        noted(at, record::FoetalMeasure{"ICC", Millimetres{(to_read - row->at_zero) / row->per_mm}}));
  }
  const auto after = value(litter, s.now);
  RC_ASSERT(after.has_value());
  RC_ASSERT(reference::days_between(after->p05, after->p95) <=
            1.15 * reference::days_between(before->p05, before->p95));
}

RC_GTEST_PROP(ForecastProperty, ChancesAgreeWithTheDensity, ()) {
  const auto s = drawn();
  const auto f = value(s.litter, s.now);
  if (!f) return;
  const double p = 0.01 * *rc::gen::inRange(1, 100);
  const Instant at = f->quantile(p);
  RC_ASSERT(std::abs(f->between(f->from - days(1), at) - p) < 1e-6);
  const Instant a = s.now + hours(*rc::gen::inRange(-100, 600)), b = a + hours(*rc::gen::inRange(0, 300)),
                c = b + hours(*rc::gen::inRange(0, 300));
  RC_ASSERT(std::abs(f->between(a, b) + f->between(b, c) - f->between(a, c)) < 1e-12);
}

}  // namespace
}  // namespace lampside::testing
