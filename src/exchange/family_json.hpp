// All that is kept about a family, as they may ask to see it.
#pragma once

#include <optional>

#include "record/litter.hpp"
#include "record/person.hpp"

namespace lampside::exchange {

/// `{person, entries[]}`: who they are, if that is kept, and every entry of the journal that names them.
record::Json family_json(std::string_view family, const std::optional<record::Person>& person,
                         const record::Litter& litter);

/// Whether an entry speaks of this family.
bool names_family(const record::Entry& entry, std::string_view family);

}  // namespace lampside::exchange
