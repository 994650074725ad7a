// Days as spreadsheets write them. What could mean two days is refused, never guessed.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "measure/result.hpp"
#include "measure/time.hpp"

namespace lampside::exchange {

enum class DateOrder { day_month_year, month_day_year };

/// What a cell says: a civil day or a day number (0 is the day of birth), perhaps with a time.
struct When {
  std::optional<CivilDay> day;
  std::optional<int> number;
  std::optional<Minutes> time;
};

/// "8:05", "08:05", "08:05:30", "8 pm", "8:05 pm". Errors: CLOCK_FORMAT.
Result<Minutes> parse_clock(std::string_view text);

struct DayCell {
  std::size_t line;
  std::string_view text;
};

/// Reads one column of days: "2026-03-01", "1.3.2026", "3/1/2026", "7", "day 7", each perhaps with a time behind it.
class DayReader {
 public:
  /// Looks at the whole column first: one date such as 25/3/2026 settles the order of all that have slashes.
  /// Errors: DATES_AMBIGUOUS, DATES_CONTRADICT, DATE_FORMAT; each names the line.
  static Result<DayReader> of_column(std::span<const DayCell> cells, std::optional<DateOrder> said);
  /// Errors: DATE_FORMAT, DATE_NONE (30 February), DATE_RANGE.
  [[nodiscard]] Result<When> read(std::string_view text) const;
  [[nodiscard]] bool numbers() const { return numbers_; }  ///< day numbers, not dates
  /// How the column was understood, for a person.
  [[nodiscard]] const std::string& understood() const { return understood_; }

 private:
  std::optional<DateOrder> order_;
  bool numbers_ = false;
  std::string understood_;
};

}  // namespace lampside::exchange
