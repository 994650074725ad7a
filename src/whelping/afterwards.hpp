// The gentle part: prompts in labour, the first suckle, the dam in the weeks after, and what is normal.
#pragma once

#include <vector>

#include "whelping/labour.hpp"

namespace lampside::whelping {

std::vector<reference::Finding> afterwards(const record::Litter& litter, const reference::Reference& reference,
                                           Instant now, const Labour& labour);

}  // namespace lampside::whelping
