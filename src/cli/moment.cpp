#include "cli/moment.hpp"

#include <fmt/format.h>

#include <chrono>

namespace lampside::cli {

Result<Moment> Moment::parse(const std::string& text) {
  Moment m;
  std::string iso = text;
  if (iso.size() > 10 && iso[10] == ' ') iso[10] = 'T';
  if (const auto stamp = parse_stamp(iso)) {
    m.instant_ = stamp->instant;
    return m;
  }
  // Without an offset it is wall time: read as UTC here, and only its day and time of day are used.
  const auto wall = parse_stamp(iso + "Z");
  if (!wall)
    return problem("MOMENT_FORMAT", fmt::format("\"{}\" is not a moment", text),
                   "write 2026-03-01T02:30 for the litter's wall clock, or 2026-03-01T02:30+01:00");
  m.day_ = Zone{}.day_of(wall->instant);
  m.time_ = Zone{}.time_of_day(wall->instant);
  return m;
}

Instant Moment::in(const Zone& zone) const { return instant_ ? *instant_ : zone.instant_of(day_, time_); }

Instant machine_now() { return std::chrono::time_point_cast<Span>(std::chrono::system_clock::now()); }

std::function<Instant()> running_from(Instant at) {
  const auto started = std::chrono::steady_clock::now();
  return [=] { return at + std::chrono::duration_cast<Span>(std::chrono::steady_clock::now() - started); };
}

}  // namespace lampside::cli
