// Doses on record and labels.
#include "limits.hpp"

namespace lampside::testing {
namespace {

record::Product suspension() {
  record::Product p;
  p.name = "worm suspension";
  p.strength = "10 mg/ml";
  p.dose = "1 ml/kg";
  p.mark_ml = Millilitres{0.001};
  return p;
}
record::Dose dose_of(std::string product, double ml) {
  record::Dose d;
  d.product = std::move(product);
  d.ml = Millilitres{ml};
  return d;
}
Story labelled(const record::Product& p) {
  Story story;
  story.tell(kNight - days(30), "", p).born("1", kNight - days(20), 400);
  return story;
}
/// A dog of 100 kg by the entry, given that many percent more than the label's 100 ml.
advice::Assessment off_by(double pct) {
  auto d = dose_of("worm suspension", 100 + pct);
  d.weight_g = Grams{100'000};
  return labelled(suspension()).tell(kNight, "1", d).assess(kNight);
}
/// That many doses, a minute apart: of one product, or of as many.
auto doses(bool one_product) {
  return [one_product](double n) {
    Story story;
    story.born("1", kNight - days(20), 400);
    for (int i = 0; i < std::lround(n); ++i)
      story.tell(kNight + minutes(i), "1", dose_of(one_product ? "a" : std::string(1, static_cast<char>('a' + i)), 1));
    return story.assess(kNight + hours(1));
  };
}
advice::Assessment opposed(double n) {
  Story story;
  story.born("1", kNight - days(20), 400);
  for (int i = 0; i <= std::lround(n); ++i) {
    auto d = dose_of(i == 0 ? "first" : "second", 1);
    d.active = i == 0 ? "piperazine citrate" : "pyrantel embonate";
    story.tell(kNight - hours(30) + hours(i), "1", d);
  }
  return story.assess(kNight);
}
advice::Assessment too_young(double n) {
  auto p = suspension();
  p.min_age_d = Days{21};
  auto story = labelled(p);
  for (int i = 0; i < std::lround(n); ++i) story.tell(kNight - hours(i), "1", dose_of(p.name, 0.4));
  return story.assess(kNight);
}
advice::Assessment odd_labels(double n) {
  Story story;
  for (int i = 0; i < std::lround(n); ++i) {
    auto p = suspension();
    p.name += std::to_string(i);
    p.active = "pyrantel";
    p.strength = "45.4 mg/ml";
    story.tell(kNight - days(1), "", p);
  }
  return story.assess(kNight);
}
advice::Assessment past(double days_past) {
  auto p = suspension();
  p.expires = Zone{}.day_of(kNight) - std::chrono::days{std::lround(days_past)};
  return labelled(p).assess(kNight + hours(12));
}

const Cases all_doses{
    {"DOSE_TWICE", Level::act, kAtOrAbove, 1, doses(true)},
    {"DOSE_TWO_WORMERS", Level::act, kAtOrAbove, 1, doses(false)},
    {"DOSE_NOT_CHECKED", Level::note, kAtOrAbove, 1, doses(true)},
    {"DOSE_ANTAGONISTS", Level::act, kAtOrAbove, 1, opposed},
    {"DOSE_UNDER_FLOOR", Level::call_vet, kAtOrAbove, 1, too_young},
    {"DOSE_UNDER", Level::watch, kAtOrBelow, kHundredth, off_by},
    {"DOSE_OVER", Level::act, kAbove, kHundredth, off_by},
    {"DOSE_OVER", Level::call_vet, kAtOrAbove, kHundredth, off_by},
    {"LABEL_STRENGTH", Level::act, kAtOrAbove, 1, odd_labels},
    {"LABEL_EXPIRED", Level::watch, kAbove, 1, past},
};

}  // namespace
}  // namespace lampside::testing
