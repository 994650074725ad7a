// A keeper's own sheet of weights becomes entries.
#pragma once

#include <istream>
#include <optional>
#include <string>
#include <vector>

#include "exchange/dates.hpp"
#include "exchange/lines.hpp"
#include "exchange/taken_in.hpp"
#include "measure/text.hpp"
#include "record/litter.hpp"

namespace lampside::exchange {

struct WeightsOptions {
  std::optional<WeightUnit> unit;  ///< of cells that name none, in columns that name none; else the litter's unit
  std::optional<DateOrder> dates;  ///< for dates such as 3/1/2026
  Minutes time{8 * 60};            ///< of rows without a time, on the litter's wall clock
  std::optional<Instant> born;     ///< pups not yet recorded are recorded as born at this moment
  std::string by = "take-in";
};

struct WeightsRead {
  TakenIn taken;
  std::vector<std::string> understood;  ///< how each column was understood, one line each
  std::vector<std::string> rows;        ///< the first rows as understood
  std::vector<std::string> born;        ///< labels of the pups the sheet brings with it
  std::size_t weights = 0;
  std::size_t empty_cells = 0;
  std::size_t birth_weights = 0;  ///< cells that repeat the birth weight already recorded: passed over
};

/// Wide (first column the day, then one column a pup) or long (columns day, perhaps time, pup, weight). Pups are known
/// by label or collar, whatever the case. A row of the day of birth without a time is dated at the birth, if that was
/// later. Ids are made from litter, pup and time as written (row_id), so a sheet taken in twice is a replay; `written`
/// is the moment of the weighing, because the sheet is the record and a second reading of it must be the same entry.
/// Errors, each with the line: those of read_table and DayReader, CSV_HEADING, PUP_UNKNOWN (names those known),
/// PUP_AMBIGUOUS, TWICE (two figures for one pup and time), NO_BIRTH (day numbers, and nothing born), those of
/// parse_weight and record::check.
Result<WeightsRead> read_weights_csv(std::istream& in, const record::Litter& litter, const WeightsOptions& options,
                                     Progress progress = {}, Limits limits = {});

}  // namespace lampside::exchange
