// A litter told in a few lines, and the plan for it.
#pragma once

#include <fmt/format.h>

#include <optional>
#include <string>
#include <vector>

#include "care/plan.hpp"

namespace lampside::care::testing {

inline CivilDay day(const char* iso) { return *parse_day(iso); }

class Story {
 public:
  explicit Story(Zone zone = {}) : zone_{std::move(zone)} {}

  Story& tell(Instant at, std::string about, record::Body body) {
    const Stamp stamp = zone_.stamp(at);
    entries.push_back(record::make_entry(fmt::format("00000000-0000-4000-8000-{:012x}", ++last_), "juniper-2026", stamp,
                                         stamp, "test", std::move(about), std::move(body)));
    return *this;
  }
  Story& on(const char* iso, std::string about, record::Body body) {
    return tell(noon(iso), std::move(about), std::move(body));
  }
  Story& place(std::string code) {
    record::LitterFacts facts;
    facts.place = std::move(code);
    return tell(Instant{}, "", facts);
  }
  Story& born(const char* iso, int pups) {
    for (int n = 1; n <= pups; ++n) on(iso, std::to_string(n), record::Birth{});
    return *this;
  }
  Story& done(const char* iso, std::string task, std::string about) {
    return on(iso, std::move(about), record::Done{std::move(task)});
  }
  Story& choose(std::string topic, std::string set, std::optional<std::string> vet = {}) {
    return tell(Instant{} + Minutes{1}, "", record::CareChoice{std::move(topic), std::move(set), std::move(vet)});
  }

  [[nodiscard]] Instant noon(const char* iso) const { return zone_.instant_of(day(iso), Minutes{720}); }
  [[nodiscard]] record::Litter litter() const { return record::fold(entries, "juniper-2026", zone_); }
  [[nodiscard]] Plan plan(const char* today, std::optional<Instant> due = {}) const {
    return care::plan(litter(), reference::built_in(), noon(today), due);
  }
  [[nodiscard]] std::vector<reference::Finding> findings(const char* today) const {
    return care::findings(plan(today), litter(), reference::built_in(), noon(today), false);
  }

  std::vector<record::Entry> entries;

 private:
  Zone zone_;
  int last_ = 0;
};

inline const Item* item(const Plan& plan, std::string_view task, std::string_view about = {}) {
  for (const auto& i : plan.items)
    if (i.task == task && (about.empty() || i.about == about)) return &i;
  return nullptr;
}
/// "overdue 2026-01-08 (2026-01-07 to 2026-01-11)", or "none".
inline std::string say(const Item* i) {
  if (!i) return "none";
  return fmt::format("{} {} ({} to {})", name_of(i->state), to_iso(i->best), to_iso(i->opens), to_iso(i->closes));
}
inline std::string say(const Plan& plan, std::string_view task, std::string_view about = {}) {
  return say(item(plan, task, about));
}
inline const reference::Finding* find(const std::vector<reference::Finding>& all, std::string_view code) {
  for (const auto& f : all)
    if (f.code == code) return &f;
  return nullptr;
}

}  // namespace lampside::care::testing
