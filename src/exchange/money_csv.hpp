// The litter's money as a table for a spreadsheet, and back.
#pragma once

#include <functional>
#include <istream>
#include <string>
#include <vector>

#include "homes/money.hpp"

namespace lampside::exchange {

/// A cell by RFC 4180: quoted where it must be, quotes doubled. A text that a spreadsheet would take for a formula
/// (beginning with = + - @, tab or a line end, or with our own mark) gets an apostrophe before it, which read_money_csv
/// takes off.
std::string csv_cell(std::string_view text);

/// What a family is called where its id stands.
using NameOf = std::function<std::string(const std::string& family)>;

/// Heading and a row an entry, CRLF. Families by their id unless names are asked for: a table goes to a tax adviser,
/// names need not.
std::string money_csv(const homes::Ledger& ledger, const Zone& zone, const NameOf& name_of = {});

/// The rows of such a table. `id` of a line and the time of its day come back as written.
/// Errors: those of read_table, CSV_HEADING, MONEY_ROW (by line).
Result<std::vector<homes::MoneyLine>> read_money_csv(std::istream& in);

}  // namespace lampside::exchange
