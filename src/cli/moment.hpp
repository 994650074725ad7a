// The clock of the commands: the machine's, or pinned by --at.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "measure/time.hpp"

namespace lampside::cli {

/// A moment as typed: with an offset it is an instant, without one it waits for the litter's zone.
class Moment {
 public:
  /// "2026-03-01T02:30+01:00", "...Z", or wall time "2026-03-01T02:30", "2026-03-01 02:30". Errors: MOMENT_FORMAT.
  static Result<Moment> parse(const std::string& text);
  [[nodiscard]] Instant in(const Zone& zone) const;
  [[nodiscard]] bool needs_zone() const { return !instant_; }

 private:
  std::optional<Instant> instant_;
  CivilDay day_{};
  Minutes time_{0};
};

/// Now by the machine's clock.
Instant machine_now();

/// A clock that stands at `at` now and runs on.
std::function<Instant()> running_from(Instant at);

}  // namespace lampside::cli
