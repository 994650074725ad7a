// From what a keeper typed to entries. Pure: no clock, no journal; what is known comes in.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "care/plan.hpp"
#include "record/litter.hpp"

namespace lampside::server {

using Fields = std::multimap<std::string, std::string>;

/// The first field of that name without blanks around it; empty if absent.
std::string typed(const Fields& form, const std::string& name);

struct Known {
  const record::Litter& litter;
  std::function<const record::Entry*(const record::EntryId&)> find;  ///< in the whole journal; null: not there
  Instant now;
  std::string by;  ///< who or which device writes
};

/// A wall-clock time of the litter: "2026-03-01T02:30" (seconds allowed), "2026-03-01" (its noon), or with an offset of
/// its own. In the hour that comes twice in an autumn night: the first, except within two hours after the second, when
/// the second is meant (a clock of labour must not start an hour early).
/// Errors: FORM_TIME, FORM_FUTURE (more than five minutes after now), TIME_*.
Result<Stamp> parse_wall(std::string_view text, const Zone& zone, Instant now);

/// One entry of POST /l/KEY/record. A form sent twice gives the very entry that the journal has, so that it is a
/// replay. `tapped` is the moment for a form without `at` that a phone kept while it had no connection. With
/// `corrects`, the fields lie over those of the old entry: absent keeps, empty clears. Errors: FORM_* (KIND, CORRECTS,
/// STRENGTH_TWICE, STRENGTH_ODD, CHIP_TWICE, NUMBER, CHOICE, READING, TUB, TIME, FUTURE, SENT_BEFORE), HANDOVER_*,
/// those of record::decode.
Result<record::Entry> entry_from(const Fields& form, const Known& known);

/// Whether a label as typed can be one; anything but a label can. `old` is the entry it corrects. Errors: LABEL_*,
/// FORM_STRENGTH_TWICE, FORM_STRENGTH_ODD, FORM_MILK_ODD, FORM_MILK_DISAGREES.
Result<void> check_label(const record::Entry& entry, const Fields& form, const record::Entry* old);

/// The entries of POST /l/KEY/strike: `id` and `strike`, and more of them as `id-1`, `strike-1`. Those struck out
/// already are left out. Errors: FORM_STRIKE, FORM_SENT_BEFORE, ENTRY_ID.
Result<std::vector<record::Entry>> strike_from(const Fields& form, const Known& known);

/// The entries of POST /l/KEY/answer, about weights in doubt: with `answer` "right" a note on each that it stands as
/// written, else a correction of each to the grams shown. Fields entry-0, grams-0, entry-1, id-1, grams-1, ...
/// Errors: FORM_CORRECTS, FORM_NUMBER, those of record::check.
Result<std::vector<record::Entry>> answer_from(const Fields& form, const Known& known);

/// The entries of POST /l/KEY/tick: a task of the plan done for each animal whose `on-N` is true. Fields task-0,
/// about-0, on-0, id, task-1, about-1, on-1, id-1, ... A task done meanwhile is passed over. Errors: CARE_TOO_EARLY (a
/// hard task before its first day, unless `anyway` is true), FORM_TASK, FORM_TIME, FORM_FUTURE.
Result<std::vector<record::Entry>> tick_from(const Fields& form, const Known& known, const care::Plan& plan);

/// What POST /l/KEY/settings changes, or nothing. `zone_known` says whether a zone of that name exists.
/// Errors: FORM_* (NAME, CLEAR, NUMBER, PLACE), ZONE_UNKNOWN, DAY_*, those of record::check.
using ZoneCheck = std::function<Result<void>(const std::string& name)>;
Result<std::optional<record::Entry>> settings_from(const Fields& form, const Known& known, const ZoneCheck& zone_known);

struct Beginning {
  std::vector<std::string> litters;  ///< those there are
  std::string local_zone;            ///< when the form names none
  std::function<Result<Zone>(const std::string&)> zone;
  std::function<std::string()> fresh_id;
  Instant now;
  std::string by;
};
/// The entries of POST /start: the litter, and the mating and the X-ray count when given.
/// Errors: FORM_* (NAME, LITTER_TAKEN, CHOICE, NUMBER, FUTURE), ZONE_UNKNOWN, DAY_*, those of record::check.
Result<std::vector<record::Entry>> start_from(const Fields& form, const Beginning& beginning);

/// "juniper-2026" from "Juniper"; "-2" and so on when that is taken.
std::string litter_key(std::string_view dam_name, int year, const std::vector<std::string>& taken);

/// The label of the next pup: the lowest number that no entry speaks of.
std::string next_label(const record::Litter& litter);

}  // namespace lampside::server
