// Instants, civil days and the keeper's zone. No clock and no time zone database here: `now` and the zone come in.
#pragma once

#include <chrono>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.hpp"

namespace lampside {

/// A moment, the same for everybody. Milliseconds, so that two phones' entries in one second keep their order.
using Instant = std::chrono::sys_time<std::chrono::milliseconds>;
/// A length of time. `std::chrono` units are already one type per unit.
using Span = std::chrono::milliseconds;
using Minutes = std::chrono::minutes;
/// A day of the keeper's calendar (local: it has no zone of its own and lasts 23, 24 or 25 hours).
using CivilDay = std::chrono::local_days;

/// A moment as somebody wrote it down: the instant, and the offset from UTC their clock had.
struct Stamp {
  Instant instant;
  Minutes offset{0};
  bool operator==(const Stamp&) const = default;
};

/// A time zone as the core knows it: what the clock's offset was from which moment on.
/// Made at the edge (src/zone) from the system's tables.
class Zone {
 public:
  struct Change {
    Instant from;
    Minutes offset;
    std::string abbreviation;
  };
  Zone() = default;  ///< UTC
  /// `changes` sorted by `from`; before the first, `initial` holds.
  Zone(std::string name, Minutes initial, std::vector<Change> changes);

  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] Minutes offset_at(Instant t) const;
  [[nodiscard]] Stamp stamp(Instant t) const { return {t, offset_at(t)}; }
  /// The civil day on which `t` falls for somebody in this zone.
  [[nodiscard]] CivilDay day_of(Instant t) const;
  /// The first moment of that civil day (a day may begin at 01:00 where clocks change at midnight).
  [[nodiscard]] Instant start_of(CivilDay day) const;
  /// The instant of a wall-clock time. In a gap: the moment the gap ends. When the hour comes twice: the first.
  [[nodiscard]] Instant instant_of(CivilDay day, Minutes since_midnight) const;
  /// Wall clock at `t`, as minutes since local midnight.
  [[nodiscard]] Minutes time_of_day(Instant t) const;

 private:
  std::string name_ = "UTC";
  Minutes initial_{0};
  std::vector<Change> changes_;
};

/// ISO 8601 with an offset: "2026-03-01T02:30:00+01:00", "...Z", seconds and milliseconds optional,
/// "2026-03-01T02:30+01". Errors: TIME_FORMAT, TIME_NO_OFFSET (a time without an offset could mean any of 24 hours),
/// TIME_RANGE.
Result<Stamp> parse_stamp(std::string_view text);
std::string to_iso(Stamp stamp);                    ///< "2026-03-01T02:30:00+01:00" (milliseconds only when not zero)
Result<CivilDay> parse_day(std::string_view text);  ///< "2026-03-01". Errors: DAY_FORMAT
std::string to_iso(CivilDay day);

/// For people: "Mon 2 Mar", "02:30", "Mon 2 Mar 02:30", "3 h 20 min", "2 d 4 h". English, no locale.
std::string say_day(CivilDay day);
std::string say_time(const Zone& zone, Instant t);
std::string say_day_time(const Zone& zone, Instant t);
std::string say_span(Span span);

}  // namespace lampside
