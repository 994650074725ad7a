// The plan of care: how many tasks stand at a point, and what is wrong in what was done.
#include "limits.hpp"

namespace lampside::testing {
namespace {

/// `n` tasks of the keeper's own, whose day lies `days_from_now` away. No litter: nothing else is in the plan.
auto own(int days_from_now, int lasting = 0) {
  return [=](double n) {
    Story story;
    const CivilDay day{std::chrono::floor<std::chrono::days>(kNight).time_since_epoch() +
                       std::chrono::days{days_from_now}};
    for (int i = 0; i < std::lround(n); ++i)
      story.tell(kNight - days(1), "",
                 record::CareOwn{"task " + std::to_string(i), day, day + std::chrono::days{lasting}});
    return story.assess(kNight);
  };
}

/// `n` pups given a vaccine on day 30.
advice::Assessment vaccinated_early(double n) {
  Story story;
  for (int i = 1; i <= 3; ++i) story.born(std::to_string(i), kNight - days(60));
  for (int i = 1; i <= std::lround(n); ++i) story.tell(kNight - days(30), std::to_string(i), record::Done{"vaccine"});
  return story.assess(kNight);
}

auto chipped(const char* number) {
  return [number](double n) {
    Story story;
    for (int i = 1; i <= std::max(1L, std::lround(n)); ++i) story.born(std::to_string(i), kNight - days(50));
    for (int i = 1; i <= std::lround(n); ++i)
      story.tell(kNight, std::to_string(i), record::Microchip{number + std::to_string(i), {}});
    return story.assess(kNight);
  };
}

advice::Assessment bleeding(double n) {
  Story story;
  for (int i = 1; i <= 3; ++i) story.born(std::to_string(i), kNight - days(3));
  for (int i = 1; i <= std::lround(n); ++i) story.tell(kNight, std::to_string(i), record::Wound{true, {}, {}, {}});
  return story.assess(kNight);
}

advice::Assessment inflamed(double n) {
  return Story{}
      .born("1", kNight - days(3))
      .tell(kNight, "1", record::Wound{{}, n >= 1, n >= 2, n >= 3})
      .assess(kNight);
}

const Cases care{
    {"CARE_OVERDUE", Level::act, kAtOrAbove, 1, own(-1)},
    {"CARE_LAST_DAY", Level::act, kAtOrAbove, 1, own(0)},
    {"CARE_OPEN", Level::watch, kAtOrAbove, 1, own(0, 3)},
    {"CARE_SOON", Level::note, kAtOrAbove, 1, own(2)},
    {"CARE_TOO_EARLY", Level::act, kAtOrAbove, 1, vaccinated_early},
    {"CHIP_WRONG", Level::act, kAtOrAbove, 1, chipped("98514100012345678")},
    {"CHIP_ODD", Level::watch, kAtOrAbove, 1, chipped("99900000000000")},
    {"WOUND_BLEEDING", Level::call_vet, kAtOrAbove, 1, bleeding},
    {"WOUND_INFLAMED", Level::call_vet, kAtOrAbove, 1, inflamed},
    {"LEFT_TOO_YOUNG", Level::act, kBelow, 1,
     [](double d) {
       return Story{}.born("1", kNight - days(d)).tell(kNight, "1", record::Departure{}).assess(kNight);
     }},
};

}  // namespace
}  // namespace lampside::testing
