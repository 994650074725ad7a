// What is told of a pup to somebody who has not seen it: facts only, and nobody's name or address.
#pragma once

#include <string>
#include <vector>

#include "care/plan.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::homes {

struct Fact {
  std::string name, says;
};
/// Something done for the pup's health: when, what, of which lot (of a vaccine the tick's note: its name and lot).
struct Done {
  CivilDay day;
  std::string what;
  std::string lot;
};

/// Worming, vaccination, chip, vet, by day: doses as they were given, and what the plan of care had ticked.
std::vector<Done> health_done(const record::Litter& litter, const care::Plan& plan, const record::Pup& pup);
/// What the plan of care still holds for its health: "Vaccinate (round 2)", with its window.
std::vector<const care::Item*> health_ahead(const care::Plan& plan, const record::Pup& pup);
/// Of its health what was not ticked in its days: past, and no date to promise.
std::vector<const care::Item*> health_past(const care::Plan& plan, const record::Pup& pup);
/// What it has met: the tasks of socialisation and handling that were ticked.
std::vector<const care::Item*> met(const care::Plan& plan, const record::Pup& pup);

/// The facts of the sheet, in order. Nothing of families, buyers, the keeper, notes or the chip's number.
std::vector<Fact> pup_facts(const record::Litter& litter, const reference::Reference& reference, const care::Plan& plan,
                            const record::Pup& pup, Instant now);
/// The same as plain text, to paste anywhere.
std::string pup_text(const record::Litter& litter, const reference::Reference& reference, const care::Plan& plan,
                     const record::Pup& pup, Instant now);

}  // namespace lampside::homes
