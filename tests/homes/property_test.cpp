// What must hold of every waiting list and every purse.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <map>
#include <set>

#include "homes/money.hpp"
#include "told.hpp"

namespace lampside::homes {
namespace {

using namespace lampside::testing;

std::string any_family() { return "f" + std::to_string(*rc::gen::inRange(1, 6)); }

/// Anything a form, two phones or a file could bring about families, in any order, lawful or not.
void any_step(Story& story, Instant at) {
  const auto pup = std::to_string(*rc::gen::inRange(1, 5));
  const auto who = *rc::gen::weightedElement<std::string>({{1, ""}, {5, any_family()}});
  switch (*rc::gen::inRange(0, 9)) {
    case 0:
      story.tell(
          at, "",
          family(any_family(), *rc::gen::element(record::FamilyStatus::waiting, record::FamilyStatus::withdrawn)));
      break;
    case 1:
      story.tell(at, "", deposit(any_family(), *rc::gen::inRange(1, 50000) / 100.0, *rc::gen::arbitrary<bool>()));
      break;
    case 2:
      story.tell(at, "", choice(ChoiceMade::pass, who));
      break;
    case 3:
      story.tell(at, pup, choice(ChoiceMade::release, who));
      break;
    case 4:
      if (*rc::gen::inRange(0, 3) == 0) story.tell(at, pup, record::Death{});
      break;
    case 5:
      story.tell(
          at, "",
          rule(*rc::gen::element(record::PickOrder::deposit, record::PickOrder::match), *rc::gen::inRange(0, 3)));
      break;
    default:
      story.tell(at, pup, choice(ChoiceMade::pick, who, *rc::gen::element<std::string>("", "agreed with all")));
  }
}

RC_GTEST_PROP(Homes, NoPupGoesToTwoFamiliesAndNoFamilyHasTwoUnnoticed, ()) {
  Story story = pups(4);
  const int steps = *rc::gen::inRange(0, 30);
  for (int i = 0; i < steps; ++i) any_step(story, kNight + days(1) + hours(i));
  const auto order = order_of(story);
  std::map<std::string, int> owners;
  for (const auto& f : order.families)
    if (f.pup) ++owners[*f.pup];
  for (const auto& label : order.keeper) ++owners[label];
  for (const auto& label : order.free_pups) ++owners[label];
  for (const auto& c : order.contested) ++owners[c.pup];
  for (const auto& [label, n] : owners) RC_ASSERT(n == 1);
  for (const auto& c : order.contested) RC_ASSERT(!order.owner(c.pup));
  for (const auto& label : order.free_pups) RC_ASSERT(!order.owner(label));
}

RC_GTEST_PROP(Homes, TheOrderNeverSkipsWithoutARecordedReason, ()) {
  // Only what the forms let through: may_choose is asked before each choice.
  Story story = pups(4);
  const int steps = *rc::gen::inRange(0, 40);
  for (int i = 0; i < steps; ++i) {
    Story tried = story;
    const auto at = kNight + days(1) + hours(i);
    any_step(tried, at);
    if (tried.entries().size() == story.entries().size()) continue;
    const auto& entry = tried.entries().back();
    if (const auto* c = record::body_as<record::Choice>(entry))
      if (!may_choose(homes::order(story.litter(), at), story.litter(), *c, entry.about)) continue;
    story = tried;
  }
  const auto order = order_of(story);
  for (const auto& s : order.skipped) RC_ASSERT(!s.why.empty());
  RC_ASSERT(order.contested.empty());
  // Whoever is next: nobody before them in the list waits with fewer passes.
  if (order.next && *order.next != kKeeper) {
    const auto* next = order.family(*order.next);
    RC_ASSERT(next != nullptr);
    for (const auto& f : order.families)
      if (f.place < next->place && f.waits()) RC_ASSERT(f.passes_now > next->passes_now);
  }
}

Cash any_cash() { return Cash{*rc::gen::inRange<std::int64_t>(0, 5'000'000) * *rc::gen::element<std::int64_t>(1, 10)}; }

Story any_purse() {
  Story story = pups(3);
  const int n = *rc::gen::inRange(0, 25);
  for (int i = 0; i < n; ++i) {
    const auto at = kNight + hours(*rc::gen::inRange(0, 500));
    const auto currency = *rc::gen::element(std::optional<std::string>{}, std::optional<std::string>{"GBP"},
                                            std::optional<std::string>{"EUR"});
    if (*rc::gen::inRange(0, 3) == 0) {
      story.tell(at, "", record::Deposit{any_family(), any_cash(), currency, {}, *rc::gen::arbitrary<bool>()});
    } else {
      story.tell(at, "",
                 record::MoneyMoved{any_cash(),
                                    *rc::gen::element(record::MoneyWay::in, record::MoneyWay::out),
                                    *rc::gen::element<std::string>("vet", "food", "stud fee"),
                                    currency,
                                    any_family(),
                                    {},
                                    {}});
    }
  }
  return story;
}

RC_GTEST_PROP(Homes, MoneyBalances, ()) {
  const auto book = ledger(any_purse().litter(), kNight + days(60));
  std::map<std::string, Cash> by_line;
  for (const auto& line : book.lines) {
    auto& sum = by_line.emplace(line.currency, Cash{0}).first->second;
    sum = line.way == record::MoneyWay::in ? sum + line.amount : sum - line.amount;
  }
  RC_ASSERT(by_line.size() == book.totals.size());
  for (const auto& t : book.totals) {
    RC_ASSERT(by_line.at(t.currency) == t.balance());
    Cash in{0}, out{0}, back{0};
    for (const auto& c : t.categories) {
      in = in + c.in, out = out + c.out;
      if (c.what_for == kDepositBack) back = back + c.out;
    }
    RC_ASSERT(in == t.in);
    RC_ASSERT(out == t.out);
    RC_ASSERT(t.cost + back == t.out);
  }
}

RC_GTEST_PROP(Homes, AShareTimesTheSharersCoversTheCostByLessThanACentEach, ()) {
  const auto cost = Cash{*rc::gen::inRange<std::int64_t>(1, 50'000'000)};
  const int among = *rc::gen::inRange(1, 20);
  const auto each = share(cost, among);
  const auto* of = reference::value_of(each);
  RC_ASSERT(of != nullptr);
  const auto all = static_cast<std::int64_t>(among) * *of;
  RC_ASSERT(all >= cost);
  RC_ASSERT(all - cost < Cash{10LL * among});
}

RC_GTEST_PROP(Homes, ErasingAFamilyChangesNoTotalAndNoFact, ()) {
  Story story = any_purse();
  const int steps = *rc::gen::inRange(0, 15);
  for (int i = 0; i < steps; ++i) any_step(story, kNight + days(25) + hours(i));
  Story erased = story;
  erased.tell(kNight + days(40), "", record::Erased{any_family()});
  const auto now = kNight + days(60);
  const auto a = ledger(story.litter(), now), b = ledger(erased.litter(), now);
  RC_ASSERT(a.lines == b.lines);
  RC_ASSERT(a.totals.size() == b.totals.size());
  for (std::size_t i = 0; i < a.totals.size(); ++i) {
    RC_ASSERT(a.totals[i].in == b.totals[i].in);
    RC_ASSERT(a.totals[i].out == b.totals[i].out);
    RC_ASSERT(a.totals[i].cost == b.totals[i].cost);
  }
  const auto before = order_of(story), after = order_of(erased);
  RC_ASSERT(before.next == after.next);
  RC_ASSERT(before.free_pups == after.free_pups);
  RC_ASSERT(before.families.size() == after.families.size());
}

}  // namespace
}  // namespace lampside::homes
