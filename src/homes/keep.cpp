#include "homes/keep.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace lampside::homes {
namespace {

const reference::Parameter& rule_named(const reference::Reference& reference, std::string_view name) {
  (void)reference::parameter(reference, name);  // a name that is not there stops the program
  return *std::find_if(reference.parameters.begin(), reference.parameters.end(),
                       [&](const auto& p) { return p.name == name; });
}

/// When they last said or did anything in this litter.
std::optional<Instant> last_word(const record::Litter& litter, const std::string& family, Instant now) {
  std::optional<Instant> last;
  for (const auto& e : litter.log) {
    if (e.at.instant > now) break;
    const auto* f = record::body_as<record::Family>(e);
    const auto* d = record::body_as<record::Deposit>(e);
    const auto* c = record::body_as<record::Choice>(e);
    const auto* m = record::body_as<record::MoneyMoved>(e);
    if ((f && f->family == family) || (d && d->family == family) || (c && c->family == family) ||
        (m && m->family == family))
      last = e.at.instant;
  }
  return last;
}

}  // namespace

Keep keep_until(const record::Person& person, const record::Litter& litter, const Order& order,
                const reference::Reference& reference, Instant now) {
  if (person.keep_until) return {person.keep_until, "the date you set", nullptr};
  const auto* family = order.family(person.family);
  const auto after = [&](std::string_view name, Instant from, std::string_view what) {
    const auto& rule = rule_named(reference, name);
    const auto day = litter.zone.day_of(from) + std::chrono::days{static_cast<int>(rule.value)};
    return Keep{day, fmt::format("{} days after {} on {}", rule.value, what, say_day(litter.zone.day_of(from))), &rule};
  };
  if (family && family->gone)
    if (const auto* pup = litter.pup(*family->pup); pup && pup->departure)
      return after("keep_placed_d", pup->departure->at, "pup " + pup->label + " went home");
  const bool waits = family && family->waits() && (litter.pups.empty() || !order.free_pups.empty());
  if (!waits && !(family && family->pup))
    if (const auto last = last_word(litter, person.family, now))
      return after("keep_unplaced_d", *last, "the last entry about them");
  return {std::nullopt, "they wait, or their pup is still here", nullptr};
}

}  // namespace lampside::homes
