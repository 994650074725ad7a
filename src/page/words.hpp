// Plain words for the codes of the journal and of the assessment, and times and numbers the way every page says them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "page/page.hpp"

namespace lampside::page {

std::string_view words_for(reference::Level level);       ///< "Emergency", "Call the vet", "Do now", "Watch", "Note"
std::string_view words_for(whelping::Stage stage);        ///< "Not begun", "Getting ready", ...
std::string_view words_for(record::Sign sign);            ///< "Panting", "Strong pushing", ...
std::string_view words_for(record::Sex sex);              ///< "bitch", "dog"
std::string_view words_for(record::Presentation p);       ///< "head first", "tail first"
std::string_view words_for(record::AirPlace place);       ///< "under the lamp", ...
std::string_view words_for_clock(std::string_view kind);  ///< "Since the last pup", ...

/// The words of a code in a table of pairs; a code that is not there stands for itself.
template <class Pairs>
std::string_view words_in(const Pairs& pairs, std::string_view code) {
  for (const auto& [name, words] : pairs)
    if (name == code) return words;
  return code;
}

/// Signs as the Whelping screen groups them.
struct SignGroup {
  std::string_view title;
  bool trouble;  ///< drawn apart: each of these is a reason to look at the rules for calling
  std::vector<record::Sign> signs;
};
const std::vector<SignGroup>& sign_groups();

/// One entry as one short line: "Pup 3: weight 412 g". No time, no author.
std::string say_entry(const record::Litter& litter, const record::Entry& entry);

/// "Pup 3, red", "Juniper", "the box", "the litter".
std::string say_about(const record::Litter& litter, std::string_view about);
std::string say_pup(const record::Pup& pup);  ///< "Pup 3, red" or "Pup 3"

/// "03:12" today, "yesterday 21:04", otherwise "Mon 2 Mar 03:12".
std::string say_when(const View& view, Instant t);
std::string say_at(const View& view, Instant t);            ///< "at 03:12" today, otherwise as say_when
std::string say_ago(const View& view, Instant t);           ///< "12 min ago", "just now", "in 3 h 20 min"
std::string say_change(Grams difference, WeightUnit unit);  ///< "gained 38 g", "lost 12 g", "no change"
/// "2026-03-01T02:30" on the litter's wall clock: the value of a date and time field.
std::string wall_clock(const Zone& zone, Instant t);

std::string percent_encode(std::string_view text);                               ///< for one part of an address
std::string litter_href(const record::Litter& litter, std::string_view screen);  ///< "/l/KEY/screen"
std::string pup_href(const record::Litter& litter, const record::Pup& pup);
/// "tel:+4412345" from what the keeper typed; empty when there is no digit in it.
std::string tel_href(std::string_view phone);

}  // namespace lampside::page
