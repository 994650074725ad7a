// Entries read from a file, each with the line it stood on, and the rules by which they may join a journal.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "measure/result.hpp"
#include "record/entry.hpp"
#include "record/litter.hpp"

namespace lampside::exchange {

struct TakenIn {
  std::vector<record::Entry> entries;
  std::vector<std::size_t> lines;  ///< lines[i]: where entries[i] stood in the file, from 1
};

/// How `admit` looks up a zone by its IANA name; the tables are the edge's.
using ZoneOf = std::function<Result<Zone>(const std::string&)>;

enum class Misfits { refuse, keep };

struct Admission {
  std::vector<record::Misfit> misfits;  ///< those the entries bring with them (only with Misfits::keep)
};

/// May these entries join a journal that holds `kept`? All or nothing: the first problem refuses the lot.
/// Errors: ID_CONFLICT (an id already used for something else, in the file or in the journal), ZONE_UNKNOWN and
/// MISFITS (a pup never born, a weight before the birth...); each names the line.
Result<Admission> admit(std::span<const record::Entry> kept, const TakenIn& taken, const ZoneOf& zone_of,
                        Misfits misfits);

}  // namespace lampside::exchange
