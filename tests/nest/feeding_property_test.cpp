// What must hold of every feed worked out, whatever the pup, the milk and the record.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "feeding.hpp"

namespace lampside::testing {
namespace {

using reference::built_in;

double from_to(int low, int high, double scale) { return *rc::gen::inRange(low, high + 1) / scale; }

struct Any {
  Grams pup{from_to(500, 20000, 10)};
  KcalPer100g need{from_to(60, 300, 10)};
  KcalPerMl milk{from_to(60, 220, 100)};
  int feeds = *rc::gen::inRange(1, 13);
  nest::Ration ration = std::get<nest::Ration>(nest::ration(pup, need, milk, feeds, built_in()));
};

RC_GTEST_PROP(Feed, NeverMoreThanTheStomachHolds, ()) {
  const Any a;
  RC_ASSERT(a.ration.exact.count() <= a.ration.room.count() * (1 + 1e-9));
  RC_ASSERT(a.ration.each.count() <= a.ration.room.count() * (1 + 1e-9));
  RC_ASSERT(a.ration.room == Millilitres{4 * a.pup.count() / 100});
}

RC_GTEST_PROP(Feed, NeverFewerFeedsThanTheRoomNeedsAndNoneToSpare, ()) {
  const Any a;
  const double by_room = a.ration.day / a.ration.room;
  RC_ASSERT(a.ration.feeds >= by_room - 1e-9);
  RC_ASSERT(a.ration.feeds >= a.feeds);
  RC_ASSERT(a.ration.feeds == a.feeds || a.ration.feeds - 1 < by_room);
  RC_ASSERT(a.ration.room_binds == (a.ration.feeds > a.feeds));
}

RC_GTEST_PROP(Feed, RoundsDownToAMarkByLessThanOne, ()) {
  const Any a;
  const double marks = a.ration.each / a.ration.mark;
  RC_ASSERT(std::fabs(marks - std::round(marks)) < 1e-6);
  RC_ASSERT(a.ration.each.count() <= a.ration.exact.count() * (1 + 1e-9));
  RC_ASSERT(a.ration.each.count() > a.ration.exact.count() - a.ration.mark.count());
}

RC_GTEST_PROP(Feed, EnergyIsTheSameInEveryUnit, ()) {
  const Any a;
  const double kcal = a.pup.count() / 100 * a.need.count();
  const auto same = [&](double other) { RC_ASSERT(std::fabs(other / kcal - 1) < 1e-9); };
  same(a.ration.kcal.count());
  same((a.milk * a.ration.day).count());                     // kcal -> ml -> kcal
  same(a.ration.feeds * (a.milk * a.ration.exact).count());  // feed by feed
  const double pounds = a.pup.count() / kGramsPerOunce / kOuncesPerPound;
  same(pounds * a.need.count() * 4.5359237);                  // kcal/100 g -> kcal/lb
  same(a.ration.day.count() / 1000 * a.milk.count() * 1000);  // kcal a litre
}

RC_GTEST_PROP(Feed, HeavierPupsAndThinnerMilkNeverGetLess, ()) {
  const Any a;
  const auto with = [&](Grams pup, KcalPerMl milk) {
    return std::get<nest::Ration>(nest::ration(pup, a.need, milk, a.feeds, built_in())).day;
  };
  RC_ASSERT(with(a.pup * 1.1, a.milk) >= a.ration.day);
  RC_ASSERT(with(a.pup, a.milk * 0.9) >= a.ration.day);
}

// Powder: energy goes into the milk and comes out of it; the mix for an amount has the tin's proportion.
RC_GTEST_PROP(Powder, LosesNoEnergy, ()) {
  record::Milk m = milk_of({});
  m.powder_g = Grams{from_to(10, 2000, 10)};
  m.water_ml = Millilitres{from_to(100, 9000, 10)};
  m.powder_kcal_g = from_to(40, 65, 10);
  const auto density = nest::mixed(*m.powder_g, *m.powder_kcal_g, *m.water_ml, built_in());
  RC_ASSERT(density.count() < m.powder_g->count() * *m.powder_kcal_g / m.water_ml->count());
  const Millilitres wanted{from_to(10, 20000, 10)};
  const auto mix = *nest::to_mix(m, wanted, built_in());
  RC_ASSERT(std::fabs(mix.powder.count() * *m.powder_kcal_g / (density * wanted).count() - 1) < 1e-9);
  RC_ASSERT(std::fabs(mix.powder / *m.powder_g - mix.water / *m.water_ml) < 1e-9 * (mix.powder / *m.powder_g));
}

Story any_pup() {
  const double age = from_to(0, 300, 10);
  Story s;
  record::LitterFacts facts;
  if (*rc::gen::arbitrary<bool>()) facts.units = record::UnitChoice{WeightUnit::ounces, TemperatureUnit::fahrenheit};
  s.facts(facts);
  if (*rc::gen::arbitrary<bool>()) s.breed("Golden Retriever");
  s.born("1", kNight - days(age), from_to(100, 2500, 1));
  const auto some_time = [&] { return kNight - minutes(from_to(0, static_cast<int>(age * 1440), 1)); };
  if (*rc::gen::arbitrary<bool>()) s.tell(some_time(), "", milk_of(from_to(1, 50, 10)));
  for (int n = *rc::gen::inRange(0, 8); n > 0; --n) s.weighed("1", from_to(80, 3000, 1), some_time());
  for (int n = *rc::gen::inRange(0, 4); n > 0; --n)
    by_hand(s, some_time(), static_cast<record::FeedShare>(*rc::gen::inRange(0, 3)),
            static_cast<record::FeedWay>(*rc::gen::inRange(0, 5)));
  for (int n = *rc::gen::inRange(0, 3); n > 0; --n) s.temperature("1", from_to(300, 390, 10), some_time());
  for (int n = *rc::gen::inRange(0, 4); n > 0; --n)
    s.tell(some_time(), "1",
           record::SignSeen{*rc::gen::element(Sign::no_suck, Sign::sucks_well, Sign::belly_taut, Sign::belly_soft,
                                              Sign::loose_stool)});
  for (int n = *rc::gen::inRange(0, 12); n > 0; --n)
    fed(s, from_to(0, 300, 10), some_time(), *rc::gen::arbitrary<bool>() ? std::optional{1.1} : std::nullopt);
  return s;
}

// Whatever is written down: an amount stands only on a sound weight of today and a read label; nothing is due where
// something forbids it; and no amount is over the room.
RC_GTEST_PROP(Feeding, WhateverIsWrittenDown, ()) {
  const Story s = any_pup();
  const auto a = s.assess(kNight);
  const auto& p = pup_1(a);
  if (const auto* plan = std::get_if<nest::Plan>(&p.plan)) {
    RC_ASSERT(std::holds_alternative<nest::Milk>(a.feeding.milk));
    RC_ASSERT(kNight - plan->weight.weighed <= hours(24));
    RC_ASSERT(plan->weight.grams < Grams{5000});
    for (const auto* r : {&plan->low, &plan->today, &plan->high}) RC_ASSERT(r->each <= r->room * (1 + 1e-9));
    RC_ASSERT(plan->low.kcal.count() <= plan->today.kcal.count() + 1e-9);
    RC_ASSERT(plan->today.kcal.count() <= plan->high.kcal.count() + 1e-9);
    RC_ASSERT(plan->rise >= 0.0 && plan->rise <= 1.0);
    if (p.next) RC_ASSERT(*p.next <= kNight + hours(24));
  } else {
    RC_ASSERT(!p.next);
  }
  if (!p.stops.empty()) RC_ASSERT(!find(a, "FEED_DUE", "1"));
  if (p.keepers && p.share == record::FeedShare::none) {
    RC_ASSERT(!find(a, "FEED_DUE"));
    RC_ASSERT(!find(a, "FEED_UNKNOWN"));
  }
  // A tube is never let through without a vet's name, and none is written down here.
  if (p.way == record::FeedWay::tube)
    RC_ASSERT(std::any_of(p.stops.begin(), p.stops.end(), [](const auto& stop) { return stop.code == "FEED_TUBE"; }));
}

}  // namespace
}  // namespace lampside::testing
