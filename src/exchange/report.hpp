// An assessment as it looks outside: JSON for programs, text for a terminal. Nothing is worked out here.
#pragma once

#include <string>

#include "advice/assessment.hpp"
#include "record/litter.hpp"

namespace lampside::exchange {

/// The names of docs/assessment.schema.json, which are promised; what is not assessed says so in its place.
record::Json to_json(const advice::Assessment& assessment, const record::Litter& litter);

/// For a terminal: worst first, plain words, no line over 80 characters, ends with a newline.
std::string to_text(const advice::Assessment& assessment, const record::Litter& litter);

}  // namespace lampside::exchange
