// Pictures, chips and the day a pup leaves.
#include "limits.hpp"

namespace lampside::testing {
namespace {

Story grown(int pups) {
  Story story;
  for (int i = 1; i <= pups; ++i) story.born(std::to_string(i), kNight - days(70));
  return story;
}

/// `n` pups whose chip was written down twice, in two ways. Each is told of by itself.
advice::Assessment chips(double n) {
  Story story = grown(2);
  for (int i = 1; i <= std::min(1L, std::lround(n)); ++i) {
    story.tell(kNight - days(9), std::to_string(i), record::Microchip{"826098000000001", {}});
    story.tell(kNight - days(8), std::to_string(i), record::Microchip{"826098000000010", {}});
  }
  return story.assess(kNight);
}

/// A handover at which `n` checks did not hold: of those, papers and signature.
advice::Assessment handed_over(double n) {
  Story story = grown(1);
  story.tell(kNight - days(9), "1", record::Microchip{"826098000000001", {}});
  record::Dose dose{};
  dose.product = "wormer";
  story.tell(kNight - days(5), "1", dose).weighed("1", 6000, kNight);
  record::Handover h{};
  h.chip_read = "826098000000001";
  h.papers = n < 1;
  h.contract_signed = n < 2;
  return story.tell(kNight, "1", h).assess(kNight);
}

/// `n` of three pups without a picture this week.
advice::Assessment pictured(double n) {
  Story story = grown(3);
  story.tell(kNight - days(30), "1", record::Photo{"x.jpg", std::string(64, '0')});
  for (int i = 1; i <= 3 - std::lround(n); ++i)
    story.tell(kNight, std::to_string(i), record::Photo{"x.jpg", std::string(64, '0')});
  return story.assess(kNight);
}

/// A pup that left `d` days ago to a family that agreed to be asked.
advice::Assessment left(double d) {
  Story story = grown(1);
  record::Handover h{};
  h.family = "f1";
  story.tell(kNight - days(d), "1", h);
  return story.tell(kNight - days(d), "", record::Consent{"f1", "follow_up", true}).assess(kNight);
}

const Cases folder{
    {"CHIP_DIFFERS", Level::act, kAtOrAbove, 1, chips},
    {"HANDOVER_OPEN", Level::watch, kAtOrAbove, 1, handed_over},
    {"PICTURES_MISSING", Level::note, kAtOrAbove, 1, pictured},
    {"FOLLOW_UP_DUE", Level::note, kAtOrAbove, 1, left},
};

}  // namespace
}  // namespace lampside::testing
