// What is in the house: the journal's `stock` entries of each item laid over each other, and what the next litter takes
// over.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::supplies {

struct Kept {
  const reference::SupplyItem* row = nullptr;  ///< null: the keeper's own item
  /// `item` is the row's name where there is a row; `have` what is left: the last count less what was used since.
  record::Stock what;
  Instant seen;        ///< when somebody last said where it is, or how much
  bool begun = false;  ///< something of it was used since it was counted
};

/// The row that goes by this name, whatever its capitals; null: the keeper's own.
const reference::SupplyItem* row_of(const reference::Reference& reference, std::string_view name);
/// What its amounts are counted in, by its row or by the keeper's word for an item of their own; empty: pieces.
std::string_view unit_of(const record::Litter& litter, const reference::Reference& reference, std::string_view name);
/// A name of something only a vet gives, also as a word in a longer name ("oxytocin 10 IU").
bool is_vet_only(const reference::Reference& reference, std::string_view name);

/// Each item anything is written about, in order of first mention. What was used since the last count is taken off:
/// what somebody said ("used 3"); doses of the product that bears the item's name, in its unit; a course of the wormer
/// for each dog dosed; milk powder for the feeds by hand, where the tin's own proportion is written down. Never below
/// nothing.
std::vector<Kept> inventory(const record::Litter& litter, const reference::Reference& reference);

/// The printed date, or the day it was opened and the days it keeps then, whichever is first.
std::optional<CivilDay> use_by(const record::Stock& item);
/// Of what there is, what is still good on that day: nothing on its printed date or later; of a pack open too long,
/// only the packs still closed, where the size of a pack is known.
Amount usable(const record::Stock& item, Amount have, CivilDay day);

/// Whether a litter needs its supplies no more: all pups that were born have left or died, or are six weeks old.
bool finished(const record::Litter& litter, Instant now);

/// What the next litter begins with: every item of the earlier one with what is left of it, `from` naming that litter.
/// The keeper's own items, amounts, packs and prices go along; what is out of date by `day` goes along as none.
/// Nothing is lost and nothing is made: for each item the amount is the earlier litter's, or 0 when out of date.
std::vector<record::Stock> opening_stock(const record::Litter& earlier, const reference::Reference& reference,
                                         CivilDay day);

/// An amount as typed: "400", "400 g", "2,5", "2 packs" (with the size of a pack known). Errors: AMOUNT_PACK (packs of
/// unknown size), AMOUNT_UNIT (another unit), AMOUNT_NEGATIVE, NUMBER_*.
Result<Amount> parse_amount(std::string_view text, std::string_view unit, std::optional<Amount> pack);

}  // namespace lampside::supplies
