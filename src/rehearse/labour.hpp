// The night rehearsed: simulated labours, normal and obstructed, and how the rules for ringing do on them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/litter.hpp"
#include "reference/tables.hpp"
#include "rehearse/dice.hpp"
#include "rehearse/share.hpp"

namespace lampside::rehearse {

/// What goes wrong: nothing, a pup that is stuck (straining goes on), or a womb that tires (straining fades, then
/// rest).
enum class Trouble { none, stuck, tired };

struct Night {
  record::Litter litter;  ///< what a keeper who notes everything has written
  Instant drop, first_stage, second_stage;
  std::vector<Instant> births;
  std::optional<Instant> trouble_since;  ///< the effort (or the wait) for the pup that does not come begins
  Instant end;                           ///< she settles, or the rehearsal stops: eight hours into the trouble
};
Night night(const reference::Reference& reference, Trouble trouble, Dice& dice);

struct Ring {
  Instant at;
  std::string code;  ///< of the flag, or of one of those, that rang
};
/// The first moment at or after `from` at which the rules say ring or go; nothing if they stay silent to the end. The
/// clock of the temperature drop counts only from before labour.
std::optional<Ring> first_ring(const Night& night, const reference::Reference& rules, Instant from);

/// The built-in tables with the ringing limits of one rank of the published limits ("lowest", "commonest", "highest")
/// in place of our own rules. Keeps the rows it makes.
class RuleSet {
 public:
  RuleSet(const reference::Reference& base, std::string_view rank);
  [[nodiscard]] const reference::Reference& rules() const { return rules_; }

 private:
  std::vector<reference::SpanRule> rows_;
  reference::Reference rules_;
};

struct LabourFigures {
  double boxer_pause_pct;                                 ///< normal labours with a pause of more than an hour
  double drop_mean_h, drop_sd_h, drop_p05_h, drop_p95_h;  ///< from the drop to the first pup
};
LabourFigures labour_figures(int labours, unsigned seed);

/// The table: how often each rule set rings on a normal labour, and how long before harm on a troubled one. The same
/// seed gives the same table.
std::string rehearse_labour(int normal, int troubled, unsigned seed, const Progress& progress = {});

}  // namespace lampside::rehearse
