// The invented litter of demo/, as it lies in the program.
#pragma once

#include <string_view>

namespace lampside::cli {

extern const std::string_view juniper_jsonl;
extern const std::string_view families_vcf;  ///< who its families are
extern const std::string_view moment_txt;    ///< the moment the demo opens at, ISO 8601

}  // namespace lampside::cli
