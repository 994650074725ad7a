// A dosing round: one product, the whole litter, today. Who gets how much, who gets none and why, who had it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "care/dose.hpp"

namespace lampside::care {

/// A weight fit to dose by.
using DoseWeight = growth::SoundWeight;
/// Not assessed: STALE_WEIGHT (says how wrong it would be), and as growth::sound_weight.
Assessed<DoseWeight> dose_weight(const record::Litter& litter, const record::Pup& pup, const growth::Standing& standing,
                                 std::span<const growth::Doubt> doubts, const reference::Reference& reference,
                                 Instant now);

struct DogDose {
  std::string about;  ///< a pup's label, or "dam"
  Assessed<DoseWeight> weight;
  /// Why nothing is worked out for it. Codes: those of dose_weight and dosage, LABEL (it cannot be read),
  /// STRENGTH_DOUBT, EXPIRED, OPENED_WHEN, UNDER_AGE, TOO_SOON, COURSE_BROKEN, NO_INTERVAL, TWO_WORMERS, ANTAGONISTS,
  /// UNWELL.
  std::vector<NotAssessed> refused;
  std::optional<Dosage> dose;                      ///< only when nothing refuses it and it was not given today
  int day = 1;                                     ///< of the label's days in a row
  std::vector<record::Noted<record::Dose>> given;  ///< of this product, today
  std::optional<record::Noted<record::DoseSkipped>> skipped;  ///< left out today
};

struct DosingRound {
  std::string product;
  record::EntryId label_entry;
  Result<Label> label;
  std::vector<DogDose> dogs;        ///< pups in the box in birth order, then the dam where the label allows it
  std::optional<Portion> together;  ///< what is still to be given today
  std::string other_strengths;      ///< of the same actives, in print; may be empty
  /// From today to the end of the usual course, at the label's interval; none when the label has none.
  std::optional<Need> course;
  int treatments = 0;
};

/// A round for each label, the latest label first. `findings` are those about the pups: an unwell pup is not wormed.
/// Source: Dog Owner's Home Veterinary Handbook, 4th ed., p. 52: not a chilled, ill or abruptly weaned pup.
std::vector<DosingRound> dosing_rounds(const record::Litter& litter, const reference::Reference& reference, Instant now,
                                       std::span<const growth::Standing> standings,
                                       std::span<const growth::Doubt> doubts,
                                       std::span<const reference::Finding> findings);

/// What the doses on record and the labels say to a person: codes DOSE_* and LABEL_*.
std::vector<reference::Finding> dose_findings(const record::Litter& litter, const reference::Reference& reference,
                                              Instant now);

}  // namespace lampside::care
