// The shares and habits below are ours: nobody has published what breeders write down.
#include <array>

#include "reference/rules.hpp"
#include "rehearse/due.hpp"

namespace lampside::rehearse {
namespace {

using reference::to_span;

constexpr Instant kSeason = std::chrono::sys_days{std::chrono::year{2026} / 3 / 1};
Instant after(Instant t, double days) { return t + to_span(Days{days}); }

struct Bitch {
  std::string_view breed;
  double kg;
};
constexpr std::array kBitches{Bitch{"Golden Retriever", 30},
                              Bitch{"Labrador Retriever", 29},
                              Bitch{"German Shepherd", 32},
                              Bitch{"Cocker Spaniel", 13},
                              Bitch{"Chihuahua", 2.5},
                              Bitch{"Bernese Mountain Dog", 44},
                              Bitch{"", 18},
                              Bitch{"", 8}};

Story::Kind kind_of(double throw_) {
  if (throw_ < 0.35) return Story::Kind::matings;
  if (throw_ < 0.60) return Story::Kind::matings_and_progesterone;
  if (throw_ < 0.75) return Story::Kind::ovulation;
  if (throw_ < 0.87) return Story::Kind::dioestrus;
  if (throw_ < 0.92) return Story::Kind::lh_surge;
  return Story::Kind::scan_only;
}

template <class T>
void keep_up_to(std::vector<record::Noted<T>>& events, Instant now) {
  std::erase_if(events, [&](const auto& e) { return e.at > now; });
}

}  // namespace

Story story(const reference::Reference& reference, World world, Dice& dice) {
  using Kind = Story::Kind;
  Simulator draw{reference, world, dice};
  const Bitch& bitch = kBitches[static_cast<std::size_t>(dice.pick(static_cast<int>(kBitches.size())))];
  Pregnancy p = draw.pregnancy(bitch.breed, kSeason);
  Story out{kind_of(dice.uniform()), Simulator::litter(bitch.breed, bitch.kg), {}, p.whelping};
  out.now = after(p.whelping, -dice.uniform(1.0 / 24, 20));
  auto& litter = out.litter;

  switch (out.kind) {
    case Kind::matings:
      draw.matings(litter, p, 1 + dice.pick(3), false);
      break;
    case Kind::matings_and_progesterone:
      draw.progesterone(litter, p, dice.happens(0.5) ? 2 : 1);
      draw.matings(litter, p, 1 + dice.pick(2), true);
      break;
    case Kind::ovulation:
      draw.ovulation(litter, p);
      if (dice.happens(0.8)) draw.matings(litter, p, 1 + dice.pick(2), true);
      if (dice.happens(0.5)) draw.progesterone(litter, p, 2);
      break;
    case Kind::dioestrus:
      draw.dioestrus(litter, p);
      if (dice.happens(0.8)) draw.matings(litter, p, 1 + dice.pick(3), false);
      break;
    case Kind::lh_surge:
      draw.lh_surge(litter, p);
      if (dice.happens(0.8)) draw.matings(litter, p, 1 + dice.pick(2), true);
      break;
    case Kind::scan_only:
      break;
  }
  if (out.kind == Kind::scan_only || dice.happens(0.35)) draw.scan(litter, p, "ICC", after(p.lh, dice.uniform(24, 35)));
  if (dice.happens(0.15)) draw.scan(litter, p, "BPD", after(p.lh, dice.uniform(40, 58)));
  if (dice.happens(0.35)) draw.xray(litter, p, after(p.lh, dice.uniform(55, 60)));
  if (dice.happens(0.3)) draw.earlier_litter(litter, p);
  if (dice.happens(0.5)) {
    // Never at set hours: some days none, some days four.
    for (double day = dice.uniform(56, 61); after(p.lh, day) < out.now; day += dice.uniform(0.1, 0.9))
      draw.temperature(litter, p, after(p.lh, day));
  }
  if (dice.happens(0.08))
    for (double before = dice.uniform(1, 5); before > 0; before -= dice.uniform(0.5, 1.2))
      if (after(p.whelping, -before) < out.now) draw.late_progesterone(litter, p, after(p.whelping, -before));
  if (dice.happens(0.4)) draw.signs(litter, p, out.now);
  // Wrong dates may even lie in the future; the forecast sets those aside, as a person would.
  keep_up_to(litter.foetal_measures, out.now);
  keep_up_to(litter.counts, out.now);
  return out;
}

}  // namespace lampside::rehearse
