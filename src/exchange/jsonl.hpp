// JSON Lines in and out: the journal's own format.
#pragma once

#include <istream>
#include <ostream>
#include <span>

#include "exchange/lines.hpp"
#include "exchange/taken_in.hpp"

namespace lampside::exchange {

/// Every entry of a journal file; blank lines are passed over. Stops at the first error, which names the line.
/// Errors: those of LineReader and record::decode_line, FILE_EMPTY.
Result<TakenIn> read_jsonl(std::istream& in, Progress progress = {}, Limits limits = {});

/// One entry a line, in the order given. Errors: FILE_WRITE, STOPPED.
Result<void> write_jsonl(std::ostream& out, std::span<const record::Entry> entries);

}  // namespace lampside::exchange
