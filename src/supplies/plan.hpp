// What must be in the house, by when, what is there and what is short: one line an item, worst first.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "due/forecast.hpp"
#include "supplies/amounts.hpp"
#include "supplies/litter_size.hpp"
#include "supplies/stock.hpp"

namespace lampside::supplies {

enum class State { missing, short_of, enough, not_needed };
std::string_view name_of(State state);  ///< "missing", "short", "enough", "not_needed"

struct Line {
  std::string item, purpose, unit, group;
  const reference::SupplyItem* row = nullptr;         ///< null: the keeper's own
  reference::Assessed<Amount> need_half = Amount{0};  ///< for the litter that half of such litters do not exceed
  reference::Assessed<Amount> need = Amount{0};       ///< and 19 in 20 do not
  bool own_amount = false;                            ///< the keeper's figure, not the rule's
  Amount have{0};                                     ///< what can be used: out of date counts as none
  bool spoken_of = false;                             ///< anything is written down about it
  State state = State::missing;
  record::Keeping where = record::Keeping::to_buy;
  std::optional<CivilDay> by, until;  ///< without a date for the litter: none
  std::optional<CivilDay> expires;    ///< the printed date, or what it keeps once opened
  std::optional<Days> keeps_open;
  std::optional<CivilDay> opened;
  bool ask_opened = false;  ///< begun, keeps only so long once opened, and nobody said since when it is open
  bool past_date = false;   ///< some of it: by today, or before she may whelp
  bool expired = false;     ///< all of it
  bool runs_out = false;    ///< good now, out of date before it is needed no more
  std::optional<CivilDay> tried;
  bool to_try = false;  ///< asks to be tried, and has not been lately
  Amount lacking{0};    ///< up to `need`
  std::optional<Amount> pack;
  int packs = 0;             ///< whole ones to buy; 0 where the size of a pack is not known
  std::optional<Cash> cost;  ///< of what is lacking, in whole packs
  std::optional<Instant> seen;
  bool wanted = true;  ///< false: this keeper does without
  bool car = false;    ///< goes into the car to the vet

  [[nodiscard]] bool is(std::string_view mark) const { return row && row->is(mark); }
  [[nodiscard]] bool present() const { return have.count() > 0; }
};

struct Plan {
  LitterSize litter;
  std::optional<CivilDay> anchor;  ///< the day its dates count from: her window opens, or the first pup's day
  bool born = false;
  bool begun = false;                 ///< anything is written down about supplies
  std::vector<Line> lines;            ///< in the order of the table, then the keeper's own; vet-only items never
  std::vector<CivilDay> shop_days;    ///< today and later
  std::vector<std::string> vets_own;  ///< what only a vet gives: named so that nobody looks for it here
};

Plan plan(const record::Litter& litter, const reference::Reference& reference, Instant now,
          const reference::Assessed<due::Forecast>& due);

/// One trip to the shops and what to bring from it. An item comes on the last trip that is in time for it; what is late
/// comes on the first. Without a trip in time, or any: `day` is empty, first what its day asks for soon, then the rest.
struct Trip {
  std::optional<CivilDay> day;
  bool later = false;  ///< nothing of it is needed within two weeks
  std::vector<const Line*> lines;
};
std::vector<Trip> shopping(const Plan& plan, CivilDay today);
/// What is lacking and is made or done at home.
std::vector<const Line*> to_make(const Plan& plan);
/// What the kit check walks through: the kit of the table, and what the keeper keeps in it.
std::vector<const Line*> kit(const Plan& plan);

/// Missing, short, out of date, not tried, lamp without a guard; nothing looked through. Few, and grouped.
std::vector<reference::Finding> findings(const record::Litter& litter, const reference::Reference& reference,
                                         Instant now, const reference::Assessed<due::Forecast>& due, const Plan& plan);

}  // namespace lampside::supplies
