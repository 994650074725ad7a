#include "measure/time.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace lampside {
namespace {

using std::chrono::days;
using std::chrono::floor;
using std::chrono::milliseconds;
using std::chrono::seconds;

bool digits(std::string_view& text, std::size_t count, int& out) {
  if (text.size() < count) return false;
  int value = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (text[i] < '0' || text[i] > '9') return false;
    value = value * 10 + (text[i] - '0');
  }
  out = value;
  text.remove_prefix(count);
  return true;
}
bool eat(std::string_view& text, char c) {
  if (text.empty() || text.front() != c) return false;
  text.remove_prefix(1);
  return true;
}
Result<CivilDay> eat_day(std::string_view& text, std::string_view whole) {
  int y = 0, m = 0, d = 0;
  if (!digits(text, 4, y) || !eat(text, '-') || !digits(text, 2, m) || !eat(text, '-') || !digits(text, 2, d))
    return problem("DAY_FORMAT", fmt::format("\"{}\" is not a date", whole), "write year-month-day, e.g. 2026-03-01");
  const std::chrono::year_month_day ymd{std::chrono::year{y}, std::chrono::month{static_cast<unsigned>(m)},
                                        std::chrono::day{static_cast<unsigned>(d)}};
  if (!ymd.ok() || y < 1900 || y > 2200)
    return problem("DAY_FORMAT", fmt::format("\"{}\" is not a day of the calendar", whole), "check day and month");
  return CivilDay{ymd};
}

constexpr std::array kWeekdays{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
constexpr std::array kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

}  // namespace

Zone::Zone(std::string name, Minutes initial, std::vector<Change> changes)
    : name_{std::move(name)}, initial_{initial}, changes_{std::move(changes)} {}

Minutes Zone::offset_at(Instant t) const {
  const auto after = std::upper_bound(changes_.begin(), changes_.end(), t,
                                      [](Instant value, const Change& change) { return value < change.from; });
  return after == changes_.begin() ? initial_ : std::prev(after)->offset;
}

CivilDay Zone::day_of(Instant t) const { return CivilDay{floor<days>(t + offset_at(t)).time_since_epoch()}; }

Minutes Zone::time_of_day(Instant t) const {
  const auto local = t + offset_at(t);
  return floor<Minutes>(local - floor<days>(local));
}

Instant Zone::instant_of(CivilDay day, Minutes since_midnight) const {
  const Instant as_utc{day.time_since_epoch() + since_midnight};
  // Offsets stay within 26 hours of each other, so only changes near the wanted moment can matter. Try the offset in
  // force before each of them, earliest first: the first that fits is the first time the clock showed this.
  const auto lo = std::lower_bound(changes_.begin(), changes_.end(), as_utc - days{2},
                                   [](const Change& change, Instant value) { return change.from < value; });
  Minutes offset = lo == changes_.begin() ? initial_ : std::prev(lo)->offset;
  for (auto change = lo; change != changes_.end() && change->from <= as_utc + days{2}; ++change) {
    if (as_utc - offset < change->from) return as_utc - offset;
    // The clock jumps over the wanted time: the gap ends at the change itself.
    if (as_utc - change->offset < change->from) return change->from;
    offset = change->offset;
  }
  return as_utc - offset;
}

Instant Zone::start_of(CivilDay day) const { return instant_of(day, Minutes{0}); }

Result<CivilDay> parse_day(std::string_view text) {
  const std::string_view whole = text;
  auto day = eat_day(text, whole);
  if (day && !text.empty())
    return problem("DAY_FORMAT", fmt::format("\"{}\" has more than a date in it", whole), "write e.g. 2026-03-01");
  return day;
}

