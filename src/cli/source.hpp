// Where a command's litter comes from: a journal file or a data folder, seen at a moment.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "advice/assessment.hpp"
#include "cli/moment.hpp"
#include "record/litter.hpp"
#include "store/journal.hpp"

namespace lampside::cli {

struct Source {
  std::string file;    ///< a journal in JSON Lines; empty: the data folder
  std::string data;    ///< as given; empty: the usual place
  std::string litter;  ///< empty: the only one
  std::optional<Moment> at;
};

/// Opens the journal of a data folder that has one. Errors: DATA_NONE (no journal there), STORE_*.
Result<std::unique_ptr<store::Journal>> open_existing(const std::string& folder);

/// Errors: FILE_OPEN, SOURCE_TWO (a file and --data), those of read_jsonl and open_existing.
Result<std::vector<record::Entry>> entries_of(const Source& source);

/// The litter asked for, or the only one. Errors: LITTER_NONE, LITTER_WHICH and LITTER_UNKNOWN (list those there are).
Result<std::string> choose_litter(const std::vector<record::Entry>& entries, const std::string& asked);

/// A litter as somebody standing at the moment knows it.
struct Scene {
  record::Litter litter;
  advice::Assessment assessment;
};
/// With --at what comes later is not known yet; by the machine's clock it is a slip, and the assessment tells of it.
/// Errors: ZONE_*.
Result<Scene> stand(const std::vector<record::Entry>& entries, const std::string& litter,
                    const std::optional<Moment>& at);

/// All of the above.
Result<Scene> scene_of(const Source& source);

}  // namespace lampside::cli
