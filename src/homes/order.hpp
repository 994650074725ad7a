// Whose turn it is to choose a pup, why, and who has which: the journal's families, choices and deposits replayed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/litter.hpp"
#include "reference/finding.hpp"

namespace lampside::homes {

/// The keeper, where a family stands else.
inline constexpr std::string_view kKeeper = "";

struct Waiting {
  std::string family;
  int place = 0;  ///< 1 for the first; by date of the deposit, then those without one in the order they were noted
  std::optional<Instant> deposit;  ///< when it came, if it was not returned
  Instant noted;
  bool withdrawn = false;
  int passes = 0;                  ///< in all
  int passes_now = 0;              ///< since a pup last became free: one who passed is asked again after the others
  std::optional<std::string> pup;  ///< held, or gone home with
  bool gone = false;               ///< with that pup
  [[nodiscard]] bool waits() const { return !withdrawn && !pup; }
};

/// A pup that two have picked: whoever was written down first, a person decides.
struct Contested {
  std::string pup;
  std::vector<std::string> by;  ///< families, kKeeper
};
/// A pick out of turn.
struct Skipped {
  record::EntryId id;
  Instant at;
  std::string pup, family;
  std::optional<std::string> instead_of;  ///< whose turn it was; nobody's
  std::string why;                        ///< as recorded; empty: no reason stands there
};

struct Order {
  record::PickRule rule{};
  std::vector<Waiting> families;       ///< by place
  std::vector<std::string> keeper;     ///< pups the keeper has picked
  int keeper_left = 0;                 ///< first picks still to come
  std::vector<std::string> free_pups;  ///< in the box, nobody's
  std::vector<Contested> contested;
  std::vector<Skipped> skipped;
  std::optional<std::string> next;  ///< a family, kKeeper, or nobody
  std::string why;                  ///< why they are next, or why nobody is

  [[nodiscard]] const Waiting* family(std::string_view id) const;
  /// Whose this pup is: a family, kKeeper, or nobody. A contested pup is nobody's.
  [[nodiscard]] std::optional<std::string> owner(std::string_view pup) const;
};

/// `name_of` never enters: reasons name a family by its place.
Order order(const record::Litter& litter, Instant now);

/// Whether this choice may be written down now. Errors: HOMES_FAMILY (unknown or withdrawn), HOMES_PUP (no such pup in
/// the box), HOMES_TAKEN, HOMES_HAS_ONE, HOMES_NOT_THEIRS, HOMES_TURN (out of turn without a reason).
Result<void> may_choose(const Order& order, const record::Litter& litter, const record::Choice& choice,
                        const std::string& pup);

/// "family 2", "the keeper".
std::string say(const Order& order, std::string_view family);

}  // namespace lampside::homes
