// Comma-separated values as RFC 4180 describes them, and as spreadsheets write them.
#pragma once

#include <istream>
#include <string>
#include <vector>

#include "exchange/lines.hpp"

namespace lampside::exchange {

struct Row {
  std::size_t line;  ///< where it begins in the file, from 1
  std::vector<std::string> cells;
};
struct Table {
  char separator = ',';  ///< ',' ';' or tab, whichever the heading holds (tab before ';' before ',')
  Row heading;
  std::vector<Row> rows;  ///< without those that are empty
};

/// Cells may be quoted (RFC 4180, section 2, rules 5-7); a quoted cell may hold line ends. A first line "sep=;" is
/// obeyed. Rows shorter than the heading get empty cells.
/// Errors: those of LineReader, FILE_EMPTY, CSV_QUOTE, CSV_CELLS (more cells than the heading).
Result<Table> read_table(std::istream& in, Progress progress = {}, Limits limits = {});

}  // namespace lampside::exchange
