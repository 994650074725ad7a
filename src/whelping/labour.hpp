// What the signs and births amount to at a moment: read once, used by the watch and by the red flags.
#pragma once

#include <optional>

#include "whelping/watch.hpp"

namespace lampside::whelping {

/// Straining shorter than this that stopped is not yet told of.
inline constexpr Span kRealEffort = Minutes{20};

/// Straining that has ended without a pup.
struct Bout {
  Instant from, until;
  [[nodiscard]] Span span() const { return until - from; }
};

struct Labour {
  Stage stage = Stage::before;
  Effort effort = Effort::none;
  int born = 0, alive = 0, placentas = 0;
  std::optional<int> expected;
  bool at_least = false;
  bool over = false;          ///< settled, or quiet long enough after the last pup, with no waters and no pup showing
  bool more_expected = true;  ///< another pup may still come: the gap clocks run
  std::optional<Instant> first_birth, last_birth;
  std::optional<Instant> run_since;     ///< first straining of the present run
  std::optional<Instant> strong_since;  ///< first strong straining of the present run
  std::optional<Bout> strong_bout;      ///< the longest strong straining since the last birth that eased or stopped
  std::optional<Bout> run_bout;         ///< the longest straining of any kind since the last birth that stopped
  std::optional<Instant> labour_since;  ///< first straining or birth of all
  std::optional<Instant> first_stage_since;
  std::optional<Instant> waters_since, green_since, visible_since;  ///< since the last birth
  std::optional<Instant> settled_at;
  /// Not straining, no waters, no pup showing since the last birth.
  [[nodiscard]] bool quiet() const { return effort == Effort::none && !waters_since && !visible_since; }
  [[nodiscard]] bool counted_out() const { return expected && born >= *expected; }
};

Labour read_labour(const record::Litter& litter, Instant now);

}  // namespace lampside::whelping
