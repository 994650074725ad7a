// The labour watch: what stage she is in, what each clock says, which limit has been passed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measure/time.hpp"
#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::whelping {

/// `before`: no sign yet. `first_stage`: restless, panting, shivering; no effort seen. `straining`: effort or fluid.
/// `between_pups`: at least one born, more expected or she is not settled. `done`: settled, or long quiet.
enum class Stage { before, first_stage, straining, between_pups, done };
std::string_view name_of(Stage s);  ///< "before", "first_stage", "straining", "between_pups", "done"

enum class Effort { none, weak, strong };

struct Clock {
  std::string kind;  ///< "strong_straining", "weak_straining", "waters", "green_discharge", "last_pup",
                     ///< "temperature_drop" (before the first pup), "labour"
  Instant since;
};
struct NextPup {
  Minutes p25, p50, p90;
};

/// One more pup may be inside. A chance with its caution, never a reassurance.
struct OneLeft {
  double chance;
  std::string says;  ///< what it is reckoned from
};

struct Watch {
  Stage stage = Stage::before;
  Effort effort = Effort::none;
  int born = 0;
  int alive = 0;  ///< alive and in the box
  std::optional<int> expected;
  bool expected_at_least = false;  ///< X-ray counts are a minimum
  std::optional<Minutes> since_last_pup;
  reference::Assessed<NextPup> next_pup =
      reference::NotAssessed{"NO_MODEL", "the pace of this labour is not modelled yet"};
  reference::Assessed<NextPup> last_pup = reference::NotAssessed{"NO_MODEL", "not reckoned"};  ///< of those counted
  reference::Assessed<OneLeft> one_left = reference::NotAssessed{"NO_MODEL", "not reckoned"};
  std::vector<Clock> clocks;  ///< the running ones
  int placentas_seen = 0;
};

Watch watch(const record::Litter& litter, const reference::Reference& reference, Instant now);

/// Red flags of labour, signs that need a vet, newborn scores, the dam's temperature afterwards.
std::vector<reference::Finding> findings(const record::Litter& litter, const reference::Reference& reference,
                                         Instant now);

}  // namespace lampside::whelping
