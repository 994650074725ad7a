// Who a family is. Never part of the journal: kept beside it, where it can be changed and erased.
#pragma once

#include <optional>
#include <string>

#include "measure/time.hpp"

namespace lampside::record {

struct Person {
  std::string family{};  ///< the id by which the journal speaks of them, the same in every litter
  std::string name{}, phone{}, email{}, address{}, note{};
  std::optional<CivilDay> keep_until{};  ///< the keeper's own date; absent: by rule
  bool consent = false;                  ///< they agreed that these lines are kept
  bool operator==(const Person&) const = default;
};

}  // namespace lampside::record
