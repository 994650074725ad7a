// An entry id made from what the entry is about, so that taking in the same sheet twice is a replay.
#pragma once

#include <string>
#include <string_view>

#include "record/entry.hpp"

namespace lampside::exchange {

/// A name-based UUID, version 5 (RFC 9562, section 5.5): the same name in the same namespace gives the same id.
/// `space` is a UUID in text. Tested: the worked example of RFC 9562, appendix A.4.
record::EntryId name_based_id(std::string_view space, std::string_view name);

/// The id of a row of a sheet: from the litter, the pup, what the row says ("weight", "birth") and when by the wall
/// clock. Not from the figure: a changed figure is then a conflict that is told, never a second weight.
record::EntryId row_id(std::string_view litter, std::string_view pup, std::string_view what, std::string_view when);

}  // namespace lampside::exchange
