#include "exchange/csv.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <sstream>

namespace lampside::exchange {
namespace {

Result<Table> read(const std::string& text) {
  std::istringstream in{text};
  return read_table(in);
}
using Cells = std::vector<std::string>;

TEST(Csv, QuotingAsInRfc4180) {
  // RFC 4180, section 2: rule 5 (quoted cells), 6 (line ends, quotes and commas inside), 7 (a quote is doubled).
  const auto t = read("\"date\",\"Red, big\"\r\n\"2026-03-01\",\"4\"\"12\"\r\n\"two\nlines\",x\r\nlast,y");
  ASSERT_TRUE(t) << to_text(t.error());
  EXPECT_EQ(t->heading.cells, (Cells{"date", "Red, big"}));
  ASSERT_EQ(t->rows.size(), 3u);
  EXPECT_EQ(t->rows[0].cells, (Cells{"2026-03-01", "4\"12"}));
  EXPECT_EQ(t->rows[1].cells, (Cells{"two\nlines", "x"}));
  EXPECT_EQ(t->rows[1].line, 3u);
  EXPECT_EQ(t->rows[2].line, 5u);  // a cell with a line end does not put the count wrong
}

TEST(Csv, SeparatorIsFoundInTheHeading) {
  EXPECT_EQ(read("a,b\n1,2")->separator, ',');
  EXPECT_EQ(read("a;b\n1,5;2")->separator, ';');
  EXPECT_EQ(read("a\tb;c\n1\t2")->separator, '\t');
  EXPECT_EQ(read("\"a;b\",c\n1,2")->separator, ',');
  EXPECT_EQ(read("sep=;\na;b\n1;2")->rows[0].cells, (Cells{"1", "2"}));
}

TEST(Csv, ShortLongAndEmptyRows) {
  const auto t = read("\n\na,b,c\n1\n,,\n\n1,2,3,,\n");
  ASSERT_TRUE(t);
  ASSERT_EQ(t->rows.size(), 2u);
  EXPECT_EQ(t->rows[0].cells, (Cells{"1", "", ""}));
  EXPECT_EQ(t->rows[1].cells, (Cells{"1", "2", "3"}));
  const auto wide = read("a,b\n1,412,5\n");
  ASSERT_FALSE(wide);
  EXPECT_EQ(wide.error().code, "CSV_CELLS");
  EXPECT_EQ(wide.error().what.substr(0, 7), "line 2:");
}

TEST(Csv, BadQuotes) {
  for (const char* text : {"a,b\n1,\"2\n3", "a,b\n1,\"2\"3\n", "a,b\n1,\"\n"}) {
    const auto t = read(text);
    ASSERT_FALSE(t) << text;
    EXPECT_EQ(t.error().code, "CSV_QUOTE");
    EXPECT_NE(t.error().what.find("line 2"), std::string::npos);
  }
  EXPECT_EQ(read("").error().code, "FILE_EMPTY");
  EXPECT_EQ(read("date,Red\n").error().code, "FILE_EMPTY");
}

TEST(Csv, AQuotedCellHasALimitToo) {
  std::string text = "a,b\n1,\"";
  for (int i = 0; i < 5000; ++i) text += "some more text of a cell that goes on\n";
  EXPECT_EQ(read(text).error().code, "CSV_QUOTE");
}

RC_GTEST_PROP(Csv, WrittenAndReadIsTheSame, ()) {
  const auto letter = rc::gen::element<std::string>("a", "7", "\"", ",", ";", "\t", "\n", "ü", "x y");
  const auto cell = rc::gen::map(rc::gen::container<std::vector<std::string>>(letter), [](const auto& parts) {
    std::string out = "|";  // keeps blanks at the ends, which the reader trims
    for (const auto& p : parts) out += p;
    return out + "|";
  });
  const auto width = *rc::gen::inRange<std::size_t>(2, 5);
  const auto rows = *rc::gen::nonEmpty(rc::gen::container<std::vector<Cells>>(rc::gen::container<Cells>(width, cell)));
  std::string text = "h";
  for (std::size_t i = 1; i < width; ++i) text += ",h";
  for (const auto& row : rows) {
    for (std::size_t i = 0; i < width; ++i) {
      text += i == 0 ? "\n\"" : ",\"";
      for (const char c : row[i]) text += c == '"' ? "\"\"" : std::string(1, c);
      text += '"';
    }
  }
  const auto table = read(text);
  RC_ASSERT(table.has_value());
  RC_ASSERT(table->rows.size() == rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) RC_ASSERT(table->rows[i].cells == rows[i]);
}

}  // namespace
}  // namespace lampside::exchange
