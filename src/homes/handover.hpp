// The day a pup leaves: what must be true, what the law of the place says, and what is told afterwards.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "care/plan.hpp"
#include "measure/result.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::homes {

/// The age the law of the place asks for; where it has no row, common practice.
struct LegalAge {
  Days least;
  std::string says;                           ///< the law's line as it was read
  std::optional<reference::Citation> source;  ///< none: no law of this place is known here
};
LegalAge legal_age(const record::Litter& litter, const reference::Reference& reference);
/// The first day on which it is that old.
CivilDay legal_from(const record::Litter& litter, const record::Pup& pup, const LegalAge& age);
/// From when it may go: the law's day, and the day the plan of care has for it where that is later.
CivilDay ready_day(const record::Litter& litter, const reference::Reference& reference, const care::Plan& plan,
                   const record::Pup& pup);

/// One thing that must be true on the day. `holds` empty: it cannot be told yet (nothing scanned, nothing signed).
struct DayCheck {
  std::string_view id;  ///< "age", "chip", "wormed", "weighed", "signed", "papers"
  std::string asks;
  std::optional<bool> holds;
  std::string says;
};
/// As of `at`, with what the handover says (null: not written down yet).
std::vector<DayCheck> day_checks(const record::Litter& litter, const reference::Reference& reference,
                                 const care::Plan& plan, const record::Pup& pup, Instant at,
                                 const record::Handover* said);

/// Whether a handover may be written down as it is said. Errors: HANDOVER_TOO_YOUNG (with the law's line; not with an
/// exception and the vet who makes it), HANDOVER_CHIP (the number scanned is not the one on paper).
Result<void> may_leave(const record::Litter& litter, const reference::Reference& reference, const record::Pup& pup,
                       const record::Handover& said, Instant at);

/// The pups at home without a picture in the last seven days; none while no picture was ever taken.
std::vector<std::string> without_picture(const record::Litter& litter, Instant now);
/// The pups whose families agreed to be asked, and were not heard of since they left, or not for a year.
struct Ask {
  std::string pup, family;
  CivilDay since;
};
std::vector<Ask> to_ask(const record::Litter& litter, const reference::Reference& reference, Instant now);

/// Codes: CHIP_DIFFERS, HANDOVER_OPEN, PICTURES_MISSING, FOLLOW_UP_DUE.
std::vector<reference::Finding> folder_findings(const record::Litter& litter, const reference::Reference& reference,
                                                const care::Plan& plan, Instant now);

}  // namespace lampside::homes
