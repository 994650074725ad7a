// Pictures of the demo's pups: drawn when it starts, for nobody's photograph of a real dog belongs in it.
#pragma once

#include <vector>

#include "measure/result.hpp"
#include "record/entry.hpp"
#include "store/attachments.hpp"
#include "store/journal.hpp"

namespace lampside::cli {

/// One of each pup at the end of each of its weeks here, and their `photo` entries, always with the same ids.
/// Errors: STORE_*, those of Attachments::keep and picture::clean.
Result<void> add_pictures(const std::vector<record::Entry>& entries, store::Journal& journal,
                          const store::Attachments& attachments);

}  // namespace lampside::cli
