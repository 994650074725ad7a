// The table of money: RFC 4180, no formula in it, and back again.
#include "exchange/money_csv.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <sstream>

namespace lampside::exchange {
namespace {

homes::MoneyLine line(std::string what_for, std::string note) {
  return {"id-1",
          Instant{Span{1'780'000'000'000}},
          Cash{85'500},
          record::MoneyWay::out,
          std::move(what_for),
          "GBP",
          "",
          "Tess",
          "",
          std::move(note)};
}

TEST(MoneyCsv, IsWrittenAsTheStandardAsks) {
  homes::Ledger ledger;
  ledger.lines = {line("vet", "said \"no\", twice\nand left")};
  EXPECT_EQ(money_csv(ledger, Zone{}),
            "when,in_or_out,amount,currency,for,family,paid_by,receipt,note,entry\r\n"
            "2026-05-28T20:26:40Z,out,85.50,GBP,vet,,Tess,,\"said \"\"no\"\", twice\nand left\",id-1\r\n");
}

TEST(MoneyCsv, NamesOnlyWhereAskedAndGuardedToo) {
  homes::Ledger ledger;
  ledger.lines = {line("vet", "")};
  ledger.lines[0].family = "f1";
  EXPECT_NE(money_csv(ledger, Zone{}).find(",f1,"), std::string::npos);
  const auto named = money_csv(ledger, Zone{}, [](const std::string&) { return std::string{"=Ines, and Tess"}; });
  EXPECT_NE(named.find(",\"'=Ines, and Tess\","), std::string::npos) << named;
}

TEST(MoneyCsv, NoCellIsAFormula) {
  EXPECT_EQ(csv_cell("=HYPERLINK(\"x\")"), "\"'=HYPERLINK(\"\"x\"\")\"");
  for (const char* text : {"=1", "+1", "-1", "@a", "'=1"}) EXPECT_EQ(csv_cell(text), std::string("'") + text);
  EXPECT_EQ(csv_cell("\t=1"), "\"'\t=1\"");
  EXPECT_EQ(csv_cell("1-1"), "1-1");
  EXPECT_EQ(csv_cell(""), "");
}

std::string any_text() {
  return *rc::gen::container<std::string>(
      rc::gen::element('a', '7', ' ', ',', ';', '"', '\'', '=', '+', '-', '@', '\n', '.'));
}

RC_GTEST_PROP(MoneyCsv, ComesBackAsItWent, ()) {
  homes::Ledger ledger;
  const int n = *rc::gen::inRange(1, 6);  // a file without a row is told of as empty
  for (int i = 0; i < n; ++i) {
    auto l = line("x" + any_text(), any_text());
    l.paid_by = any_text();
    l.amount = Cash{*rc::gen::inRange<std::int64_t>(0, 9'000'000'000)};
    l.at += Span{1000LL * *rc::gen::inRange(0, 10'000'000)};
    ledger.lines.push_back(std::move(l));
  }
  std::istringstream in{money_csv(ledger, Zone{})};
  const auto back = read_money_csv(in);
  RC_ASSERT(back.has_value());
  RC_ASSERT(*back == ledger.lines);
}

}  // namespace
}  // namespace lampside::exchange
