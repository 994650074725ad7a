// What the parts of the nest share: figures by name with their sources, who drinks from her, numbers with their nouns.
#pragma once

#include <cstdlib>
#include <string>
#include <string_view>

#include "measure/time.hpp"
#include "record/litter.hpp"
#include "reference/tables.hpp"

namespace lampside::nest {

/// A row of the parameters. A name that is not there is our own slip: it stops the program.
inline const reference::Parameter& figure(const reference::Reference& reference, std::string_view name) {
  for (const auto& p : reference.parameters)
    if (p.name == name) return p;
  std::abort();
}

/// Fed only by hand by the keeper's last word: it takes no place at a teat and none of her milk.
inline bool drinks_nothing(const record::Pup& pup, Instant now) {
  const record::HandFeeding* last = nullptr;
  for (const auto& h : pup.hand_feedings)
    if (h.at <= now) last = &h.what;
  return last && last->share == record::FeedShare::full;
}

/// "1 pup", "9 pups".
inline std::string counted(int n, std::string_view one, std::string_view many) {
  return std::to_string(n) + " " + std::string(n == 1 ? one : many);
}

}  // namespace lampside::nest
