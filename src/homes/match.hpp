// Wishes against pups: a suggestion with its reasons, never a decision.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "homes/order.hpp"
#include "reference/tables.hpp"

namespace lampside::homes {

/// The ten scores by the names of the sub-tests, in their order.
std::vector<std::pair<std::string_view, int>> scores(const record::BehaviourTest& test);

struct Fit {
  int points = 0;
  std::vector<std::string> reasons;  ///< what speaks for it and what against, in words
};
Fit fit(const record::Litter& litter, const record::Family& wish, const record::Pup& pup,
        const reference::Reference& reference);

struct Pair {
  std::string family, pup;
  Fit fit;
};
struct Match {
  std::vector<Pair> pairs;         ///< by the families' places
  std::vector<std::string> later;  ///< families for whom no pup is free: those last in the order
};
/// For the free pups and the families that wait; where these are more, the first in the order.
Match match(const record::Litter& litter, const Order& order, const reference::Reference& reference);

}  // namespace lampside::homes
