// The dated plan of care: every task of the chosen sets, for whom, and from which day to which.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "record/litter.hpp"
#include "reference/finding.hpp"
#include "reference/tables.hpp"

namespace lampside::care {

enum class State {
  overdue,   ///< its last day has passed
  last_day,  ///< closes today
  open,      ///< may be done today; a period: runs
  waiting,   ///< opens on a later day
  later,     ///< put off by the keeper
  done,
  missed,   ///< passed over: the next round has taken its place, or it is too long ago to matter
  dropped,  ///< taken out of the plan by the keeper
  family    ///< the pup has left; it is its family's to do
};
std::string_view name_of(State state);  ///< "overdue", "last_day", ...

/// One task for one animal (or the box, or the keeper). Days are civil days of the litter's zone.
struct Item {
  const reference::CareTask* row = nullptr;  ///< null: the keeper's own
  std::string task;                          ///< permanent: the row's id, and from the second round on ".2", ".3"
  int round = 1;
  std::string what;
  std::string about;  ///< a pup's label, "dam", "box"; empty: the keeper, or pups not born yet
  CivilDay opens{}, best{}, closes{};
  State state = State::waiting;
  bool expected = false;                 ///< hangs on a birth that is still forecast: it moves with the forecast
  std::optional<CivilDay> until{};       ///< put off to that day
  std::string why;                       ///< the keeper's reason for moving, putting off or dropping it
  std::optional<CivilDay> done;          ///< when
  record::EntryId done_by;               ///< the entry that says so
  std::optional<std::string> too_early;  ///< done before it may count: how much before, in words

  [[nodiscard]] bool ticked() const { return !row || row->kind == "task"; }
  /// Asks for something today.
  [[nodiscard]] bool due() const { return state == State::overdue || state == State::last_day || state == State::open; }
};

/// The ways of doing one thing: what is followed, and what the law of the place keeps out.
struct Choice {
  std::string_view topic;
  const reference::CareSet* followed = nullptr;
  std::vector<const reference::CareSet*> offered;
  std::vector<const reference::CareSet*> withheld;  ///< the law of the place, or no place known
};

struct Plan {
  CivilDay today{};
  std::string place;
  std::optional<CivilDay> day0;  ///< of whelping, or its forecast
  std::vector<Item> items;       ///< by best day
  std::vector<Choice> choices;
};

/// The plan as of `now`. `due`: the middle of the forecast, used until the first pup is born.
/// Pure; the same answer for the same arguments. What was ticked stays done for ever, unless the tick is struck out.
Plan plan(const record::Litter& litter, const reference::Reference& reference, Instant now, std::optional<Instant> due);

/// The same task of several animals on the same days, in one.
struct Group {
  std::vector<const Item*> items;
  [[nodiscard]] const Item& first() const { return *items.front(); }
};
/// Items that `keep` wants, joined by task, state and days; in the plan's order.
std::vector<Group> grouped(const Plan& plan, bool (*keep)(const Item&));
std::vector<Group> grouped(Plan&& plan, bool (*keep)(const Item&)) = delete;  // groups point into their plan
/// "Worm the pups, each by today's weight (round 2): 8 pups", "... : pups 1, 4".
std::string say_group(const record::Litter& litter, const Group& group);

/// What the plan reminds of, few and the worst first, and what is wrong in what was done. `busy`: while she whelps
/// nothing is reminded of. Codes: CARE_OVERDUE, CARE_LAST_DAY, CARE_OPEN, CARE_SOON, CARE_TOO_EARLY, LEFT_TOO_YOUNG,
/// CHIP_WRONG, CHIP_ODD, WOUND_BLEEDING, WOUND_INFLAMED.
std::vector<reference::Finding> findings(const Plan& plan, const record::Litter& litter,
                                         const reference::Reference& reference, Instant now, bool busy);

}  // namespace lampside::care