Result<Stamp> parse_stamp(std::string_view text) {
  const std::string_view whole = text;
  const auto bad = [&](std::string_view what) {
    return problem("TIME_FORMAT", fmt::format("\"{}\" is not a time ({})", whole, what),
                   "write e.g. 2026-03-01T02:30:00+01:00");
  };
  const auto day = eat_day(text, whole);
  if (!day) return tl::unexpected(day.error());
  int h = 0, m = 0, s = 0, ms = 0;
  if (!eat(text, 'T') && !eat(text, ' ')) return bad("no T after the date");
  if (!digits(text, 2, h) || !eat(text, ':') || !digits(text, 2, m)) return bad("hours and minutes");
  if (eat(text, ':')) {
    if (!digits(text, 2, s)) return bad("seconds");
    if (eat(text, '.') || eat(text, ',')) {
      int scale = 100, any = 0;
      for (int digit = 0; digits(text, 1, digit); scale /= 10, ++any) ms += digit * scale;
      if (any == 0 || any > 9) return bad("fraction of a second");
    }
  }
  if (h > 23 || m > 59 || s > 59)
    return problem("TIME_RANGE", fmt::format("\"{}\" is no time of day", whole),
                   "hours go to 23, minutes and seconds to 59");
  Minutes offset{0};
  if (eat(text, 'Z') || eat(text, 'z')) {
  } else if (!text.empty() && (text.front() == '+' || text.front() == '-')) {
    const bool negative = text.front() == '-';
    text.remove_prefix(1);
    int oh = 0, om = 0;
    if (!digits(text, 2, oh)) return bad("offset");
    if (!text.empty() && (static_cast<void>(eat(text, ':')), !digits(text, 2, om))) return bad("offset");
    if (oh > 15 || om > 59)
      return problem("TIME_RANGE", fmt::format("\"{}\" has an offset that no place uses", whole),
                     "offsets lie between -12:00 and +14:00");
    offset = std::chrono::hours{oh} + Minutes{om};
    if (negative) offset = -offset;
  } else {
    return problem("TIME_NO_OFFSET", fmt::format("\"{}\" does not say its offset from UTC", whole),
                   "add it, e.g. 2026-03-01T02:30:00+01:00, or Z for UTC");
  }
  if (!text.empty()) return bad("something after the offset");
  const Instant local{day->time_since_epoch() + std::chrono::hours{h} + Minutes{m} + seconds{s} + milliseconds{ms}};
  return Stamp{local - offset, offset};
}

std::string to_iso(CivilDay day) {
  const std::chrono::year_month_day ymd{day};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(ymd.year()), static_cast<unsigned>(ymd.month()),
                     static_cast<unsigned>(ymd.day()));
}

std::string to_iso(Stamp stamp) {
  const Instant local = stamp.instant + stamp.offset;
  const auto day = floor<days>(local);
  const auto rest = local - day;
  const auto h = floor<std::chrono::hours>(rest);
  const auto m = floor<Minutes>(rest - h);
  const auto s = floor<seconds>(rest - h - m);
  const auto ms = rest - h - m - s;
  std::string out =
      fmt::format("{}T{:02}:{:02}:{:02}", to_iso(CivilDay{day.time_since_epoch()}), h.count(), m.count(), s.count());
  if (ms.count() != 0) out += fmt::format(".{:03}", ms.count());
  if (stamp.offset == Minutes{0}) return out + "Z";
  const auto off = std::chrono::abs(stamp.offset).count();
  return out + fmt::format("{}{:02}:{:02}", stamp.offset < Minutes{0} ? '-' : '+', off / 60, off % 60);
}

std::string say_day(CivilDay day) {
  const std::chrono::year_month_day ymd{day};
  return fmt::format("{} {} {}", kWeekdays[std::chrono::weekday{day}.c_encoding()], static_cast<unsigned>(ymd.day()),
                     kMonths[static_cast<unsigned>(ymd.month()) - 1]);
}
std::string say_time(const Zone& zone, Instant t) {
  const auto m = zone.time_of_day(t).count();
  return fmt::format("{:02}:{:02}", m / 60, m % 60);
}
std::string say_day_time(const Zone& zone, Instant t) { return say_day(zone.day_of(t)) + " " + say_time(zone, t); }

std::string say_span(Span span) {
  if (span < Span{0}) return "-" + say_span(-span);
  const auto minutes = floor<Minutes>(span).count();
  if (minutes < 60) return fmt::format("{} min", minutes);
  if (minutes < 48 * 60)
    return minutes % 60 == 0 ? fmt::format("{} h", minutes / 60)
                             : fmt::format("{} h {} min", minutes / 60, minutes % 60);
  const auto hours = minutes / 60;
  return hours % 24 == 0 ? fmt::format("{} d", hours / 24) : fmt::format("{} d {} h", hours / 24, hours % 24);
}

}  // namespace lampside
