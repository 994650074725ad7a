// The edge where time zones come from: the system's tables, read once and handed to the core as data.
#pragma once

#include <string>

#include "measure/result.hpp"
#include "measure/time.hpp"

namespace lampside::zone {

/// The zone of that IANA name, with its changes from 1990 to 2100. Errors: ZONE_UNKNOWN (lists near names).
Result<Zone> load(const std::string& name);

/// The name of this machine's zone ("UTC" when it cannot be told).
std::string local_name();

}  // namespace lampside::zone
