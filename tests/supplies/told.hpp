// A litter with supplies, told in a few lines.
#pragma once

#include "../advice/story.hpp"
#include "supplies/plan.hpp"

namespace lampside::testing {

inline record::Stock stock(std::string item, std::optional<double> have = {}) {
  record::Stock s{};
  s.item = std::move(item);
  if (have) s.have = Amount{*have};
  return s;
}
inline record::Stock in_kit(std::string item, double have, std::optional<CivilDay> tested = {}) {
  auto s = stock(std::move(item), have);
  s.where = record::Keeping::kit;
  s.tested = tested;
  return s;
}
inline CivilDay day_of(Instant t) { return Zone{}.day_of(t); }

/// The moment her window opens in this story.
inline Instant opens(const Story& story, Instant now = kNight) {
  return std::get<due::Forecast>(story.assess(now).due).opens;
}
inline const supplies::Line& line_of(const supplies::Plan& plan, std::string_view item) {
  for (const auto& line : plan.lines)
    if (line.item == item) return line;
  throw std::out_of_range(std::string(item));
}
inline supplies::Plan plan_of(const Story& story, Instant now = kNight) { return story.assess(now).supplies; }

/// Every line in the house in the amount that 19 litters in 20 need, tried today.
inline Story& all_there(Story& story, Instant now) {
  for (const auto& line : plan_of(story, now).lines)
    if (const auto* need = reference::value_of(line.need); need && need->count() > 0)
      story.tell(now, "", in_kit(line.item, need->count(), day_of(now)));
  return story;
}

}  // namespace lampside::testing
