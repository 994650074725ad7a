#include "any_litter.hpp"

#include <rapidcheck.h>

namespace lampside::testing {
namespace {

int from_to(int low, int high) { return *rc::gen::inRange(low, high + 1); }
/// Minutes rather than milliseconds, and few of them, so that things often fall on one moment or on a limit.
Instant some_time(double from_h, double to_h) {
  return kNight + minutes(10 * from_to(static_cast<int>(from_h * 6), static_cast<int>(to_h * 6)));
}

Sign any_sign() {
  return *rc::gen::element(Sign::nesting, Sign::panting, Sign::shivering, Sign::off_food, Sign::vomiting, Sign::mucus,
                           Sign::waters, Sign::green_discharge, Sign::bleeding, Sign::foul_discharge,
                           Sign::weak_straining, Sign::strong_straining, Sign::straining_stopped, Sign::pup_visible,
                           Sign::collapse, Sign::twitching, Sign::hard_hot_teat, Sign::settled);
}
Sign labour_sign() {
  return *rc::gen::element(Sign::panting, Sign::waters, Sign::green_discharge, Sign::weak_straining,
                           Sign::strong_straining, Sign::straining_stopped, Sign::pup_visible, Sign::settled);
}
std::string any_label() { return *rc::gen::element<std::string>("1", "2", "3", "4"); }

}  // namespace

Story any_night() {
  Story s;
  if (*rc::gen::arbitrary<bool>()) s.breed("Golden Retriever");
  if (*rc::gen::arbitrary<bool>()) s.counted(from_to(1, 5));
  if (*rc::gen::arbitrary<bool>()) s.temperature("dam", from_to(360, 385) / 10.0, some_time(-30, 0));
  // Most things in a few hours, so that they bear on each other.
  const double span = *rc::gen::element(3.0, 6.0, 30.0);
  for (int n = from_to(0, 3), i = 1; i <= n; ++i) {
    std::optional<double> grams;
    if (*rc::gen::arbitrary<bool>()) grams = from_to(150, 500);
    s.born(std::to_string(i), some_time(-span, 0), grams, from_to(0, 9) > 0);
  }
  for (int n = from_to(1, 8); n > 0; --n) s.sign(from_to(0, 4) == 0 ? any_sign() : labour_sign(), some_time(-span, 0));
  return s;
}

void tell_any(Story& s, Instant at) {
  switch (from_to(0, 15)) {
    case 0:
      s.mated(at);
      break;
    case 1:
      s.tell(at, "", record::Ovulation{});
      break;
    case 2:
      s.tell(at, "", record::LhSurge{});
      break;
    case 3:
      s.tell(at, "", record::Dioestrus{});
      break;
    case 4:
      s.tell(at, "", record::Progesterone{NgPerMl{from_to(2, 200) / 10.0}});
      break;
    case 5:
      s.counted(from_to(1, 9), at);
      break;
    case 6:
      s.temperature("dam", from_to(340, 410) / 10.0, at);
      break;
    case 7:
      s.temperature(any_label(), from_to(280, 400) / 10.0, at);
      break;
    case 8:
      s.sign(any_sign(), at);
      break;
    case 9:
      s.scored(any_label(), from_to(0, 10), at);
      break;
    case 10:
      s.air(from_to(100, 400) / 10.0, at);
      break;
    case 11:
      s.tell(at, any_label(), record::Death{});
      break;
    case 12:
      s.tell(at, any_label(), record::Departure{});
      break;
    case 13:
      s.tell(at, "", record::PlacentaPassed{});
      break;
    case 14:
      s.born(any_label(), at, from_to(1, 700), from_to(0, 9) > 0);
      break;
    default:
      s.weighed(any_label(), from_to(1, 3000), at);
      break;
  }
}

Story any_litter() {
  Story s;
  const int age_h = from_to(-24, 40 * 24);  // how long ago the first pup was born; negative: not yet
  record::LitterFacts facts;
  if (*rc::gen::arbitrary<bool>()) facts.scale_g = Grams{*rc::gen::element(1.0, 5.0, 28.3)};
  if (*rc::gen::arbitrary<bool>()) facts.units = record::UnitChoice{WeightUnit::ounces, TemperatureUnit::fahrenheit};
  s.facts(facts);
  if (*rc::gen::arbitrary<bool>()) s.breed(*rc::gen::element<std::string>("Golden Retriever", "Maltese", "Beagle"));
  if (*rc::gen::arbitrary<bool>()) s.mated(kNight - hours(age_h) - days(from_to(50, 72)));
  for (int n = from_to(0, 4), i = 1; i <= n && age_h >= 0; ++i)
    s.born(std::to_string(i), kNight - hours(age_h) + minutes(30 * i), from_to(100, 600));
  for (int n = from_to(0, 20); n > 0; --n) {
    const Instant at = kNight - hours(from_to(0, std::max(72, age_h)));
    if (*rc::gen::arbitrary<bool>())
      s.weighed(any_label(), from_to(100, 3000), at);
    else
      tell_any(s, at);
  }
  const auto some_id = [&] {
    return fmt::format("00000000-0000-4000-8000-{:012x}", from_to(1, static_cast<int>(s.entries().size()) + 1));
  };
  for (int n = from_to(0, 2); n > 0; --n) s.strike(some_id(), kNight);
  for (int n = from_to(0, 2); n > 0; --n)
    s.weighed(any_label(), from_to(100, 3000), kNight - hours(from_to(0, 48))).correcting(some_id());
  return s;
}

}  // namespace lampside::testing
