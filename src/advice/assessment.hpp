// Everything a keeper sees is a view of one assessment. No view computes anything of the trade itself.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "care/plan.hpp"
#include "care/round.hpp"
#include "due/forecast.hpp"
#include "growth/standing.hpp"
#include "homes/order.hpp"
#include "nest/feeding.hpp"
#include "nest/lamp.hpp"
#include "nest/nest.hpp"
#include "nest/plate.hpp"
#include "nest/supply_of_milk.hpp"
#include "nest/turns.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"
#include "supplies/plan.hpp"
#include "whelping/watch.hpp"

namespace lampside::advice {

using reference::Assessed;
using reference::Finding;
using reference::NotAssessed;

struct DamState {
  std::string name;
  Assessed<record::Noted<record::Temperature>> temperature;  ///< last reading
};

struct Assessment {
  Instant at;
  std::string litter;
  Assessed<due::Forecast> due;
  whelping::Watch whelping;
  DamState dam;
  std::vector<growth::Doubt> doubts;
  Assessed<Percent> gain;              ///< of the litter against the usual
  std::vector<growth::Standing> pups;  ///< in birth order, also those that died or left
  nest::NestState nest;
  nest::Feeding feeding{};
  nest::Turns turns{};
  nest::Plate plate{};
  Assessed<nest::MilkSupply> milk{NotAssessed{"NO_DATA", "no pup is born yet"}};
  Assessed<nest::LampAdvice> lamp = NotAssessed{"NO_DATA", "no pup is born yet"};
  nest::WarmthDay warmth{};  ///< under the lamp, the last 24 hours
  std::vector<nest::Rewarming> rewarming{};
  care::Plan care{};
  std::vector<care::DosingRound> dosing{};  ///< one a label, the latest first
  supplies::Plan supplies{};
  homes::Order homes{};
  std::vector<Finding> findings{};  ///< worst level first, then longest standing
};

/// What the journal means at `now`. Pure: no clock, file, socket or locale; the same answer for the same arguments.
/// Readings dated more than two minutes after `now` are not used and are told of by FUTURE_ENTRY; up to that a clock
/// runs fast, and they count as of now.
Assessment assess(const record::Litter& litter, const reference::Reference& reference, Instant now);

/// What an assessment leaves for the next one of the same litter, so that its weights need not be followed anew for
/// every screen. Goes with that one litter as it was folded; after an entry it starts empty.
struct Kept {
  std::optional<growth::Course> course;
};
/// The same answer, sooner where `kept` has some of it.
Assessment assess(const record::Litter& litter, const reference::Reference& reference, Instant now, Kept& kept);

/// The litter as assess() sees it, to be shown beside its assessment: without what is dated after `now`, but for the
/// log, which shows all, and for pups born then. None: it holds nothing of the kind and is shown as it is.
std::optional<record::Litter> known_by(const record::Litter& litter, Instant now);

/// By when the vet is to be rung though nothing happens: as the forecast says, a day after her temperature fell if that
/// is earlier (DROP_CLOCK's limit), and at once where a finding about her says call.
Instant ring_by(const Assessment& assessment, const due::Forecast& forecast, const reference::Reference& reference);
/// In words: "now"; the day where the forecast sets it; day and time where the clock of her temperature does.
std::string say_ring_by(const Assessment& assessment, const due::Forecast& forecast,
                        const reference::Reference& reference, const Zone& zone);

/// Puts beside them what is known only while the program runs: that a sensor's broker is away.
void add_live(Assessment& assessment, std::vector<Finding> findings);

}  // namespace lampside::advice
