// A waiting list told in a few lines.
#pragma once

#include "../advice/story.hpp"
#include "homes/order.hpp"

namespace lampside::testing {

using record::ChoiceMade;

/// "f3" on the list; what they look for is added by `wish`.
inline record::Family family(const std::string& id, std::optional<record::FamilyStatus> status = {}) {
  record::Family f{};
  f.family = id;
  f.status = status;
  return f;
}
inline record::Deposit deposit(const std::string& id, double amount, bool returned = false) {
  return {id, *Cash::from_number(amount), "GBP", {}, returned ? std::optional{true} : std::nullopt};
}
/// `who` empty: the keeper.
inline record::Choice choice(ChoiceMade made, const std::string& who, std::string why = "") {
  record::Choice c{};
  c.made = made;
  if (!who.empty()) c.family = who;
  if (!why.empty()) c.why = std::move(why);
  return c;
}
inline record::PickRule rule(record::PickOrder order, int keeper_first = 0) { return {order, keeper_first, {}}; }

/// So many pups born on the night, bitches and dogs in turn.
inline Story pups(int n) {
  Story story;
  for (int i = 1; i <= n; ++i) {
    record::Birth b{};
    b.sex = i % 2 == 1 ? record::Sex::female : record::Sex::male;
    b.markings = i % 2 == 1 ? "cream" : "dark gold";
    story.tell(kNight + minutes(30 * i), std::to_string(i), b);
  }
  return story;
}
inline homes::Order order_of(const Story& story, Instant now = kNight + days(60)) {
  return homes::order(story.litter(), now);
}
inline std::string next_of(const Story& story) { return order_of(story).next.value_or("nobody"); }

}  // namespace lampside::testing
