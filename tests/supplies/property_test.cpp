// What must hold of every litter's supplies.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <map>

#include "told.hpp"

namespace lampside::supplies {
namespace {

using namespace lampside::testing;
using reference::built_in;
using reference::value_of;

double amount(const reference::Assessed<Amount>& a) { return value_of(a) ? value_of(a)->count() : -1; }

RC_GTEST_PROP(Supplies, NeedNeverFallsWhenTheLitterGrows, ()) {
  const auto& row = built_in().supplies[*rc::gen::inRange<std::size_t>(0, built_in().supplies.size())];
  const Basis basis{Grams{static_cast<double>(*rc::gen::inRange(80, 700))},
                    Kilograms{static_cast<double>(*rc::gen::inRange(2, 90))}, *rc::gen::inRange(0, 100)};
  const int pups = *rc::gen::inRange(0, 25);
  RC_ASSERT(amount(need(row, pups, basis, built_in())) <= amount(need(row, pups + 1, basis, built_in())));
  RC_ASSERT(amount(need(row, pups, basis, built_in())) >= 0);
}

Story any_before() {
  Story story;
  record::LitterFacts facts;
  facts.dam = record::Parent{"Juniper",
                             *rc::gen::element<std::string>("Golden Retriever", "Shih Tzu", "none known"),
                             {},
                             Kilograms{static_cast<double>(*rc::gen::inRange(4, 60))},
                             {}};
  story.facts(facts);
  story.mated(kNight - days(*rc::gen::inRange(20, 55)));
  if (*rc::gen::arbitrary<bool>())
    story.tell(kNight - days(2), "dam",
               record::PupCount{*rc::gen::element(record::CountMethod::xray, record::CountMethod::ultrasound),
                                *rc::gen::inRange(1, 14),
                                *rc::gen::element(std::optional<bool>{}, std::optional<bool>{false})});
  return story;
}
record::Stock any_stock(bool dated) {
  const auto& rows = built_in().supplies;
  auto s = stock(*rc::gen::arbitrary<bool>() ? std::string(rows[*rc::gen::inRange<std::size_t>(0, rows.size())].item)
                                             : *rc::gen::element<std::string>("blanket", "red bulb", "Spare Bulb"));
  if (*rc::gen::arbitrary<bool>()) s.have = Amount{*rc::gen::inRange(0, 2000) / 4.0};
  if (*rc::gen::arbitrary<bool>()) s.need = Amount{*rc::gen::inRange(0, 50) / 2.0};
  if (*rc::gen::arbitrary<bool>()) s.need_per_pup = Amount{*rc::gen::inRange(0, 5) / 2.0};
  if (*rc::gen::arbitrary<bool>()) s.pack = Amount{*rc::gen::inRange(1, 100) / 4.0};
  if (*rc::gen::arbitrary<bool>()) s.where = static_cast<record::Keeping>(*rc::gen::inRange(0, 4));
  if (dated && *rc::gen::arbitrary<bool>()) s.expires = day_of(kNight) + std::chrono::days{*rc::gen::inRange(-60, 200)};
  return s;
}
void tell_stock(Story& story, bool dated) {
  const int n = *rc::gen::inRange(0, 40);
  for (int i = 0; i < n; ++i) story.tell(kNight - hours(100 - i), "", any_stock(dated));
}

RC_GTEST_PROP(Supplies, NothingIsLackingWhereThereIsEnough, ()) {
  Story story = any_before();
  tell_stock(story, false);
  all_there(story, kNight);
  const auto plan = plan_of(story);
  for (const auto& line : plan.lines) {
    if (!value_of(line.need)) continue;
    RC_ASSERT(line.lacking.count() == 0.0);
    RC_ASSERT(line.state == State::enough || line.state == State::not_needed);
  }
  RC_ASSERT(shopping(plan, day_of(kNight)).empty());
  for (const auto& f : story.assess(kNight).findings) RC_ASSERT(!f.code.starts_with("SUPPLIES_"));
}

RC_GTEST_PROP(Supplies, WhatIsBoughtIsEnoughAndNotOnePackMore, ()) {
  Story story = any_before();
  tell_stock(story, true);
  for (const auto& line : plan_of(story).lines) {
    const double need = amount(line.need);
    if (need < 0 || line.state == State::not_needed) continue;
    RC_ASSERT(line.have.count() + line.lacking.count() >= need - 1e-9);
    if (line.packs == 0) continue;
    const double pack = line.pack->count();
    RC_ASSERT(line.packs * pack >= line.lacking.count() - 1e-6);
    RC_ASSERT((line.packs - 1) * pack < line.lacking.count());
  }
}

RC_GTEST_PROP(Supplies, ANewDueDateMovesTheDatesAndNothingElse, ()) {
  Story story = any_before();
  tell_stock(story, false);
  Story later = story;
  // The same story with the mating some days on: everything else is told at the same moments.
  const int shift = *rc::gen::inRange(1, 8);
  for (auto& e : later.entries())
    if (record::body_as<record::Mating>(e)) e.at.instant += days(shift);
  const auto a = plan_of(story), b = plan_of(later);
  RC_ASSERT(a.lines.size() == b.lines.size());
  RC_PRE(a.anchor.has_value() && b.anchor.has_value());
  const auto moved = *b.anchor - *a.anchor;
  RC_ASSERT(moved.count() == shift);
  for (std::size_t i = 0; i < a.lines.size(); ++i) {
    const auto &x = a.lines[i], &y = b.lines[i];
    RC_ASSERT(x.item == y.item);
    RC_ASSERT(amount(x.need) == amount(y.need));
    RC_ASSERT(x.have == y.have);
    RC_ASSERT(x.lacking == y.lacking);
    RC_ASSERT(x.state == y.state);
    RC_ASSERT(x.where == y.where);
    RC_ASSERT(x.packs == y.packs);
    RC_ASSERT(*y.by - *x.by == moved);
  }
}

RC_GTEST_PROP(Supplies, CarryOverLosesNothingAndMakesNothing, ()) {
  Story story = any_before();
  tell_stock(story, true);
  const auto litter = story.litter();
  const auto day = day_of(kNight);
  std::map<std::string, record::Stock> left;
  for (const auto& kept : inventory(litter, built_in())) left[kept.what.item] = kept.what;
  const auto next = opening_stock(litter, built_in(), day);
  RC_ASSERT(next.size() == left.size());
  for (const auto& s : next) {
    RC_ASSERT(left.count(s.item) == 1U);
    const auto& was = left[s.item];
    const bool gone = was.expires && *was.expires <= day;
    RC_ASSERT(s.have == (gone ? std::optional{Amount{0}} : was.have));
    RC_ASSERT(s.need == was.need && s.need_per_pup == was.need_per_pup && s.pack == was.pack && s.unit == was.unit);
    RC_ASSERT(s.from == litter.key);
  }
  // Taken over and looked at again, it is the same stock.
  Story second;
  for (const auto& s : next) second.tell(kNight, "", s);
  const auto again = inventory(second.litter(), built_in());
  RC_ASSERT(again.size() == next.size());
  for (std::size_t i = 0; i < next.size(); ++i) RC_ASSERT(again[i].what == next[i]);
}

RC_GTEST_PROP(Supplies, WhatOnlyAVetGivesIsNeverProposed, ()) {
  Story story = any_before();
  tell_stock(story, true);
  for (const char* name : {"Oxytocin 10 IU", "calcium gel", "oxygen", "oxytocin"}) {
    auto s = stock(name, 0);
    s.need = Amount{2};
    s.where = record::Keeping::to_buy;
    story.tell(kNight, "", s);
  }
  const auto plan = plan_of(story);
  for (const auto& line : plan.lines) {
    RC_ASSERT(!is_vet_only(built_in(), line.item));
    for (const auto* word : {"oxytocin", "oxygen", "alcium"}) RC_ASSERT(line.item.find(word) == std::string::npos);
  }
  RC_ASSERT(plan.vets_own.size() == 3U);
}

}  // namespace
}  // namespace lampside::supplies
