// How long the data of a family may be kept, by rule.
#pragma once

#include <optional>
#include <string>

#include "homes/order.hpp"
#include "record/person.hpp"
#include "reference/tables.hpp"

namespace lampside::homes {

struct Keep {
  std::optional<CivilDay> until;  ///< absent: nothing has begun to count yet
  std::string because;
  const reference::Parameter* rule = nullptr;  ///< null: the keeper's own date
};

/// The keeper's own date, else by rule: so long after their pup went home; so long after they withdrew, or after the
/// litter has no free pup any more, for those without one.
Keep keep_until(const record::Person& person, const record::Litter& litter, const Order& order,
                const reference::Reference& reference, Instant now);

}  // namespace lampside::homes
