// Files handed in.
#pragma once

#include <cstddef>
#include <fstream>
#include <string>

#include "exchange/lines.hpp"
#include "exchange/taken_in.hpp"

namespace lampside::cli {

struct Input {
  std::ifstream stream;
  std::size_t bytes = 0;
};
/// Errors: FILE_OPEN, FILE_KIND (a folder, a device), FILE_TOO_BIG (told by its size, before a byte is read).
Result<Input> open_input(const std::string& path);

/// Is it a journal (JSON Lines), by its name or by beginning with a brace? Otherwise it is taken for a sheet.
bool looks_like_journal(Input& input, const std::string& path);

/// Reads with a progress line; Ctrl-C stops it. Errors: those of open_input and read_jsonl.
Result<exchange::TakenIn> read_journal_file(const std::string& path);

class ProgressLine;
/// For a reader: shows how far it is and passes on Ctrl-C.
exchange::Progress progress_of(ProgressLine& line, std::size_t bytes);

}  // namespace lampside::cli
