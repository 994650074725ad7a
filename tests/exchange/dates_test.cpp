#include "exchange/dates.hpp"

#include <gtest/gtest.h>

namespace lampside::exchange {
namespace {

struct Column {
  std::vector<DayCell> cells;
  explicit Column(std::vector<std::string_view> texts) {
    std::size_t line = 2;
    for (const auto text : texts) cells.push_back({line++, text});
  }
};
/// The first cell of the column as a day, or the problem's code.
std::string first(std::vector<std::string_view> texts, std::optional<DateOrder> said = std::nullopt) {
  const Column column{std::move(texts)};
  const auto reader = DayReader::of_column(column.cells, said);
  if (!reader) return reader.error().code;
  const auto when = reader->read(column.cells.front().text);
  if (!when) return when.error().code;
  std::string out = when->number ? "day " + std::to_string(*when->number) : to_iso(*when->day);
  if (when->time) out += " " + std::to_string(when->time->count());
  return out;
}

TEST(Dates, ShapesThatAreClear) {
  EXPECT_EQ(first({"2026-03-01"}), "2026-03-01");
  EXPECT_EQ(first({"2026/3/1"}), "2026-03-01");
  EXPECT_EQ(first({"1.3.2026"}), "2026-03-01");
  EXPECT_EQ(first({"01.03.26"}), "2026-03-01");
  EXPECT_EQ(first({"25/3/2026"}), "2026-03-25");
  EXPECT_EQ(first({"3/25/2026"}), "2026-03-25");
  EXPECT_EQ(first({"3/3/2026"}), "2026-03-03");
  EXPECT_EQ(first({"2026-03-01 08:05"}), "2026-03-01 485");
  EXPECT_EQ(first({"2026-03-01T08:05:30"}), "2026-03-01 485");
  EXPECT_EQ(first({"1.3.2026 8:05 pm"}), "2026-03-01 1205");
  EXPECT_EQ(first({"0"}), "day 0");
  EXPECT_EQ(first({"Day 12"}), "day 12");
  EXPECT_EQ(first({"d3"}), "day 3");
  EXPECT_EQ(first({"29.2.2028"}), "2028-02-29");
}

TEST(Dates, TwoMeaningsAreRefusedUnlessSettled) {
  EXPECT_EQ(first({"3/1/2026", "4/1/2026"}), "DATES_AMBIGUOUS");
  EXPECT_EQ(first({"3-1-2026"}), "DATES_AMBIGUOUS");
  EXPECT_EQ(first({"3/1/2026", "13/1/2026"}), "2026-01-03");
  EXPECT_EQ(first({"3/1/2026", "1/13/2026"}), "2026-03-01");
  EXPECT_EQ(first({"3/1/2026", "1/13/2026", "13/1/2026"}), "DATES_CONTRADICT");
  EXPECT_EQ(first({"3/1/2026"}, DateOrder::day_month_year), "2026-01-03");
  EXPECT_EQ(first({"3/1/2026"}, DateOrder::month_day_year), "2026-03-01");
  // What was said holds: a date it cannot be is an error, not a reason to read it the other way.
  EXPECT_EQ(first({"25/3/2026"}, DateOrder::month_day_year), "DATE_NONE");
}

TEST(Dates, NoDates) {
  for (const char* text :
       {"", "yesterday", "1.3.", "2026-3", "2026-03-01-02", "1/3.2026", "12026-03-01", "1//2026", "x"})
    EXPECT_EQ(first({text}), "DATE_FORMAT") << text;
  EXPECT_EQ(first({"2026-02-29"}), "DATE_NONE");
  EXPECT_EQ(first({"2026-13-01"}), "DATE_NONE");
  EXPECT_EQ(first({"31.4.2026"}), "DATE_NONE");
  EXPECT_EQ(first({"46082"}), "DATE_RANGE");  // a spreadsheet's own day count
  EXPECT_EQ(first({"401"}), "DATE_RANGE");
  EXPECT_EQ(first({"400"}), "day 400");
  EXPECT_EQ(first({"1.3.1926"}), "DATE_RANGE");
  EXPECT_EQ(first({"2026-03-01", "7"}), "DATE_FORMAT");
  EXPECT_EQ(first({"7", "2026-03-01"}), "DATE_FORMAT");
}

TEST(Dates, Clocks) {
  const auto minutes = [](std::string_view text) {
    const auto t = parse_clock(text);
    return t ? t->count() : -1;
  };
  EXPECT_EQ(minutes("8:05"), 485);
  EXPECT_EQ(minutes("00:00"), 0);
  EXPECT_EQ(minutes("23:59"), 1439);
  EXPECT_EQ(minutes("12 am"), 0);
  EXPECT_EQ(minutes("12 pm"), 720);
  EXPECT_EQ(minutes("8PM"), 1200);
  for (const char* text : {"24:00", "8", "8:60", "13 pm", "0 am", "8:5:5:5", ":30", "8:", "half past"})
    EXPECT_EQ(minutes(text), -1) << text;
}

}  // namespace
}  // namespace lampside::exchange
