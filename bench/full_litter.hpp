// A full litter for the benchmarks: 12 pups, 8 weeks, about 3,000 entries, the same every time.
#pragma once

#include <vector>

#include "record/entry.hpp"

namespace lampside::bench {

/// Births over one night, weights four times a day to the end of week 2 and then twice, temperatures, air, feeds and
/// meals.
std::vector<record::Entry> full_litter();

/// The last moment of that journal.
Instant its_end();

}  // namespace lampside::bench
