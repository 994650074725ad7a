// A pup fed by hand, told in a line: for the tests of feeding.
#pragma once

#include "../advice/story.hpp"

namespace lampside::testing {

inline record::Milk milk_of(std::optional<double> kcal_ml) {
  record::Milk m{};
  m.name = "puppy milk";
  if (kcal_ml) m.kcal_ml = KcalPerMl{*kcal_ml};
  return m;
}
inline Story& by_hand(Story& s, Instant at, record::FeedShare share = record::FeedShare::full,
                      std::optional<record::FeedWay> way = record::FeedWay::bottle, const std::string& label = "1") {
  return s.tell(at, label, record::HandFeeding{share, way});
}
inline Story& fed(Story& s, double ml, Instant at, std::optional<double> kcal_ml = 1, const std::string& label = "1") {
  record::Feed f{Millilitres{ml}, record::FeedWay::bottle, {}};
  if (kcal_ml) f.kcal_ml = KcalPerMl{*kcal_ml};
  return s.tell(at, label, f);
}
/// A pup of that weight and age in days, weighed a minute ago, fed by hand since its birth with milk of 1 kcal/ml.
inline Story hand_fed(double grams, double age_d, double kcal_ml = 1) {
  Story s;
  s.born("1", kNight - days(age_d));
  s.weighed("1", grams, kNight - minutes(1));
  s.tell(kNight - days(age_d), "", milk_of(kcal_ml));
  return by_hand(s, kNight - days(age_d));
}
inline const nest::PupFeeding& pup_1(const advice::Assessment& a) { return a.feeding.pups.at(0); }
/// Its plan; throws where it has none.
inline nest::Plan plan_1(const Story& s, Instant now = kNight) {
  return std::get<nest::Plan>(pup_1(s.assess(now)).plan);
}
inline std::string_view no_plan_1(const Story& s, Instant now = kNight) {
  const auto a = s.assess(now);
  const auto* why = std::get_if<reference::NotAssessed>(&pup_1(a).plan);
  return why ? why->code : "planned";
}
inline std::string stops_1(const Story& s, Instant now = kNight) {
  std::string out;
  const auto a = s.assess(now);
  for (const auto& stop : pup_1(a).stops) out += (out.empty() ? "" : " ") + std::string(stop.code);
  return out;
}

}  // namespace lampside::testing
