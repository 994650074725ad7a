// Picks that clash, picks out of turn, families in vain.
#include "limits.hpp"

namespace lampside::testing {
namespace {

record::Family family(int n) {
  record::Family f{};
  f.family = fmt::format("f{}", n);
  return f;
}
record::Choice pick(int n) {
  record::Choice c{};
  c.made = record::ChoiceMade::pick;
  c.family = fmt::format("f{}", n);
  return c;
}
/// Three pups; families f1, f2, ... noted a day after another.
Story listed(int families) {
  Story story;
  story.born("1", kNight, 400).born("2", kNight + hours(1), 400).born("3", kNight + hours(2), 400);
  for (int n = 1; n <= families; ++n) story.tell(kNight + days(n), "", family(n));
  return story;
}

const Cases homes{
    {"PUP_PICKED_TWICE", Level::act, kAtOrAbove, 1,
     [](double n) {
       Story story = listed(5);
       for (int f = 1; f <= std::lround(n); ++f) story.tell(kNight + days(20) + hours(f), "2", pick(f));
       return story.assess(kNight + days(21));
     }},
    {"PICK_OUT_OF_TURN", Level::watch, kAtOrAbove, 1,
     [](double n) {  // the first n families let the one after them go first
       Story story = listed(3);
       if (std::lround(n) > 0) story.tell(kNight + days(20), "1", pick(2));
       return story.assess(kNight + days(21));
     }},
    {"FAMILIES_IN_VAIN", Level::note, kAtOrAbove, 1,
     [](double n) { return listed(3 + static_cast<int>(std::lround(n))).assess(kNight + days(21)); }},
};

}  // namespace
}  // namespace lampside::testing
