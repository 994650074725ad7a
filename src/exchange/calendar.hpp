// The plan of care for the telephone's own calendar: iCalendar, RFC 5545 (with REFRESH-INTERVAL and NAME of RFC 7986).
#pragma once

#include <string>
#include <string_view>

#include "advice/assessment.hpp"
#include "record/litter.hpp"

namespace lampside::exchange {

/// One all-day event for each task that is still to do; the same task of several pups is one event, unless the keeper
/// moved it for one of them. What is done, dropped, missed or the family's has none: a subscribed calendar forgets it.
/// A task keeps its UID for ever, so that a task that moves, moves. SEQUENCE never falls: it counts the entries that
/// bear on the plan, and for what hangs on a forecast the hours as well. Turns at the teats stand as timed events, from
/// the one under way to 24 hours ahead; so do feeds by hand, pups of one half hour together. No METHOD: DTSTAMP is when
/// it last changed.
std::string to_calendar(const advice::Assessment& assessment, const record::Litter& litter);

/// A content line with its CRLF, folded so that no line is longer than 75 octets and no letter is cut (RFC 5545, 3.1).
std::string fold_line(std::string_view line);
/// Backslash, comma, semicolon and line break escaped (RFC 5545, 3.3.11); other control characters left out.
std::string escape_text(std::string_view text);

}  // namespace lampside::exchange
